"""Lessons: the list, one to read, what to try in it, and that it was read."""

from __future__ import annotations

import pytest

OFFSET = "/lessons/offset-bends"


def test_the_lessons_stand_under_their_units_in_the_order_of_the_trade(learner):
    page = learner.get("/lessons")
    units = ["".join(one.itertext()) for one in page.tree.iter("h2")]

    assert units.index("Cutting") < units.index("Fittings") < units.index("Bends")
    assert OFFSET in page.links()
    assert "Not read yet, about 6 minutes" in page.words


def test_a_lesson_shows_prose_drawings_steps_tables_cautions_and_sources(learner):
    page = learner.get(OFFSET)

    assert page.heading == "The offset"
    assert "Distance between the marks." in page.words
    assert len(page.tree.findall(".//figure")) >= 3
    assert "6 ÷ sin(30)" in page.words
    assert page.tree.find(".//table/caption") is not None
    assert "Keep feet and fingers out from under the shoe" in page.words
    assert "Where this comes from" in page.words


def test_a_lesson_takes_one_statement_beside_that_of_who_reads(learner):
    assert len(learner.get(OFFSET).queries) == 2


def test_what_is_tried_in_a_lesson_has_numbers_of_ones_own_and_leads_back(learner, given):
    sent = learner.press(learner.get(OFFSET), f"{OFFSET}/try/offset-shrink")
    page = learner.get(sent.location)

    assert sent.status == 303
    assert given.drawn(sent.location.rsplit("/", 1)[1]).family_id == "offset-shrink"
    assert OFFSET in page.links()


def test_pressed_twice_it_is_the_same_problem(learner):
    page = learner.get(OFFSET)
    action = f"{OFFSET}/try/offset-shrink"

    assert learner.press(page, action).location == learner.press(page, action).location


def test_read_to_the_end_it_says_what_comes_next(learner):
    sent = learner.press(learner.get(OFFSET), f"{OFFSET}/read")
    page = learner.get(sent.location.split("#")[0])

    assert (sent.status, sent.location) == (303, f"{OFFSET}#next")
    assert "You read this Wed, Nov 25, 2026." in page.words
    assert page.form("/practice")["skill"] == "bends.offset"
    assert "The next lesson" in page.words
    assert "Read Wed, Nov 25, 2026" in learner.get("/lessons").words


def test_when_all_are_read_no_next_one_is_named(app, learner):
    for lesson in app.extensions["trainer.library"].lessons:
        learner.press(learner.get(f"/lessons/{lesson}"), f"/lessons/{lesson}/read")

    assert "The next lesson" not in learner.get(OFFSET).words


def test_the_other_problems_of_a_lesson_are_none_of_this_one(learner):
    page = learner.get(OFFSET)
    token = page.form(f"{OFFSET}/read")

    assert learner.browser.post(f"{OFFSET}/try/strap-count", token).status == 404


@pytest.mark.parametrize("path", ["/lessons/no-such", "/lessons/%00", "/lessons/" + "x" * 300])
def test_a_lesson_that_is_not_there_is_not_found(learner, path):
    token = learner.get(OFFSET).form(f"{OFFSET}/read")

    assert learner.get(path).status == 404
    assert learner.browser.post(f"{path}/read", token).status == 404
    assert learner.browser.post(f"{path}/try/offset-shrink", token).status == 404


def test_a_site_without_lessons_says_so(app, learner, monkeypatch):
    monkeypatch.setattr(app.extensions["trainer.library"], "lesson_heads", {})

    assert "No lessons yet" in learner.get("/lessons").words


@pytest.mark.parametrize("path", [f"{OFFSET}/read", f"{OFFSET}/try/offset-shrink"])
def test_what_writes_is_not_done_by_reading(learner, path):
    assert learner.get(path).status == 405


def test_work_of_a_later_year_is_called_so_in_the_list_on_its_page_in_practice_and_beside_its_problems(learner):
    pull = "/lessons/pulling-conductors"
    sent = learner.press(learner.get(pull), f"{pull}/try/straight-pull-tension")
    problem = learner.get(sent.location)

    assert "Later year. Not read yet, about 6 minutes" in learner.get("/lessons").words
    assert "Later year. The program asks about this only once you have opened it" in learner.get(pull).words
    assert "Later year. Estimates tension" in learner.get("/practice").words
    assert "Later year. The program asks about this" in problem.words
    assert "Later year" not in learner.get(OFFSET).words
