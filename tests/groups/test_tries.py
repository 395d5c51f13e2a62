from __future__ import annotations

from datetime import UTC, datetime, timedelta

from trainer.groups.tries import Best, Came, Given, Tried, best_of

DUE = datetime(2026, 9, 10, 23, 59, tzinfo=UTC)


def given(verdict, *, hours=-1, hints=0):
    return Given(DUE + timedelta(hours=hours), "12 in", hints, verdict, ())


def tried(name, *answers, still_open=False):
    return Tried(1, 1, 1, name, still_open, answers)


def test_nothing_issued_is_not_begun():
    assert best_of([], DUE) == Best(Came.NOT_BEGUN)


def test_an_open_problem_without_an_answer_is_open():
    assert best_of([tried("a", still_open=True)], DUE) == Best(Came.OPEN, "a")


def test_right_at_the_first_try_without_a_hint_is_right():
    assert best_of([tried("a", given("right"))], DUE).came is Came.RIGHT


def test_right_after_a_hint_or_at_a_later_try_is_right_with_help():
    assert best_of([tried("a", given("right", hints=1))], DUE).came is Came.WITH_HELP
    assert best_of([tried("a", given("wrong"), given("right"))], DUE).came is Came.WITH_HELP


def test_giving_up_and_wrong_answers_are_not_right():
    assert best_of([tried("a", given("gave-up"))], DUE).came is Came.NOT_RIGHT
    assert best_of([tried("a", given("rounded-too-far"), given("wrong"))], DUE).came is Came.NOT_RIGHT


def test_the_best_try_counts_and_the_first_of_equals():
    poor, good = tried("a", given("wrong"), given("right")), tried("b", given("right"))
    later = tried("c", given("right"))

    assert best_of([poor, good, later], DUE) == Best(Came.RIGHT, "b", given("right"), tries=3)


def test_what_comes_after_the_due_date_counts_no_more():
    late = tried("a", given("right", hours=1))
    mended_late = tried("b", given("wrong"), given("right", hours=1))

    assert best_of([late], DUE) == Best(Came.NOT_BEGUN, "a")
    assert best_of([mended_late], DUE).came is Came.NOT_RIGHT
    assert best_of([tried("a", given("right", hours=0))], DUE).came is Came.RIGHT
