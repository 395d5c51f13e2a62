"""Answers that nothing on a job can come to: said kindly, and no try."""

from __future__ import annotations

import pytest

from trainer.problems.check import check
from trainer.problems.model import AnswerKind, VerdictKind
from trainer.text.words import say

RIGHT, MISTAKE, WRONG, UNREADABLE = (
    VerdictKind.RIGHT,
    VerdictKind.MISTAKE,
    VerdictKind.WRONG,
    VerdictKind.UNREADABLE,
)


@pytest.mark.parametrize(
    "typed", ["0", "0 in", "0 ft", "0/8", "0.0", "24001", "2001 ft", "999999999 mm", "1,028,000 mm"]
)
def test_no_length_at_all_and_one_beyond_every_run_are_no_try(make_problem, typed):
    verdict = check(make_problem(40.5), typed)

    assert (verdict.kind, verdict.value) == (UNREADABLE, None)
    assert "Accepted: a length in inches" in say(verdict.reason)
    assert "Example: 40-1/2 in" in say(verdict.reason)


@pytest.mark.parametrize("typed", ["1/16", "1", "24000", "2000 ft"])
def test_a_length_that_could_be_one_is_a_try(make_problem, typed):
    assert check(make_problem(40.5), typed).kind is WRONG


def test_a_length_beyond_every_run_says_how_much_it_is_and_what_is_the_most(make_problem):
    told = say(check(make_problem(40.5), "36,000").reason)

    assert told.startswith("36000 in is more than anything here can come to. The most that is accepted is 24000 in.")


def test_degrees_beyond_every_run_are_no_try(make_problem):
    problem = make_problem(210, kind=AnswerKind.NUMBER, unit="deg", tolerance=0.5)

    assert check(problem, "36000").kind is UNREADABLE
    assert "36000° is more than anything here can come to" in say(check(problem, "36000").reason)
    assert check(problem, "1000").kind is WRONG
    assert check(problem, "0").kind is WRONG


def test_a_number_without_such_a_bound_and_a_count_of_none_are_tries(make_problem):
    assert check(make_problem(4, kind=AnswerKind.COUNT, unit="straps", tolerance=0), "0").kind is WRONG
    assert check(make_problem(4, kind=AnswerKind.NUMBER, unit="", tolerance=0.1), "36000").kind is WRONG


def test_what_is_right_or_a_known_mistake_is_never_refused(make_problem):
    problem = make_problem(36000, mistakes={"nothing-left": 0})

    assert check(problem, "36000").kind is RIGHT
    assert check(problem, "0").kind is MISTAKE
