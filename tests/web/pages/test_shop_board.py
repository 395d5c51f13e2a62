"""The owner's page over all crews, and the pictures on the leaders' pages."""

import pytest
from sqlalchemy import select

from trainer.accounts.sharing import Shared, set_shared
from trainer.groups.ready_made import ready_made
from trainer.records.models import Group

WEEK = tuple(ready_made()["first-week"].skills)


@pytest.fixture
def owner(client_of):
    return client_of("owner")


@pytest.fixture
def board(world):
    return f"/organisations/{world.organisations['school']}/board"


@pytest.fixture
def shown(world, given):
    """The learner lets the leaders of the class see readiness."""
    with given.database.write() as session:
        group = session.scalars(select(Group).where(Group.public_id == world.groups["class"])).one()
        set_shared(session, world.people["learner"], group.id, Shared.READINESS, given.clock.now, shared=True)


def test_the_desk_of_an_owner_leads_to_it(owner, board):
    assert board in owner.get("/groups").links()


def test_without_a_job_type_it_leads_to_them(owner, board):
    assert "No job types yet" in owner.get(board).words


def test_nobody_shows_it(owner, board, given):
    given.job_type("first-week")

    page = owner.get(board)

    assert "Nobody shows it here" in page.words
    assert "Learner Person" in page.words.split("Not shown")[1]


@pytest.mark.usefixtures("shown")
def test_all_classes_on_one_page_with_a_picture_told_in_words(owner, board, given, world):
    job = given.job_type("first-week")
    given.found_ready(*WEEK)

    page = owner.get(board)

    assert "First-week helper: 0 ready, 0 due again, 1 not yet." in page.words
    assert "All of them" in page.words
    assert f"{board}/{job}" in page.links()
    assert f"/groups/{world.groups['class']}/board/{job}/people/{given.public_id('learner')}" in page.links()


@pytest.mark.usefixtures("shown")
def test_one_class_alone(owner, board, given, world):
    job = given.job_type("first-week")
    classes = {name: f"{board}?crew={world.groups[name]}" for name in ("class", "other class")}
    page = owner.get(classes["class"])

    assert set(classes.values()) <= set(page.links())
    assert f"{board}/{job}?crew={world.groups['class']}" in page.links()
    assert "Nobody shows it here" in owner.get(classes["other class"]).words
    assert owner.get(f"{board}?crew={'x' * 22}").status == 404


@pytest.mark.usefixtures("shown")
def test_who_of_all_can_go_on_a_day(owner, board, given, world):
    job = given.job_type("first-week")
    monday = owner.get(f"{board}/{job}")
    again = owner.get(f"{board}/{job}?on=2026-12-08&crew={world.groups['class']}")
    wrong = owner.get(f"{board}/{job}?on=tomorrow")

    assert "Who can go on Mon, Nov 30, 2026" in monday.words
    assert "Learner Person, " in monday.words
    assert "Who can go on Tue, Dec 8, 2026" in again.words
    assert again.value("crew") == world.groups["class"]
    assert wrong.errors["on"].startswith("Type a day from today on")
    assert owner.get(f"{board}/{'x' * 22}").status == 404


@pytest.mark.usefixtures("shown")
def test_a_class_at_a_glance(owner, given, world):
    for _ in range(6):
        problem = given.problem()
        given.answer(problem, given.right(problem))

    page = owner.get(f"/groups/{world.groups['class']}/skills")

    assert "All at a glance" in page.words
    assert "Learner Person: Offsets about" in page.words
