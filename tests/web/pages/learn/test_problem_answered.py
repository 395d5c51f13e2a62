"""What came of an answer: the verdict in words, the steps, the drawing; and answers that are not counted."""

from __future__ import annotations

from uuid import uuid4

import pytest


@pytest.fixture
def problem(given):
    return given.problem(family_id="offset-far-mark")


def field(page):
    return next(one for one in page.tree.iter("input") if one.get("id") == "answer")


def drawing(page):
    return page.tree.find(".//figure")


def test_a_right_answer_is_confirmed_with_the_steps_and_the_ways_on(learner, given, problem):
    page = learner.answer(problem, given.right(problem))

    assert "Right" in page.words
    assert f"Your answer: {given.right(problem)}" in page.words
    assert "The steps, in your numbers" in page.words
    assert "Again with new numbers" in page.words
    assert "Next problem" in page.words


def test_a_known_mistake_is_named_and_the_problem_stays_open(learner, given, problem):
    page = learner.answer(problem, given.mistaken(problem, "no-shrink"))

    assert "Not right: a known mistake" in page.words
    assert "You marked straight at" in page.words
    assert "The steps, in your numbers" not in page.words
    assert field(page).get("value") == ""


def test_after_giving_up_the_wrong_value_stands_in_the_drawing(learner, given, problem):
    learner.answer(problem, given.mistaken(problem, "no-shrink"))
    learner.give_up(problem)
    page = learner.see(problem)

    assert "You marked straight at" in page.words
    assert any(one.get("class") == "fig-wrong" for one in drawing(page).iter())
    assert "“Yours” is what your last wrong answer would make." in page.words


def test_after_the_right_answer_an_earlier_wrong_value_is_not_called_yours(learner, given, problem):
    learner.answer(problem, given.mistaken(problem, "no-shrink"))
    page = learner.answer(problem, given.right(problem))
    labels = "".join(drawing(page).itertext())

    assert any(one.get("class") == "fig-wrong" for one in drawing(page).iter())
    assert "before" in labels
    assert "yours" not in labels.lower()


def test_a_second_try_is_possible_and_both_are_listed(learner, given, problem):
    learner.answer(problem, given.mistaken(problem, "no-shrink"))
    page = learner.answer(problem, given.right(problem))

    assert "At try 2." in page.words
    assert "Your tries" in page.words
    assert len(given.answers()) == 2


@pytest.mark.parametrize(
    ("typed", "verdict"), [("30 deg", "Wrong unit"), ("1 in", "Not right"), ("999 ft", "Not right")]
)
def test_other_verdicts_say_what_is_wrong(learner, problem, typed, verdict):
    assert verdict in learner.answer(problem, typed).words


def test_the_right_number_in_another_unit_is_right(learner, given, problem):
    inches = given.drawn(problem).keys[0].value

    assert "Right" in learner.answer(problem, f"{inches * 25.4:.1f} mm").words


def test_choices_are_marked_each_with_its_reason(learner, given):
    problem = given.problem(family_id="fittings-that-belong")
    page = learner.answer(problem, *given.right(problem))

    assert "What applies, and why" in page.words
    assert "Chosen, and right." in page.words


def test_a_wrong_choice_is_refused_with_its_reason_at_once(learner, given):
    problem = given.problem(family_id="connector-for-the-job")
    drawn = given.drawn(problem)
    named = {drawn.keys[0].value, *(mistake.value for mistake in drawn.mistakes)}
    option = next(one for one in drawn.options if one.id not in named)
    page = learner.answer(problem, option.id)

    assert "Not right" in page.words
    assert option.why.strip() in page.words
    assert "No common slip" not in page.words


def test_a_wrong_choice_stays_chosen_while_the_problem_is_open(learner, given):
    problem = given.problem(family_id="connector-for-the-job")
    chosen = given.mistaken(problem)
    page = learner.answer(problem, chosen)

    assert [one.get("value") for one in page.tree.iter("input") if "checked" in one.attrib] == [chosen]


def test_what_cannot_be_read_comes_back_with_the_reason_and_counts_nothing(learner, given, problem):
    sent = learner.send(problem, "about 4 1/0")

    assert sent.status == 422
    assert field(sent).get("value") == "about 4 1/0"
    assert field(sent).get("aria-invalid") == "true"
    assert "Example: 40-1/2 in" in sent.words
    assert given.answers() == []


@pytest.mark.parametrize("typed", ["", "9" * 5000, "<script>", "1e9", "3' 14\"", "٣ 1/2", "½½", "–"])
def test_hostile_and_broken_text_comes_back_as_it_was(learner, given, problem, typed):
    sent = learner.send(problem, typed)

    assert sent.status == 422
    assert field(sent).get("value") == typed
    assert given.answers() == []


