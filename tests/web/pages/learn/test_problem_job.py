"""A job on its pages: from part to part with one's own numbers, left in between, and as assigned work."""

from __future__ import annotations

import pytest

from trainer.problems.model import AnswerKind

JOB = "rolling-offset-out-of-a-rack"
FIRST = f"{JOB}.true-offset"


@pytest.fixture
def parts(given):
    return len(given.library.jobs[JOB].parts)


@pytest.fixture
def first(given):
    return given.problem(family_id=FIRST)


def right(given, part):
    """What is right, a plain number with as many digits as a calculator is read to."""
    drawn = given.drawn(part)
    return f"{drawn.keys[0].value:.2f}" if drawn.kind is AnswerKind.NUMBER else given.right(part)


def go_on(learner, problem):
    sent = learner.press(learner.see(problem), f"/problems/{problem}/next")
    assert sent.status == 303
    return sent.location.rsplit("/", 1)[1]


def test_a_wrong_number_is_taken_along_and_the_next_part_is_right_by_it(learner, given, first, parts):
    page = learner.see(first)
    assert f"Out of the rack, up and over: part 1 of {parts}" in page.words
    assert "Go on to part 2" not in page.words

    wrong = given.mistaken(first, "added-up")
    page = learner.answer(first, wrong)
    assert "Go on to part 2 with what you have" in page.words
    assert "The next one is judged on your own number." in page.words

    second = go_on(learner, first)
    page = learner.see(second)
    assert f"part 2 of {parts}" in page.words
    assert "What you found so far" in page.words
    assert f"How deep the offset is {wrong} Not right goes on here" in page.words
    assert "This part is judged on your own numbers, right or wrong." in page.words
    assert f"{wrong} deep" in page.words

    page = learner.answer(second, given.right(second))
    assert "Right" in page.words
    assert f"Next: part 3 of {parts}" in page.words

    last = second
    for _ in range(parts - 2):
        last = go_on(learner, last)
        page = learner.answer(last, right(given, last))
    assert "Next problem" in page.words
    assert "The whole job again" in page.words


def test_a_job_left_between_two_parts_is_offered_on_both_pages(learner, given, first, parts):
    learner.answer(first, given.right(first))
    for path in ("/today", "/practice"):
        page = learner.get(path)

        assert "A job, not finished" in page.words
        assert f"part 2 of {parts} comes next" in page.words
    sent = learner.press(learner.get("/today"), f"/problems/{first}/next")
    assert sent.status == 303
    assert "A job, not finished" not in learner.get("/practice").words


def test_going_on_without_an_answer_stays_where_one_is(learner, first):
    page = learner.see(first)
    token = {"csrf_token": page.value("csrf_token")}

    assert learner.browser.post(f"/problems/{first}/next", token).location == f"/problems/{first}"


def test_nobody_goes_on_in_the_job_of_another(learner, other, given, first):
    learner.answer(first, given.right(first))
    token = {"csrf_token": other.see(given.problem("other-learner")).value("csrf_token")}

    assert other.browser.post(f"/problems/{first}/next", token).status == 404


def test_an_assigned_job_is_a_line_for_each_part_done_in_their_order(learner, given, parts):
    work = given.work(JOB)
    page = learner.get(f"/work/{work}")
    assert f"0 of {parts}" in page.words

    # Whoever opens the last line first gets the part that comes first.
    first = given.line(work, 3)
    assert given.drawn(first).family_id == FIRST
    learner.answer(first, given.mistaken(first, "added-up"))
    second = go_on(learner, first)
    assert given.line(work, 2) == second
    page = learner.answer(second, given.right(second))
    assert f"question 2 of {parts}" in page.words

    third = given.line(work, 3)
    learner.answer(third, given.right(third))
    assert f"3 of {parts}" in learner.get(f"/work/{work}").words

    # New numbers begin the job anew.
    again = given.line(work, 3, new_numbers=True)
    assert given.drawn(again).family_id == FIRST
    assert given.drawn(again).seed != given.drawn(first).seed
