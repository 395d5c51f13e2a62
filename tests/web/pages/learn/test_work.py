"""Assigned work: the list, one piece with its lines, and the way from line to line."""

from __future__ import annotations

import pytest


@pytest.fixture
def work(given):
    return given.work("offset-spacing", "strap-count", "stub-up-mark")


def opened(learner, work, position, **more):
    page = learner.get(f"/work/{work}")
    sent = learner.press(page, f"/work/{work}/{position}", more)
    assert sent.status == 303
    return sent.location.rsplit("/", 1)[1]


def test_the_list_tells_what_is_due_when_and_how_far_one_is(learner, work):
    page = learner.get("/work")

    assert f"/work/{work}" in page.links()
    assert "Tuesday evening. Due Sat, Nov 28, 2026. 0 of 3 answered, 0 right." in page.words


def test_without_work_the_list_says_what_to_do(learner, client_of):
    assert "Until then, practice." in learner.get("/work").words
    assert "/join" in client_of("stranger").get("/work").links()


def test_one_piece_shows_its_lines_and_what_came_of_each(learner, given, work):
    first, second = opened(learner, work, 1), opened(learner, work, 2)
    learner.answer(first, given.right(first))
    learner.answer(second, "999")
    page = learner.get(f"/work/{work}")
    lines = ["".join(one.itertext()).split("\n") for one in page.tree.findall(".//ol/li")]

    assert [" ".join(" ".join(line).split()).rpartition("  ")[2] for line in lines]
    assert "1. Distance between the marks of an offset Right" in page.words
    assert "2. How many straps for a run Not right at the first try; still open" in page.words
    assert "3. The mark for a stub-up Not begun" in page.words
    assert "2 of 3" in page.words


def test_opening_a_line_issues_its_problem_and_again_goes_on_where_one_was(learner, work):
    assert opened(learner, work, 2) == opened(learner, work, 2)


def test_a_problem_of_assigned_work_takes_seven_statements_and_a_wrong_answer_eight(learner, work):
    problem = opened(learner, work, 1)
    page = learner.answer(problem, "999")
    sent = learner.send(problem, "998")

    assert sent.status == 303
    assert len(sent.queries) == 8
    assert len(page.queries) == 7


def test_after_the_answer_the_next_line_is_one_press_away_and_then_the_list(learner, given, work):
    problem = opened(learner, work, 1)
    page = learner.answer(problem, given.right(problem))
    assert "Offsets for Friday, question 1 of 3" in page.words
    for position in (2, 3):
        assert f"Next: question {position} of 3" in page.words
        problem = learner.press(page, f"/work/{work}/{position}").location.rsplit("/", 1)[1]
        page = learner.answer(problem, given.right(problem))

    assert "Back to the list" in page.words
    assert "3 of 3" in learner.get(f"/work/{work}").words


def test_a_line_is_done_again_with_new_numbers(learner, given, work):
    problem = opened(learner, work, 1)
    page = learner.answer(problem, given.right(problem))
    again = learner.press(page, f"/work/{work}/1").location.rsplit("/", 1)[1]

    assert page.form(f"/work/{work}/1")["new"] == "numbers"
    assert again != problem
    assert given.drawn(again).family_id == "offset-spacing"


def test_past_its_date_it_says_so_and_can_still_be_practised(learner, given, work, clock):
    clock.forward(days=5)
    page = learner.get(f"/work/{work}")

    assert "The date is past." in page.words
    assert given.drawn(opened(learner, work, 1)).family_id == "offset-spacing"


def test_a_line_opened_past_its_date_leads_back_to_its_work_and_other_practice_does_not(learner, given, work, clock):
    clock.forward(days=7)
    problem = opened(learner, work, 1)

    page = learner.get(f"/problems/{problem}")
    assert "Offsets for Friday, question 1 of 3" in page.words
    assert f"/work/{work}" in page.links()
    learner.answer(problem, given.right(problem))
    page = learner.get(f"/problems/{problem}")
    assert f"/work/{work}" in page.links()
    assert "Next: question 2 of 3" in page.words

    plain = given.problem(family_id="offset-spacing")
    assert f"/work/{work}" not in learner.get(f"/problems/{plain}").links()


def test_of_a_group_that_one_has_left_the_problem_stays_and_leads_to_practice(learner, given, work):
    problem = opened(learner, work, 1)
    leaving = learner.get("/account/held")
    group = given.world.groups["class"]
    learner.press(learner.get(f"/account/groups/{group}/leave"), f"/account/groups/{group}/leave")
    assert leaving.status == 200

    assert learner.get(f"/work/{work}").status == 404
    assert "/practice" in learner.see(problem).links()


def test_work_of_another_class_is_not_found(other, work):
    token = other.get("/practice").form("/practice")

    assert other.get(f"/work/{work}").status == 404
    assert other.browser.post(f"/work/{work}/1", token).status == 404


@pytest.mark.parametrize("path", ["x", "0123456789abcdefABCDEF", "%00"])
def test_work_that_is_not_there_is_not_found(learner, path):
    assert learner.get(f"/work/{path}").status == 404


@pytest.mark.parametrize("position", ["0", "4", "99999999999999999999999", "x", "-1"])
def test_a_line_that_is_not_there_is_not_found(learner, work, position):
    token = learner.get("/practice").form("/practice")

    assert learner.browser.post(f"/work/{work}/{position}", token).status == 404


def test_a_line_is_not_opened_by_reading(learner, work):
    assert learner.get(f"/work/{work}/1").status == 405
