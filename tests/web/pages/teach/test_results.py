"""What came of assigned work."""

from __future__ import annotations

import pytest

from trainer.calc.message import Message
from trainer.text.words import say

SLIP = "sine-for-cosecant"


@pytest.fixture
def work(given):
    return given.work("offset-spacing", "strap-count")


def test_before_anybody_begins_it_says_what_will_stand_here(instructor, work):
    page = instructor.get(f"/given/{work}")

    assert page.heading == "Offsets for Friday"
    assert "Nobody has begun yet" in page.words
    assert "Have begun 0 of 1" in page.words
    assert "Who answered what" not in page.words
    assert "not answered yet" in page.words


def test_the_tally_leads_and_says_how_many_of_how_many(instructor, work, do, more_people):
    more_people("amy", "bob", "cyd")
    for who, typed in (("learner", SLIP), ("amy", SLIP), ("bob", "right")):
        do(work, typed, who=who)
    page = instructor.get(f"/given/{work}")

    assert "2 of 3 multiplied with the sine." in page.words
    order = [page.words.index(part) for part in ("What goes wrong", "Question by question", "Who answered what")]
    assert order == sorted(order)
    assert "3 answered, 1 right at the first try, 0 right with help" in page.words


def test_the_marks_say_the_same_as_the_words(instructor, work, do, more_people):
    more_people("amy")
    do(work, SLIP)
    do(work, who="amy")
    page = instructor.get(f"/given/{work}")

    drawing = next(one for one in page.tree.iter() if one.get("class") == "share-bar")
    assert [one.get("class") for one in drawing] == [None, "share-bar__is", None]


def test_each_person_stands_with_what_was_not_right(instructor, work, do, given, here, more_people):
    more_people("amy", "bob")
    slip = do(work, SLIP)
    do(work, "right", position=2)
    do(work, "right", who="amy")
    page = instructor.get(f"/given/{work}")

    assert "Learner Person 1 of 2 2 of 2, 1 right at first Question 1:" in page.words
    assert "(multiplied with the sine)" in page.words
    assert here("people", given.public_id("learner"), "problems", slip) in page.links()
    assert "Amy 1 of 2 1 of 2, 1 right at first –" in page.words
    assert "Not begun Bob" in page.words


def test_right_later_rounded_and_in_another_unit_are_told_apart(instructor, work, do, given, more_people):
    more_people("amy", "bob")
    problem = do(work, SLIP)
    given.answer(problem, given.right(problem))
    wanted = given.drawn(given.line(work, who="amy"), "amy").keys[0].value
    do(work, f"{wanted * 25.4:.0f}", who="amy")
    page = instructor.get(f"/given/{work}")

    assert "(multiplied with the sine; right later)" in page.words
    assert "(wrong unit)" in page.words


def test_an_open_question_is_said_to_be_open(instructor, work, do, given):
    do(work)
    given.line(work, 2)
    page = instructor.get(f"/given/{work}")

    assert "Question 2: open" in page.words
    assert "Have begun 1 of 1" in page.words


def test_who_only_opened_a_question_has_not_begun(instructor, here, work, do, given, more_people):
    more_people("amy", "bob")
    given.line(work)
    do(work, who="amy")
    page = instructor.get(f"/given/{work}")

    assert "Have begun 1 of 3" in page.words
    assert "1 of 3 have begun" in instructor.get(here()).words
    assert "Not begun Bob · points by hand for Bob Learner Person" in page.words


def test_points_can_be_set_by_hand_before_anybody_has_begun(instructor, work, given):
    page = instructor.get(f"/given/{work}")

    assert "Not begun Learner Person · points by hand" in page.words
    assert f"/given/{work}/people/{given.public_id('learner')}" in page.links()


def test_no_known_mistake_is_said_too(instructor, work, do):
    do(work)

    assert "No known mistake so far." in instructor.get(f"/given/{work}").words


def test_who_has_left_stays_in_the_results(instructor, work, do, client_of, here):
    do(work, SLIP)
    client_of("learner").submit(f"/account{here()}/leave")
    page = instructor.get(f"/given/{work}")

    assert "Learner Person (has left)" in page.words
    assert "Have begun 0 of 0" in page.words


