"""The desk of who leads a class or crew."""

from __future__ import annotations

import pytest

from trainer.accounts.actor import actor_of_person
from trainer.groups.organisations import appoint


@pytest.fixture
def appointed(app, world, clock):
    """Gives somebody a role in an organisation."""

    def change(who, role, organisation):
        with app.extensions["trainer.database"].write() as session:
            chief = actor_of_person(session, world.people["administrator"])
            where = world.organisations[organisation]
            appoint(session, chief, where, sign_in_name=who, role=role, now=clock.now)

    return change


def test_who_leads_finds_the_own_groups_first_thing(instructor, here):
    assert instructor.get("/").location == "/groups"
    page = instructor.get("/groups")

    assert page.heading == "Your classes and crews"
    assert here() in page.links()
    assert here(group="other class") in page.links()
    assert here(group="crew") not in page.links()


def test_what_is_due_stands_with_how_many_have_begun(instructor, given, do):
    work = given.work()
    do(work)
    page = instructor.get("/groups")

    assert "Offsets for Friday Due Sat, Nov 28, 2026, 1 of 1 have begun" in page.words
    assert f"/given/{work}" in page.links()


def test_a_group_without_people_says_to_bring_them_in(foreman):
    assert "bring people in, from a list or by its code" in foreman.get("/groups").words


def test_an_empty_desk_says_what_to_do_first(client_of, appointed):
    appointed("stranger", "instructor", "school")
    page = client_of("stranger").get("/groups")

    assert "Nothing is on your desk yet" in page.words
    assert "Make a class" in page.words
    assert page.form("/groups")


def test_a_class_takes_a_name_and_has_its_code_on_the_next_page(instructor):
    page = instructor.submit("/groups", {"name": " Saturday   class "})

    assert page.status == 303
    made = instructor.get(page.location)
    assert made.heading == "Saturday class"
    assert "Code to join" in made.words
    assert made.location is None
    assert "School Riverside evening school" in made.words


def test_the_kind_follows_from_the_organisation(foreman):
    assert "Make a crew" in foreman.get("/groups").words
    made = foreman.get(foreman.submit("/groups", {"name": "Attic crew"}).location)

    assert "Shop Hill Street Electric" in made.words


@pytest.mark.parametrize(("name", "said"), [("  ", "Type a name for it"), ("x" * 121, "this name is too long")])
def test_a_name_that_will_not_do_is_kept_for_mending(instructor, name, said):
    page = instructor.submit("/groups", {"name": name})

    assert page.status == 422
    assert said.lower() in page.errors["name"].lower()
    assert page.value("name") == name


def test_who_leads_in_two_organisations_chooses_where(client_of, appointed, world):
    appointed("instructor", "foreman", "shop")
    browser = client_of("instructor")

    asked = browser.submit("/groups", {"name": "Evening crew"})
    assert asked.status == 422
    assert asked.errors == {"organisation": "Choose where it belongs."}
    assert asked.value("name") == "Evening crew"

    page = browser.submit("/groups", {"name": "Evening crew", "organisation": world.organisations["shop"]})
    assert "Shop Hill Street Electric" in browser.get(page.location).words


def test_no_group_is_made_in_an_organisation_of_others(client_of, appointed, world):
    appointed("instructor", "owner", "school")
    other = {"name": "Mine", "organisation": world.organisations["shop"]}

    browser = client_of("instructor")

    # There is one organisation to choose from, and that is taken whatever the form says.
    page = browser.submit("/groups", other)
    assert "School Riverside evening school" in browser.get(page.location).words


def test_a_choice_that_is_not_among_those_offered_is_not_found(client_of, appointed):
    appointed("instructor", "foreman", "shop")

    assert client_of("instructor").submit("/groups", {"name": "Mine", "organisation": "0" * 22}).status == 404


def test_an_owner_leads_all_groups_and_is_led_to_the_staff(owner, here, world):
    links = owner.get("/groups").links()

    assert {here(), here(group="other class")} <= set(links)
    assert f"/organisations/{world.organisations['school']}/staff" in links


def test_the_desk_takes_as_many_queries_for_many_groups_as_for_one(foreman, instructor, given):
    few = foreman.get("/groups")
    for _ in range(3):
        given.work()
        given.work(group="other class")
    many = instructor.get("/groups")

    assert len(many.queries) == len(few.queries)
