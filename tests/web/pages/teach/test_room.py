"""Work in the room: the leader's screen and the wall, opening and ending it, and what learners meet meanwhile."""

from __future__ import annotations

import re

import pytest
from sqlalchemy import update

from trainer.records.models import AssignedWork
from trainer.text.markdown import to_html

TOLD_APART = 1
MORE = "count-offset-spacing=1&count-strap-count=1"


@pytest.fixture
def learner(client_of):
    return client_of("learner")


@pytest.fixture
def room(given):
    return given.work("offset-shrink", kind="room", title="Tonight")


@pytest.fixture
def at(room):
    return lambda *steps: "/".join(["", "given", room, *steps])


@pytest.fixture
def same_numbers_each_time(given, room):
    """Numbers for which the spacing from the sine and the one from the multiplier differ on a tape."""
    with given.database.write() as session:
        session.execute(update(AssignedWork).where(AssignedWork.public_id == room).values(shared_seed=TOLD_APART))


@pytest.fixture
def opened(instructor, at):
    instructor.submit(at("room"), action=at("room", "open"))
    return instructor


def test_work_is_given_in_the_room_and_leads_to_its_screen(instructor, here):
    page = instructor.submit(
        here("work", "new", "name") + "?" + MORE, {"title": "Tonight", "kind": "room"}, action=here("work")
    )

    assert page.location.endswith("/room")
    assert "Not open yet" in instructor.get(page.location).words


def test_a_form_sent_twice_gives_once(instructor, here):
    name = here("work", "new", "name") + "?" + MORE
    sent = instructor.get(name).form(here("work")) | {"title": "Once only"}
    first, second = (instructor.post(here("work"), sent) for _ in range(2))

    assert (first.status, second.status) == (303, 303)
    assert instructor.get(here()).words.count("Once only") == 1


@pytest.mark.usefixtures("opened")
def test_what_is_open_stands_first_for_its_learners(learner, given, room):
    given.work("strap-count", due_in=9, title="Later")
    left = given.problem()
    today = learner.get("/today")
    first = next(one for one in today.tree.iter("section") if one.get("class") == "first")

    assert first.find(".//a").get("href") == f"/work/{room}"
    assert "Open now in the room, Tuesday evening: 1 of 1 still to answer." in today.words
    assert f"/problems/{left}" in today.links()
    listed = learner.get("/work")
    assert next(link for link in listed.links() if link.startswith("/work/")) == f"/work/{room}"
    assert "Open now in the room" in listed.words
    assert "One answer to each question" in learner.get(f"/work/{room}").words


def test_before_that_its_lines_are_no_buttons(learner, room):
    page = learner.get(f"/work/{room}")

    assert "Not open yet." in page.words
    assert page.tree.find(f".//form[@action='/work/{room}/1']") is None
    token = learner.get("/practice").form("/practice")
    assert learner.post(f"/work/{room}/1", token).status == 403


def test_the_answer_is_in_and_the_steps_wait(learner, given, room, opened, at):
    problem = f"/problems/{given.line(room)}"
    asked = learner.get(problem)
    assert "Hint 1" not in asked.words
    assert "Give up" not in asked.words
    said = "In the room: one answer counts, and it can’t be changed."
    assert asked.text.index(said) < asked.text.index('name="answer"') < asked.text.index("Send the answer")
    learner.submit(problem, {"answer": "77 in"}, action=problem)
    page = learner.get(problem)

    assert "The steps come when this is ended in the room." in page.words
    assert "The answer:" not in page.words
    assert "The steps, in your numbers" not in page.words
    opened.submit(at("room"), action=at("room", "end"))
    assert "The steps, in your numbers" in learner.get(problem).words


def test_after_the_end_a_learner_reads_that_it_is_ended(learner, given, room, opened, at, clock):
    given.line(room)
    opened.submit(at("room"), action=at("room", "end"))
    clock.forward(minutes=1)
    page = learner.get(f"/work/{room}")

    assert "Ended Wed, Nov 25, 2026" in page.words
    assert "It is ended. Open a question to see its steps. What you answer now is practice." in page.words
    assert "Was due" not in page.words
    assert "The date is past" not in page.words
    assert "Ended Wed, Nov 25, 2026." in learner.get("/work").words


def test_what_was_never_opened_did_not_end(learner, room, clock):
    clock.forward(days=9)

    assert "The date is past." in learner.get(f"/work/{room}").words


def test_it_ends_with_the_day_on_which_it_is_opened(opened, here, learner, room):
    # Planned for Nov 28, and opened on Nov 25.
    assert "At the latest Wed, Nov 25, 2026, 11:59 pm" in learner.get(f"/work/{room}").words
    form = opened.get(here("work", "new", "name") + "?" + MORE).words
    assert "it ends with the day on which you open it" in form


def test_the_screen_leads_with_the_slip_and_names_who_needs_help(given, room, opened, at, clock):
    given.line(room)
    clock.forward(minutes=6)
    page = opened.get(at("room"))

    assert "Go to these first" in page.words
    assert "at question 1 for 6 minutes" in page.words


def test_the_wall_has_no_names(given, room, opened, at, clock):
    given.line(room)
    clock.forward(minutes=6)
    name = "Learner Person"

    assert name in opened.get(at("room")).words
    assert name not in opened.get(at("wall")).words


@pytest.mark.usefixtures("same_numbers_each_time")
def test_what_is_said_of_a_slip_is_said_of_the_value_that_was_given(given, room, opened, at):
    problem = given.line(room)
    drawn = given.drawn(problem)
    several = [one for one in drawn.mistakes if one.id == "spacing-for-shrink"]
    first, taken = several[0], max(several, key=lambda one: abs(one.value - several[0].value))
    given.answer(problem, f"{taken.value:.4f} in")
    words = opened.get(at("room")).words

    assert first.say != taken.say
    assert plain(taken.say) in words
    assert plain(first.say) not in words


def plain(markdown):
    return " ".join(re.sub("<[^>]+>", "", to_html(markdown)).split())


def test_the_wall_waits_with_a_mistake_until_all_have_answered(more_people, given, room, opened, at):
    more_people("amy")
    problem = given.line(room)
    given.answer(problem, given.mistaken(problem, "spacing-for-shrink"))
    wait = "Mistakes stand here when all have answered, or when it is ended."
    meanwhile = opened.get(at("wall")).words
    assert "1 of 1" in opened.get(at("room")).words
    assert wait in meanwhile
    assert "1 of 1" not in meanwhile

    opened.submit(at("room"), action=at("room", "end"))
    assert "1 of 1" in opened.get(at("wall")).words
    assert wait not in opened.get(at("wall")).words