def test_more_than_six_mistakes_are_folded_away(instructor, given, do, more_people):
    long = given.work("offset-spacing", "offset-shrink", "offset-far-mark", "stub-up-mark", "strap-count")
    names = more_people("amy", "bob", "cyd")
    for position in range(1, 6):
        slips = given.drawn(given.line(long, position)).mistakes
        for slip, who in zip(dict.fromkeys(one.id for one in slips), ("learner", *names), strict=False):
            do(long, slip, position, who)
    page = instructor.get(f"/given/{long}")

    assert page.tree.find(".//details//li[@class='slip']") is not None
    assert len(page.tree.find(".//section/ol[@class='slips']")) == 6


def test_one_question_shows_what_each_answered_first(instructor, work, do, given, here, more_people):
    more_people("amy")
    problem = do(work, SLIP)
    page = instructor.get(f"/given/{work}/lines/1")

    assert page.heading == "1. Distance between the marks of an offset"
    assert "1 of 1 multiplied with the sine." in page.words
    assert "Not right: a known mistake multiplied with the sine" in page.words
    assert "Amy – Not begun" in page.words
    assert here("people", given.public_id("learner"), "problems", problem) in page.links()
    assert f"/given/{work}/lines/2" in page.links()
    assert f"/given/{work}/lines/1" in instructor.get(f"/given/{work}/lines/2").links()


def test_chosen_options_stand_in_words(instructor, given, do):
    work = given.work("connector-for-the-job")
    problem = do(work)
    words = say(Message(f"fitting.{given.right(problem)}"))

    assert words in instructor.get(f"/given/{work}/lines/1").words


def test_a_question_that_there_is_not_is_not_found(instructor, work):
    assert instructor.get(f"/given/{work}/lines/3").status == 404
    assert instructor.get(f"/given/{work}/lines/0").status == 404
    assert instructor.get(f"/given/{work}/lines/x").status == 404


def test_work_that_there_is_not_or_of_others_is_not_found(instructor, foreman, work):
    assert instructor.get(f"/given/{'0' * 22}").status == 404
    assert instructor.get("/given/?").status == 404
    for path in ("", "/lines/1", "/withdraw"):
        assert foreman.get(f"/given/{work}{path}").status == 404


def test_taking_back_asks_first_and_then_learners_see_it_no_more(instructor, client_of, work, do, here):
    do(work)
    asked = instructor.get(f"/given/{work}/withdraw")
    assert asked.heading == "Take back Offsets for Friday"
    assert "What was answered stays on record" in asked.words

    page = instructor.submit(f"/given/{work}/withdraw")

    assert page.location == here()
    assert "Offsets for Friday is taken back." in instructor.get(here()).words
    assert client_of("learner").get(f"/work/{work}").status == 404
    after = instructor.get(f"/given/{work}")
    assert "It was taken back Wed, Nov 25, 2026." in after.words
    assert f"/given/{work}/withdraw" not in after.links()


def test_after_the_due_date_it_says_was_due(instructor, work, clock):
    clock.forward(days=9)

    assert "Was due Sat, Nov 28, 2026, 11:59 pm" in instructor.get(f"/given/{work}").words


def test_results_take_as_many_queries_for_many_people_as_for_one(instructor, work, do, more_people):
    do(work)
    few = instructor.get(f"/given/{work}")
    for who in more_people("amy", "bob", "cyd"):
        do(work, SLIP, who=who)
        do(work, position=2, who=who)
    many = instructor.get(f"/given/{work}")

    assert len(many.queries) == len(few.queries)


def test_steps_in_order_and_the_setting_of_a_bender_are_read_in_words(instructor, given, do, more_people):
    work = given.work("order-of-a-cut", "back-to-back-bender")
    more_people("amy")
    do(work, "fitted-before-reaming")
    do(work, "take-up-off-and-back-mark", position=2)
    do(work, "right", who="amy")
    page = instructor.get(f"/given/{work}")

    assert "1 mark, 2 clamp, 3 saw, 4 push, 5 ream, 6 tighten" in page.words
    setting = "pencil mark “less”, back-of-bend mark, hook toward where measuring starts, as it lies"
    assert setting in page.words
    assert setting in instructor.get(f"/given/{work}/lines/2").words


def test_an_open_setting_is_shown_group_by_group_without_what_is_right(instructor, given, do):
    work = given.work("back-to-back-bender", "order-of-a-cut")
    do(work, "mark-full, take-up-mark, measured-end, over")
    link = next(one for one in instructor.get(f"/given/{work}").links() if "/problems/" in one)
    seen = instructor.get(link)

    assert "It shows more than one slip:" in seen.words
    assert "Which mark of the bender goes on it? The take-up mark The back-of-bend mark" in seen.words
    assert "One way" not in seen.words
