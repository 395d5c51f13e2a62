"""The bender on its tube: every right combination is right, each slip is named beside the nearest one, the rest is kind."""

from __future__ import annotations

import pytest

from trainer.problems.bender import nearest, shows, slipped, ways, ways_of
from trainer.problems.check import check
from trainer.problems.draw import draw
from trainer.problems.errors import ContentError, DrawError
from trainer.problems.family import load_family
from trainer.problems.model import VerdictKind
from trainer.problems.store import restore, store
from trainer.problems.trial import as_typed, trial
from trainer.problems.worked import drawing
from trainer.text.words import say

BODY = """\
id = "second"
title = "The second 90"
skill = "bends.back-to-back"
level = 1
calculation = "back_to_back"
sources = ["trade practice"]

[draw]
distance = { from = "24 in", to = "48 in", step = "1/2 in" }

[inputs]
stub = "14 in"

[ask]
kind = "bender"
text = "{{ distance | length }} back to back. How does the bender sit?"

[ask.bender]
bend = 2
groups = ["hook", "mark", "reference"]
pencils = { full = "by_back_mark", less = "by_take_up" }

[[mistakes]]
id = "half-of-each"
chose = { reference = "back-of-bend-mark" }
say = "Take-up off, and then the back-of-bend mark."

[[mistakes]]
id = "full-distance"
chose = { mark = "full" }
say = "The take-up mark on the full distance."

[[mistakes]]
id = "hook"
chose = { hook = ["measured-end", "far-end"] }
say = "The hook the wrong way."
"""
BY_TAKE_UP = ("mark-less", "take-up-mark", "measured-end")
BY_BACK = ("mark-full", "back-of-bend-mark", "far-end")


@pytest.fixture(scope="module")
def problem():
    return draw(load_family(BODY), 4)


def test_both_ways_are_right_and_nothing_between_them(problem):
    assert {key.value for key in problem.keys} == {BY_TAKE_UP, BY_BACK}
    for key in problem.keys:
        assert check(problem, list(key.value)[::-1]).kind is VerdictKind.RIGHT


def test_ids_and_letters_say_the_same_in_any_sequence(problem):
    letters = {option.id: chr(ord("a") + place) for place, option in enumerate(problem.options)}

    for typed in (", ".join(BY_BACK), ", ".join(letters[one] for one in reversed(BY_BACK))):
        assert check(problem, typed).value == BY_BACK


@pytest.mark.parametrize(
    ("chosen", "slips"),
    [
        (("mark-less", "back-of-bend-mark", "measured-end"), ("half-of-each",)),
        (("mark-full", "take-up-mark", "measured-end"), ("full-distance",)),
        (("mark-less", "take-up-mark", "far-end"), ("hook",)),
        (("mark-full", "back-of-bend-mark", "measured-end"), ("hook",)),
        (("mark-full", "take-up-mark", "far-end"), ()),
        (("mark-full", "saddle-centre-mark", "measured-end"), ("full-distance", "hook")),
    ],
)
def test_a_slip_is_named_beside_the_nearest_right_way(problem, chosen, slips):
    verdict = check(problem, list(chosen))

    assert verdict.mistakes == slips
    assert verdict.kind is (VerdictKind.MISTAKE if slips else VerdictKind.WRONG)


def test_how_much_fits_is_said(problem):
    verdict = check(problem, ["mark-less", "take-up-mark", "far-end"])

    assert say(verdict.reason) == "Held against the nearest way that gives the bend, 2 of 3 choices are right."


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        (["mark-full", "far-end"], "Nothing is chosen yet: Which mark of the bender goes on it?"),
        (["mark-full", "mark-less", "take-up-mark", "far-end"], "Two are chosen: Which pencil mark?"),
        (["far-end", "far-end", "mark-full", "take-up-mark"], "Two are chosen: Where does the hook point?"),
        (["mark-other", "take-up-mark", "far-end"], "That is none of the choices."),
        ("", "Nothing is chosen."),
    ],
)
def test_what_is_no_combination_is_not_counted_and_says_why(problem, typed, said):
    verdict = check(problem, typed)

    assert verdict.kind is VerdictKind.UNREADABLE
    assert said in say(verdict.reason)


