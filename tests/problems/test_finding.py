"""What is wrong in a drawing: lettered in its order, cleared with the run's own numbers, one fault or as many as there are."""

from __future__ import annotations

import pytest

from trainer.problems.check import check
from trainer.problems.draw import draw
from trainer.problems.errors import ContentError
from trainer.problems.family import load_family
from trainer.problems.model import VerdictKind
from trainer.problems.store import restore, store
from trainer.problems.trial import trial
from trainer.problems.worked import drawing
from trainer.text.words import say

BODY = """\
id = "walk"
title = "A walk"
skill = "inspection.run"
level = 1
calculation = "run_walk"
figure = "run_walk"
sources = ["a rule"]

[facts]
reach = "support.emt.max_from_end"

[draw]
first = { choose = ["30 in", "42 in", "48 in"] }
middle = { from = "7 ft", to = "9 ft", step = "1 in" }
last = { choose = ["28 in", "40 in"] }

[inputs]
gaps = "{{ first | feet }}, {{ middle | feet }}, {{ last | feet }}"

[ask]
kind = "fault"
text = "Straps {{ middle | feet }} apart. What fails?"

[[ask.statements]]
id = "near"
at = "gap-1"
text = "the first strap, {{ first | feet }}"
right = "first > reach"
why = "{{ first | feet }}: up to {{ reach | feet }} are allowed."

[[ask.statements]]
id = "between"
at = "gap-2"
text = "the straps"
right = "middle > 120"
why = "{{ middle | feet }} is fine."

[[ask.statements]]
id = "far"
at = "gap-3"
text = "the last strap"
right = "last > reach"
why = "{{ last | feet }}: up to {{ reach | feet }} are allowed."

[[mistakes]]
id = "widest"
option = "between"
say = "You picked the widest."
"""
SEVERAL = BODY.replace('kind = "fault"', 'kind = "faults"')


def with_key(body, key):
    family = load_family(body)
    return next(one for one in (draw(family, seed) for seed in range(200)) if one.keys[0].value == key)


def test_the_options_stand_in_the_order_of_the_drawing_and_one_is_right():
    problem = with_key(BODY, "near")

    assert [option.id for option in problem.options] == ["near", "between", "far"]
    assert check(problem, "a").kind is VerdictKind.RIGHT
    assert check(problem, "near").kind is VerdictKind.RIGHT


def test_what_is_no_fault_is_cleared_with_its_own_numbers():
    verdict = check(with_key(BODY, "near"), "far")

    assert verdict.kind is VerdictKind.WRONG
    assert say(verdict.reason) == "C is as it should be: 2 ft 4 in: up to 3 ft are allowed."
    assert check(with_key(BODY, "near"), "b").mistakes == ("widest",)


def test_of_several_faults_each_has_to_be_ticked_and_no_other():
    problem = with_key(SEVERAL, ("far", "near"))

    assert check(problem, "a, c").kind is VerdictKind.RIGHT
    assert say(check(problem, "a").reason) == "Chosen by mistake: 0. Still missing: 1."
    assert "B is as it should be" in say(check(problem, "a, b, c").reason)


def test_the_letters_of_the_options_stand_in_the_drawing_and_lead_to_them():
    family, problem = load_family(BODY), with_key(BODY, "near")
    svg = drawing(family, problem, solved=False, links={"near": "#answer"})

    assert 'href="#answer"' in svg
    assert "A  " in svg
    assert "fig-wrong" not in svg
    assert "fig-wrong" in drawing(family, problem, solved=True)
    assert restore(family, problem.seed, "2023", store(problem)) == problem


def test_both_kinds_pass_their_trial():
    assert trial(load_family(BODY), 40) == trial(load_family(SEVERAL), 40) == []


@pytest.mark.parametrize(
    ("old", "new", "key"),
    [
        ('at = "gap-1"\n', "", "ask.statements.0.at"),
        ('figure = "run_walk"\n', "", "figure"),
        ('kind = "fault"', 'kind = "choice"', "ask.statements.0.at"),
        ('kind = "fault"', 'kind = "fault"\nshow = 2', "ask.show"),
    ],
)
def test_a_file_that_makes_no_sense_is_refused_at_its_key(old, new, key):
    with pytest.raises(ContentError) as refused:
        load_family(BODY.replace(old, new, 1))

    assert key in {error.key for error in refused.value.every}
