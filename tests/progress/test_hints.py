from __future__ import annotations


def test_hints_come_one_at_a_time_and_no_more_than_there_are(desk):
    problem = desk.issue(family_id="offset-spacing")

    assert [desk.hint(problem) for _ in range(3)] == [1, 2, 2]


def test_the_same_form_sent_twice_shows_one_hint(any_desk):
    problem = any_desk.issue(family_id="offset-spacing")

    assert [any_desk.hint(problem, nth) for nth in (1, 1, 2, 1, 5)] == [1, 1, 2, 2, 2]


def test_a_family_without_hints_shows_none(desk):
    assert desk.hint(desk.issue(family_id="straps-run")) == 0


def test_a_closed_problem_shows_no_further_hint(desk):
    problem = desk.practise("right", family_id="offset-spacing")

    assert desk.hint(problem) == 0