def test_the_example_of_a_refusal_can_be_given(problem):
    example = check(problem, "").reason.params["example"]

    assert check(problem, example).kind is not VerdictKind.UNREADABLE


def test_every_known_mistake_is_named_when_it_is_typed(problem):
    for mistake in problem.mistakes:
        assert mistake.id in check(problem, as_typed(problem, mistake.value)[0]).mistakes


def test_what_no_slip_can_be_made_of_is_none():
    right = (("a", "take-up-mark", "far-end"), ("a", "take-up-mark", "measured-end"))

    assert slipped(right, ("far-end",)) is None
    assert not shows(("a", "take-up-mark", "far-end"), ("far-end",), right)
    assert nearest(("b", "take-up-mark", "far-end"), right) == [right[0]]


def test_the_ways_to_choose_are_counted_for_the_problem_as_for_its_family(problem):
    assert ways(problem) == ways_of(load_family(BODY).bender) == 2 * 3 * 2


def test_a_problem_comes_back_from_store_as_it_was(problem):
    assert restore(load_family(BODY), 4, "2023", store(problem)) == problem


def test_the_family_passes_its_trial():
    assert trial(load_family(BODY), 60) == []


def test_the_drawing_gives_nothing_away_before_it_is_solved(problem):
    family = load_family(BODY)
    wrong = check(problem, ["mark-less", "back-of-bend-mark", "measured-end"])

    asked = drawing(family, problem, solved=False)
    tried = drawing(family, problem, wrong, solved=False)
    solved = drawing(family, problem, wrong, solved=True)
    assert (asked.count("<svg"), tried.count("<svg"), solved.count("<svg")) == (1, 2, 4)
    assert "belongs here" not in asked + tried
    assert "Yours" in tried
    assert "Right too" in solved


@pytest.mark.parametrize(
    ("old", "new", "key"),
    [
        ("bend = 2\n", 'bend = 2\nmarks = "by_take_up"\n', "ask.bender.marks"),
        ('groups = ["hook", "mark", "reference"]', 'groups = ["hook", "mark", "hook"]', "ask.bender.groups"),
        ("bend = 2\ngroups = [", 'bend = 1\ngroups = ["roll", ', "ask.bender.groups"),
        ('full = "by_back_mark", ', "", "ask.bender.pencils"),
        ('less = "by_take_up"', 'less = "by_guess"', "ask.bender.pencils.less"),
        ('chose = { mark = "full" }', 'chose = { mark = "half" }', "mistakes.1.chose.mark"),
        ('chose = { mark = "full" }', 'chose = { roll = "over" }', "mistakes.1.chose.roll"),
        ('chose = { mark = "full" }', 'value = "distance"', "mistakes.1"),
        ('kind = "bender"', 'kind = "bender"\nanswer = "by_take_up"', "ask.answer"),
        ('kind = "bender"', 'kind = "order"', "ask.bender"),
        ("level = 1", 'level = 1\nfigure = "back_to_back"', "figure"),
    ],
)
def test_a_file_that_makes_no_sense_is_refused_at_its_key(old, new, key):
    with pytest.raises(ContentError) as refused:
        load_family(BODY.replace(old, new))

    assert key in {error.key for error in refused.value.every}


def test_a_table_for_the_bender_is_wanted():
    body = BODY.replace('[ask.bender]\nbend = 2\ngroups = ["hook", "mark", "reference"]\n', "").replace(
        'pencils = { full = "by_back_mark", less = "by_take_up" }\n', ""
    )
    with pytest.raises(ContentError, match=r"ask\.bender"):
        load_family(body)


@pytest.mark.parametrize(
    ("old", "new", "why"),
    [
        ('less = "by_take_up"', 'less = "by_back_mark - 0.5"', "too near"),
        ('less = "by_take_up"', 'less = "by_take_up + 0.1"', "told from a right one"),
        (
            '{ full = "by_back_mark", less = "by_take_up" }',
            '{ full = "distance + 9", less = "distance + 7" }',
            "no setting",
        ),
        ("bend = 2", "bend = 3", "no marks"),
    ],
)
def test_a_draw_that_could_mislead_is_thrown_out(old, new, why):
    with pytest.raises(DrawError) as error:
        draw(load_family(BODY.replace(old, new)), 1)
    assert any(why in reason for reason in error.value.reasons)
