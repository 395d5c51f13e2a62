"""The page of a class or crew."""

from __future__ import annotations

import pytest


def code_on(page):
    signs = page.tree.find(".//p[@class='code__signs']")
    return None if signs is None else "".join(signs.itertext()).replace(" ", "").strip()


def test_the_code_stands_large_and_as_an_address(instructor, here, world):
    page = instructor.get(here())

    assert code_on(page) == world.codes["class"]
    assert f"http://localhost/join/{world.codes['class']}" in page.words


def test_what_joining_shares_is_said_as_it_is_to_who_joins(instructor, foreman, here):
    of_class = instructor.get(here()).words.split("Before they join")[1]
    of_crew = foreman.get(here(group="crew")).words.split("Before they join")[1]

    assert "Owner Person (runs the school), Instructor Person" in of_class
    shown, kept = of_class.split("They will not see, unless you open it:")
    assert "What you answer in work that is assigned here" in shown
    assert "Where you stand on each skill" in kept
    assert "Where you stand on each skill" in of_crew.split("They will not see, unless you open it:")[0]


def test_a_new_code_replaces_the_old_one(instructor, client, here, world):
    page = instructor.submit(here(), action=here("code"))

    assert page.location == here() + "#joining"
    new = code_on(instructor.get(here()))
    assert new != world.codes["class"]
    assert client.get(f"/join/{world.codes['class']}").status == 422
    assert client.get(f"/join/{new}").status == 200


def test_joining_can_be_closed_and_opened_again(instructor, client, here, world):
    instructor.submit(here(), action=here("code", "close"))
    closed = instructor.get(here())

    assert code_on(closed) is None
    assert "Joining is closed" in closed.words
    assert client.get(f"/join/{world.codes['class']}").status == 422

    instructor.submit(here(), action=here("code"))
    assert code_on(instructor.get(here())) is not None


@pytest.mark.parametrize("below", [("code",), ("code", "close")])
def test_nobody_else_touches_the_code(foreman, here, world, client, below):
    token = foreman.get("/groups").value("csrf_token")

    assert foreman.post(here(*below), {"csrf_token": token}).status == 404
    assert client.get(f"/join/{world.codes['class']}").status == 200


def test_members_stand_with_what_they_did(instructor, here, given, do, more_people):
    more_people("amy")
    do(given.work())
    page = instructor.get(here())

    assert "Amy 0 of 2 questions answered" in page.words
    assert "Learner Person 1 of 2 questions answered" in page.words
    assert here("people", given.public_id("learner")) in page.links()
    assert "Left Person" not in page.words
    assert "Nobody here shows where they stand" in page.words


def test_who_shows_where_they_stand_is_told_apart(instructor, here, share, more_people, given):
    more_people("amy")
    share("readiness")
    problem = given.problem()
    given.answer(problem, given.right(problem))
    page = instructor.get(here())

    assert "Learner Person one skill begun, one answer" in page.words
    assert "These do not show where they stand: Amy." in page.words
    assert here("skills") in page.links()


def test_work_to_come_stands_above_work_that_is_past_or_taken_back(instructor, here, given, clock):
    past = given.work(title="Long ago", due_in=1)
    clock.forward(days=3)
    due = given.work(title="To come")
    back = given.work(title="Never mind")
    instructor.submit(f"/given/{back}/withdraw")
    page = instructor.get(here())

    assert "To come Due Tue, Dec 1, 2026, nobody has begun" in page.words
    assert "Never mind Taken back" in page.words
    assert "Long ago Was due Thu, Nov 26, 2026" in page.words
    links = page.links()
    assert links.index(f"/given/{due}") < links.index(f"/given/{back}")
    assert f"/given/{past}" in links


def test_an_empty_group_has_its_code_before_all_else(foreman, here, given):
    work = given.work(group="crew")
    page = foreman.get(here(group="crew"))

    assert page.words.index("Bringing people in") < page.words.index("Nobody is in it yet")
    assert f"/given/{work}" in page.links()


def test_a_group_that_there_is_not_is_not_found(instructor):
    assert instructor.get("/groups/0123456789abcdefABCDEF").status == 404
    assert instructor.get("/groups/what-is-this").status == 404


@pytest.mark.parametrize("below", [("code",), ("code", "close"), ("work",)])
def test_what_changes_something_cannot_be_read(instructor, here, below):
    assert instructor.get(here(*below)).status == 405


def test_it_takes_as_many_queries_for_many_people_as_for_one(instructor, here, given, do, more_people):
    work = given.work()
    do(work)
    few = instructor.get(here())
    more_people("amy", "bob", "cyd", "dee")
    for who in ("amy", "bob", "cyd"):
        do(work, who=who)
    given.work(title="More")
    many = instructor.get(here())

    assert len(many.queries) == len(few.queries)