def test_signs_that_no_page_may_hold_are_left_out(learner, given, problem):
    assert field(learner.send(problem, "about\x00\x1b 4\ufffe")).get("value") == "about 4"
    assert "Right" in learner.answer(problem, f"{given.right(problem)}\x00").words


def test_nothing_chosen_is_said_so(learner, given):
    sent = learner.send(given.problem(family_id="fittings-that-belong"))

    assert sent.status == 422
    assert sent.errors == {"answer": "Choose at least one of them."}


def test_two_chosen_where_one_is_asked_for_come_back_chosen(learner, given):
    problem = given.problem(family_id="connector-for-the-job")
    two = [option.id for option in given.drawn(problem).options[:2]]

    sent = learner.send(problem, *two)

    assert sent.status == 422
    assert "only one is asked for" in sent.words


def test_a_form_sent_twice_counts_once(learner, given, problem):
    form = learner.see(problem).form(f"/problems/{problem}") | {"answer": "1 in"}
    sent = [learner.browser.post(f"/problems/{problem}", form) for _ in range(2)]

    assert [(one.status, one.location) for one in sent] == [(303, f"/problems/{problem}")] * 2
    assert given.answers() == ["1 in"]


def test_an_old_form_sent_again_with_another_answer_gives_it_back(learner, given, problem):
    form = learner.see(problem).form(f"/problems/{problem}")
    learner.browser.post(f"/problems/{problem}", form | {"answer": "1 in"})

    again = learner.browser.post(f"/problems/{problem}", form | {"answer": "2 in"})

    assert again.status == 409
    assert "This form had been sent before, with “1 in”. “2 in” was not counted." in again.words
    assert field(again).get("value") == "2 in"
    assert again.value("answer_key") != form["answer_key"]
    assert given.answers() == ["1 in"]


def test_an_answer_to_a_problem_that_was_closed_meanwhile_is_given_back_kindly(learner, given, problem):
    form = learner.see(problem).form(f"/problems/{problem}")
    learner.give_up(problem)

    late = learner.browser.post(f"/problems/{problem}", form | {"answer": "57-1/4"})

    assert late.status == 409
    assert "closed before your answer came in, so “57-1/4” was not counted" in late.words
    assert "The steps, in your numbers" in late.words
    assert given.answers() == [""]


@pytest.mark.parametrize("key", ["", "no key", "x" * 5000])
def test_a_form_that_lost_its_key_comes_back_with_a_new_one(learner, given, problem, key):
    sent = learner.send(problem, "1 in", answer_key=key)

    assert sent.status == 422
    assert field(sent).get("value") == "1 in"
    assert sent.value("answer_key") != key
    assert given.answers() == []


def test_a_key_of_ones_own_other_problem_leads_there(learner, given, problem):
    before = given.problem(family_id="offset-shrink")
    key = str(uuid4())
    learner.send(before, "1 in", answer_key=key)

    assert learner.send(problem, "1 in", answer_key=key).location == f"/problems/{before}"


def test_again_with_new_numbers_stays_with_the_family_and_next_is_the_programs_choice(learner, given, problem):
    page = learner.answer(problem, given.right(problem))
    forms = [one for one in page.tree.iter("form") if one.get("action") == "/practice"]
    again = learner.press(page, "/practice").location.rsplit("/", 1)[1]

    assert len(forms) == 2
    assert again != problem
    assert given.drawn(again).family_id == "offset-far-mark"
    token = {"csrf_token": page.form("/practice")["csrf_token"]}
    assert learner.browser.post("/practice", token).status == 303


def test_after_a_try_in_a_lesson_one_goes_back_to_the_place_in_it(learner, given):
    problem = given.problem(family_id="offset-shrink", context="lesson", lesson_id="offset-bends")
    page = learner.answer(problem, given.right(problem))

    assert "/lessons/offset-bends#try-offset-shrink" in page.links()
    assert page.form("/lessons/offset-bends/try/offset-shrink")


def test_shown_again_later_the_page_is_the_same(learner, given, problem, clock):
    before = learner.answer(problem, given.right(problem)).words
    clock.forward(days=6)

    assert learner.see(problem).words == before


@pytest.mark.parametrize("family_id", ["what-the-tape-finds", "tick-every-fault", "offset-far-mark"])
def test_a_problem_given_up_without_an_answer_calls_nothing_in_the_drawing_yours(learner, given, family_id):
    problem = given.problem(family_id=family_id)

    learner.give_up(problem)
    page = learner.see(problem)

    assert drawing(page) is not None
    assert "what your last wrong answer would make" not in page.words
