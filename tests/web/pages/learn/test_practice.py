"""Practice: the program's choice with its reason, or one's own."""

from __future__ import annotations

import pytest


def problem_of(sent):
    assert sent.status == 303
    return sent.location.rsplit("/", 1)[1]


def test_the_program_says_what_it_would_take_and_why(learner):
    page = learner.get("/practice")

    assert "What the program would take next" in page.words
    assert "is new to you." in page.words


def test_what_it_gives_is_what_it_named_with_the_same_reason(learner, given):
    problem = problem_of(learner.press(learner.get("/practice"), "/practice"))

    assert given.drawn(problem).skill == "measuring.lengths"
    assert "is new to you." in learner.see(problem).words


def test_a_skill_is_chosen_and_the_problem_says_that_it_was(learner, given):
    problem = problem_of(learner.press(learner.get("/practice"), "/practice", {"skill": "bends.stub"}))

    assert given.drawn(problem).skill == "bends.stub"
    assert "You chose" in learner.see(problem).words


@pytest.fixture
def bare_skill(app, monkeypatch):
    """A skill that no family asks for."""
    monkeypatch.setitem(app.extensions["trainer.library"]._of_skill, "measuring.lengths", ())
    return "measuring.lengths"


def test_skills_without_questions_are_named_and_have_no_button(learner, bare_skill):
    page = learner.get("/practice")
    offered = {one.get("value") for one in page.tree.iter("button") if one.get("name") == "skill"}

    assert "bends.offset" in offered
    assert bare_skill not in offered
    assert "Lengths on the tape" in page.words


def test_asked_for_twice_it_is_the_same_problem(learner):
    page = learner.get("/practice")
    chosen = {"skill": "bends.stub"}

    assert learner.press(page, "/practice", chosen).location == learner.press(page, "/practice", chosen).location


def test_a_problem_of_practice_that_was_left_open_is_gone_on_with(learner, given):
    problem = given.problem()
    page = learner.get("/practice")

    assert f"/problems/{problem}" in page.links()
    assert "What the program would take next" not in page.words


def test_one_left_open_in_a_lesson_is_in_nobodys_way(learner, given):
    given.problem(context="lesson", lesson_id="offset-bends")

    assert "What the program would take next" in learner.get("/practice").words


def test_a_skill_without_questions_cannot_be_asked_for(learner, bare_skill):
    assert learner.press(learner.get("/practice"), "/practice", {"skill": bare_skill}).status == 404


@pytest.mark.parametrize("wanted", [{"skill": "no"}, {"family": "no"}, {"family": "\0" * 9 + "no"}])
def test_what_is_not_there_is_not_found(learner, wanted):
    assert learner.press(learner.get("/practice"), "/practice", wanted).status == 404


def test_a_site_without_questions_says_so(app, learner, monkeypatch):
    library = app.extensions["trainer.library"]
    monkeypatch.setattr(library, "families", {})
    monkeypatch.setattr(library, "_of_skill", {})
    page = learner.get("/practice")

    assert "There is nothing to practice yet" in page.words
    assert "Or choose for yourself" not in page.words
