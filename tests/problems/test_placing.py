"""Places for straps: every right set is right, slips are named by the core, too many straps are told, bad files refused."""

from __future__ import annotations

import pytest

from trainer.problems.check import check
from trainer.problems.draw import draw
from trainer.problems.errors import ContentError
from trainer.problems.family import load_family
from trainer.problems.model import VerdictKind
from trainer.problems.placing import accepted_places
from trainer.problems.store import restore, store
from trainer.problems.trial import as_typed, trial
from trainer.problems.worked import drawing
from trainer.text.words import say

BODY = """\
id = "straps"
title = "Straps"
skill = "supports.straps"
level = 1
calculation = "strap_places"
figure = "strap_places"
sources = ["a rule"]

[draw]
first = { from = "1 ft", to = "3 ft", step = "6 in" }
middle = { from = "9 ft", to = "10 ft", step = "6 in" }

[inputs]
run_length = "20 ft"
places = "{{ first | feet }}, 5 ft, {{ middle | feet }}, 10 ft 6 in, 18 ft 6 in"

[ask]
kind = "places"
text = "Where do the straps go?"

[[mistakes]]
id = "end-forgotten"
shows = "end-left-out"
say = "One end has none."

[[mistakes]]
id = "too-many"
shows = "more-than-needed"
say = "Fewer do."
"""


@pytest.fixture(scope="module")
def problem():
    return draw(load_family(BODY), 4)


def test_each_set_with_the_fewest_straps_is_right(problem):
    assert problem.keys
    for key in problem.keys:
        assert check(problem, ", ".join(key.value)).kind is VerdictKind.RIGHT
        assert check(problem, ", ".join(reversed(key.value)).upper()).kind is VerdictKind.RIGHT
    assert list(accepted_places(problem)) == [", ".join(key.value).upper() for key in problem.keys]


def test_options_stand_in_the_order_of_the_run_with_letter_and_distance(problem):
    assert [option.id for option in problem.options] == list("abcde")
    assert problem.options[1].text == "**B**: 5 ft from the panel"


def test_a_slip_is_named_and_the_stretch_said(problem):
    verdict = check(problem, ["a", "c"])

    assert (verdict.kind, verdict.mistakes) == (VerdictKind.MISTAKE, ("end-forgotten",))
    assert say(verdict.reason).startswith("From the junction box to the nearest strap, C, it is ")


def test_what_no_mistake_is_known_for_is_wrong_with_its_reason(problem):
    verdict = check(problem, ["a", "e"])

    assert verdict.kind is VerdictKind.WRONG
    assert say(verdict.reason).endswith("up to 10 ft is allowed.")


def test_more_straps_than_it_takes_are_told(problem):
    verdict = check(problem, list("abcde"))

    assert verdict.mistakes == ("too-many",)
    assert say(verdict.reason) == "Every stretch keeps the rule, with 5 straps; 3 straps will do."


@pytest.mark.parametrize(("typed", "said"), [("", "Nothing is chosen."), ("a, x", "That is none of the choices.")])
def test_what_is_no_choice_is_not_counted(problem, typed, said):
    verdict = check(problem, typed)

    assert verdict.kind is VerdictKind.UNREADABLE
    assert said in say(verdict.reason)


def test_each_known_mistake_has_a_set_that_shows_it(problem):
    for mistake in problem.mistakes:
        assert mistake.id in check(problem, as_typed(problem, mistake.value)[0]).mistakes


def test_a_problem_comes_back_from_store_as_it_was_and_draws_the_choice(problem):
    family = load_family(BODY)

    assert restore(family, 4, "2023", store(problem)) == problem
    assert "yours: A, E" in drawing(family, problem, check(problem, "a, e"), solved=False)
    assert 'href="#answer-2"' in drawing(family, problem, links={"b": "#answer-2"}, solved=False)


def test_the_family_passes_its_trial():
    assert trial(load_family(BODY.replace('step = "6 in"', 'step = "1 in"')), 40) == []


@pytest.mark.parametrize(
    ("old", "new", "key"),
    [
        ('shows = "end-left-out"', 'shows = "sloppy"', "mistakes.0.shows"),
        ('shows = "end-left-out"', 'option = "a"', "mistakes.0.shows"),
        ('kind = "places"', 'kind = "places"\nanswer = "fewest"', "ask.answer"),
        ('kind = "places"', 'kind = "choices"', "ask"),
    ],
)
def test_a_file_that_makes_no_sense_is_refused_at_its_key(old, new, key):
    with pytest.raises(ContentError) as refused:
        load_family(BODY.replace(old, new))

    assert key in {error.key for error in refused.value.every}
