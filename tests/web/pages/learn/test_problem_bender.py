"""The bender put on its tube by radio buttons: a group each, kept when it comes back, and the bender drawn after it."""

from __future__ import annotations

import pytest

BY_TAKE_UP = ("mark-less", "take-up-mark", "measured-end", "as-it-lies")
BY_BACK = ("mark-full", "back-of-bend-mark", "far-end", "as-it-lies")
GROUPS = ("mark", "reference", "hook", "roll")
UNPROCESSABLE = 422


@pytest.fixture
def problem(given):
    return given.problem(family_id="back-to-back-bender")


def sent(learner, problem, *chosen):
    form = learner.see(problem).form(f"/problems/{problem}")
    kept = {name: value for name, value in form.items() if not name.startswith("answer-")}
    groups = {f"answer-{group}": one for group, one in zip(GROUPS, chosen, strict=True) if one}
    return learner.browser.post(f"/problems/{problem}", {**kept, **groups})


def answered(learner, problem, *chosen):
    assert sent(learner, problem, *chosen).status == 303
    return learner.see(problem)


def radios(page):
    return [one for one in page.tree.iter("input") if one.get("type") == "radio"]


def chosen(page):
    return {one.get("value") for one in radios(page) if one.get("checked") is not None}


def test_each_group_is_a_fieldset_of_its_own_and_nothing_is_chosen(learner, problem):
    page = learner.see(problem)

    assert [one.get("name") for one in radios(page)] == sorted(
        (one.get("name") for one in radios(page)), key=lambda name: GROUPS.index(name.removeprefix("answer-"))
    )
    assert len(list(page.tree.iter("fieldset"))) == len(GROUPS)
    assert not chosen(page)
    assert "the full distance" in page.words
    assert "belongs here" not in page.words


@pytest.mark.parametrize("way", [BY_TAKE_UP, BY_BACK])
def test_either_way_is_right_and_both_are_told_with_what_they_do(learner, given, problem, way):
    page = answered(learner, problem, *way)

    assert "How the bender sits" in page.words
    assert "One way" in page.words
    assert "Another way" in page.words
    assert "The back of a full 90 comes out on it" in page.words
    assert "The steps, in your numbers" not in page.words
    assert given.answers() == [", ".join(way)]


def test_half_of_each_is_named_and_drawn_and_stays_chosen_for_the_next_try(learner, problem):
    slip = ("mark-less", "back-of-bend-mark", "measured-end", "as-it-lies")
    page = answered(learner, problem, *slip)

    assert "The take-up is off there already" in page.words
    assert "3 of 4 choices are right" in page.words
    assert "Yours: Bend 2: the bender on its mark" in page.words
    assert "belongs here" not in page.words
    assert chosen(page) == set(slip)


def test_a_group_left_out_comes_back_with_the_others_still_chosen(learner, given, problem):
    page = sent(learner, problem, "mark-full", "take-up-mark", "", "as-it-lies")

    assert page.status == UNPROCESSABLE
    assert "Nothing is chosen yet: Where does the hook point?" in page.words
    assert page.words.count("Choose one of these.") == 1
    assert chosen(page) == {"mark-full", "take-up-mark", "as-it-lies"}
    assert not given.answers()


def test_nothing_chosen_is_said_at_every_group(learner, problem):
    page = sent(learner, problem, "", "", "", "")

    assert page.status == UNPROCESSABLE
    assert "Choose one of each group." in page.words
    assert page.words.count("Choose one of these.") == len(GROUPS)


def test_a_hint_keeps_what_was_chosen(learner, problem):
    form = learner.see(problem).form(f"/problems/{problem}")
    kept = {name: value for name, value in form.items() if not name.startswith("answer-")}
    went = learner.browser.post(f"/problems/{problem}/hint", {**kept, "nth": "1", "answer-mark": "mark-full"})

    assert chosen(learner.get(went.location)) == {"mark-full"}


def test_after_giving_up_the_right_ways_stand_there(learner, problem):
    answered(learner, problem, "mark-full", "take-up-mark", "measured-end", "over")
    learner.give_up(problem)
    page = learner.see(problem)

    assert "Another way" in page.words
    assert "Right too: Bend 2" in page.words
