"""The fault in a drawing found on the page: letters lead to the buttons, a sound part is cleared with its own numbers."""

from __future__ import annotations

import pytest


@pytest.fixture
def problem(given):
    return given.problem(family_id="the-stretch-that-fails")


def buttons(page):
    return [one for one in page.tree.iter("input") if one.get("name") == "answer"]


def test_each_lettered_place_is_a_button_and_its_letter_leads_there(learner, problem):
    page = learner.see(problem)
    leads = {one.get("href") for one in page.tree.iter("{http://www.w3.org/2000/svg}a")}

    assert {one.get("type") for one in buttons(page)} == {"radio"}
    assert leads == {f"#{one.get('id')}" for one in buttons(page)}
    assert "Which one is wrong?" in page.words


def test_every_button_is_cleared_by_its_numbers_or_is_the_fault(learner, problem):
    for one in [one.get("value") for one in buttons(learner.see(problem))]:
        page = learner.answer(problem, one)
        if "What is wrong, and what is not" in page.words:
            assert "marked with dashes: 1." in page.words
            return
        assert "is as it should be:" in page.words
    pytest.fail("no button was the fault")


def test_several_faults_are_boxes(learner, given):
    page = learner.see(given.problem(family_id="tick-every-fault"))

    assert {one.get("type") for one in buttons(page)} == {"checkbox"}
    assert "Tick each that is wrong" in page.words
