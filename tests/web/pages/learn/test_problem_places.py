"""Places ticked on the page: letters lead to their boxes, the verdict names the stretch, every accepted set is told."""

from __future__ import annotations

import pytest

UNPROCESSABLE = 422


@pytest.fixture
def problem(given):
    return given.problem(family_id="straps-on-a-straight-run")


def boxes(page):
    return [one for one in page.tree.iter("input") if one.get("name") == "answer"]


def test_every_place_is_a_box_to_tick_and_its_letter_leads_there(learner, problem):
    page = learner.see(problem)
    leads = {one.get("href") for one in page.tree.iter("{http://www.w3.org/2000/svg}a")}

    assert [one.get("value") for one in boxes(page)] == list("abcdefg")
    assert {one.get("type") for one in boxes(page)} == {"checkbox"}
    assert leads == {f"#{one.get('id')}" for one in boxes(page)}
    assert "Tick the places that take a strap" in page.words


def test_nothing_ticked_is_not_counted(learner, given, problem):
    page = learner.send(problem)

    assert page.status == UNPROCESSABLE
    assert "Choose at least one of them." in page.words
    assert not given.answers()


def test_a_bare_run_is_told_stretch_by_stretch_and_the_ticks_stay(learner, given, problem):
    page = learner.answer(problem, "a")

    assert "From the junction box to the nearest strap, A, it is" in page.words
    assert "yours: A" in page.words
    assert [one.get("value") for one in boxes(page) if one.get("checked") is not None] == ["a"]
    assert given.answers() == ["a"]


def test_after_giving_up_each_accepted_set_stands_there(learner, problem):
    learner.answer(problem, "a")
    learner.give_up(problem)
    page = learner.see(problem)

    assert "Straps that keep the rule: " in page.words
    assert not list(page.tree.iter("{http://www.w3.org/2000/svg}a"))
    assert "The steps, in your numbers" in page.words
