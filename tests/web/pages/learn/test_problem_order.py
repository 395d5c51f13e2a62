"""Steps numbered on the page: what was chosen stays, what is amiss is said, and the right order stands there in the end."""

from __future__ import annotations

import pytest

RIGHT = ("mark", "clamp", "saw", "ream", "push", "tighten")
UNPROCESSABLE = 422


@pytest.fixture
def problem(given):
    return given.problem(family_id="order-of-a-cut")


def numbered(*order):
    return [f"{place}:{step}" for place, step in enumerate(order, 1)]


def chosen(page):
    return sorted(one.get("value") for one in page.tree.iter("option") if one.get("selected") is not None)


def test_each_step_has_a_number_to_choose_and_none_is_chosen(learner, problem):
    page = learner.see(problem)
    selects = [one for one in page.tree.iter("select") if one.get("name") == "answer"]

    assert len(selects) == len(RIGHT)
    assert chosen(page) == []


def test_the_right_numbers_are_right_and_the_order_is_shown_with_its_reasons(learner, given, problem):
    page = learner.answer(problem, *numbered(*RIGHT))

    assert "An order that is right, and why" in page.words
    assert "You gave it 4." in page.words
    assert "The steps, in your numbers" not in page.words
    assert given.answers() == [", ".join(RIGHT)]


@pytest.mark.parametrize(
    ("sent", "said"),
    [
        (["1:mark", "1:clamp", "3:saw", "4:ream", "5:push", "6:tighten"], "The number 1 is given twice."),
        (["1:mark", "2:clamp", "3:saw", "", "5:push", "6:tighten"], "A step has no number yet."),
        ([""] * 6, "Give each step a number; 1 is what you do first."),
    ],
)
def test_a_number_twice_or_missing_comes_back_with_all_that_was_chosen(learner, given, problem, sent, said):
    page = learner.send(problem, *sent)

    assert page.status == UNPROCESSABLE
    assert said in page.words
    assert chosen(page) == sorted(one for one in sent if one)
    assert not given.answers()


def test_a_slip_is_named_and_the_numbers_stay_for_the_next_try(learner, problem):
    sent = numbered("mark", "clamp", "saw", "push", "ream", "tighten")
    page = learner.answer(problem, *sent)

    assert "You put the connector on before the end was reamed." in page.words
    assert chosen(page) == sorted(sent)


def test_after_giving_up_the_right_order_stands_there(learner, problem):
    learner.answer(problem, *numbered("mark", "clamp", "saw", "push", "ream", "tighten"))
    learner.give_up(problem)

    assert "An order that is right, and why" in learner.see(problem).words
