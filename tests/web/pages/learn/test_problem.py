"""A problem that is open: the question, the field for its kind of answer, hints, giving up."""

from __future__ import annotations

import pytest


def field(page):
    return next(one for one in page.tree.iter("input") if one.get("id") == "answer")


def test_it_asks_in_words_and_in_a_drawing_without_the_answer(learner, given):
    problem = given.problem(family_id="offset-spacing")
    page, answer = learner.see(problem), given.right(problem)

    assert page.heading == "Distance between the marks of an offset"
    assert "How far apart" in page.words
    assert any(one.tag.endswith("svg") for one in page.tree.find(".//figure").iter())
    assert answer not in page.words
    assert answer not in page.text


def test_a_length_is_typed_with_any_sign_that_a_phone_has_and_its_forms_are_named(learner, given):
    page = learner.see(given.problem(family_id="offset-spacing"))

    assert (field(page).get("type"), field(page).get("inputmode")) == ("text", "text")
    assert '12 3/8", 3\' 4-1/2", 40.5 or 1028 mm' in page.words


@pytest.mark.parametrize(
    ("family", "kind", "pad"),
    [
        ("strap-count", "text", "numeric"),
        ("degrees-left", "text", "text"),
        ("connector-for-the-job", "radio", None),
        ("fittings-that-belong", "checkbox", None),
    ],
)
def test_each_kind_of_answer_has_its_field(learner, given, family, kind, pad):
    page = learner.see(given.problem(family_id=family))

    assert (field(page).get("type"), field(page).get("inputmode")) == (kind, pad)


def test_it_names_skill_code_rules_and_lesson_and_warns_of_what_can_hurt(learner, given):
    problem = given.problem(family_id="offset-spacing")
    page = learner.see(problem)

    assert "NFPA 70-2023" in page.words
    assert "Keep feet and fingers out from under the shoe" in page.words
    assert "/lessons/offset-bends" in page.links()


def test_hints_come_one_at_a_time_and_nothing_typed_is_lost(learner, given):
    problem = given.problem(family_id="offset-spacing")
    page = learner.see(problem)
    assert "Hint 1 of 2" in page.words

    sent = learner.press(page, f"/problems/{problem}", {"answer": "12 3/", "nth": "1"})
    assert sent.status == 422  # Sent to the answer's own address: the hint's button names another.
    sent = learner.browser.post(
        f"/problems/{problem}/hint", page.form(f"/problems/{problem}") | {"answer": "12 3/", "nth": "1"}
    )
    after = learner.get(sent.location.split("#")[0])

    assert (sent.status, sent.location.split("#")[1]) == (303, "hint-1")
    assert "Hint 2 of 2" in after.words
    assert field(after).get("value") == "12 3/"


def test_a_hint_asked_for_twice_by_one_form_is_one_hint(learner, given):
    problem = given.problem(family_id="offset-spacing")
    form = learner.see(problem).form(f"/problems/{problem}") | {"nth": "1"}
    for _ in range(2):
        learner.browser.post(f"/problems/{problem}/hint", form)

    assert "Hint 2 of 2" in learner.see(problem).words


def test_giving_up_shows_the_steps_and_says_that_it_did(learner, given):
    problem = given.problem(family_id="offset-spacing")
    learner.give_up(problem)
    page = learner.see(problem)

    assert "Given up: here are the steps" in page.words
    assert "The steps, in your numbers" in page.words
    assert "The answer:" in page.words


def test_giving_up_twice_counts_once(learner, given):
    problem = given.problem()
    form = learner.see(problem).form(f"/problems/{problem}/steps")
    statuses = [learner.browser.post(f"/problems/{problem}/steps", form).status for _ in range(2)]

    assert statuses == [303, 303]
    assert given.answers() == [""]


def test_another_persons_problem_is_not_found(other, given):
    problem = given.problem("learner")
    token = other.get("/practice").form("/practice")

    assert other.see(problem).status == 404
    for address in ("", "/hint", "/steps"):
        assert other.browser.post(f"/problems/{problem}{address}", token | {"answer": "1"}).status == 404
    assert given.answers("learner") == []


@pytest.mark.parametrize("problem", ["x", "0123456789abcdefABCDEF", "%00", "ü" * 200])
def test_a_problem_that_is_not_there_is_not_found(learner, problem):
    assert learner.see(problem).status == 404


@pytest.mark.parametrize("address", ["/hint", "/steps"])
def test_what_writes_is_not_done_by_reading(learner, given, address):
    assert learner.get(f"/problems/{given.problem()}{address}").status == 405


def test_a_form_without_its_token_changes_nothing(learner, given):
    problem = given.problem()

    assert learner.browser.post(f"/problems/{problem}", {"answer": "1"}).status == 400
    assert given.answers() == []
