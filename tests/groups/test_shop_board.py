"""The board over all crews of a shop: for its owner, each person once, and one crew on demand."""

from __future__ import annotations

import pytest
from sqlalchemy import select

from trainer.accounts.access import NotAllowedError, NotFoundError
from trainer.groups.joining import join
from trainer.groups.membership import make_group, open_joining, set_sharing
from trainer.groups.ready_questions import tallies
from trainer.groups.shop_board import shop_board
from trainer.records.models import AuditLine, Group

SKILLS = ("supports.straps", "bends.offset", "fittings.connectors")


@pytest.fixture
def shop(any_town):
    """A shop of two crews: lena in both, leo in the garage crew, ray in the van."""
    town = any_town
    town.add("ray")
    town.van = town.do("otto", make_group, town.shop, name="Service van", now=town.now)
    town.join(town.crew, "lena", "leo")
    code = town.do("otto", open_joining, town.van, town.now)
    for name in ("lena", "ray"):
        town.do(name, join, code, town.now)
    town.job_type(checks=())
    return town


def see(town, name="otto", **more):
    return town.with_library(name, shop_board, more.pop("organisation", town.shop), now=town.now, **more)


def test_everybody_of_all_crews_stands_there_once(shop):
    shop.found_ready("lena", *SKILLS)
    board = see(shop)

    assert [(one.name, one.crews) for one in board.people] == [
        ("Lena", ("Garage crew", "Service van")),
        ("Leo", ("Garage crew",)),
        ("Ray", ("Service van",)),
    ]
    assert [(one.name, one.people) for one in board.crews] == [("Garage crew", 2), ("Service van", 2)]
    assert [(one.ready, one.due, one.not_yet) for one in tallies(board)] == [(1, 0, 2)]
    assert board.chosen is None


def test_one_crew_on_demand(shop):
    board = see(shop, crew=shop.van)

    assert [one.name for one in board.people] == ["Lena", "Ray"]
    assert {one.group for one in board.people} == {shop.van}
    assert board.chosen.name == "Service van"
    assert len(board.crews) == 2


def test_shown_to_one_crew_is_shown_and_leads_there(shop):
    shop.do("lena", set_sharing, shop.crew, "readiness", shop.now, shared=False)
    shop.do("leo", set_sharing, shop.crew, "readiness", shop.now, shared=False)
    board = see(shop)

    assert [(one.name, one.group) for one in board.people] == [("Lena", shop.van), ("Ray", shop.van)]
    assert board.closed == ("Leo",)
    assert see(shop, crew=shop.crew).people == ()
    assert see(shop, crew=shop.crew).closed == ("Lena", "Leo")


def test_looks_are_noted_as_of_the_crew_that_shows_it(shop):
    see(shop)
    see(shop)
    query = select(AuditLine.subject_id, Group.public_id).join(Group, Group.id == AuditLine.group_id)
    with shop.database.read() as session:
        noted = session.execute(query.where(AuditLine.what == "looked.readiness")).all()

    assert len(noted) == 3
    assert {tuple(line) for line in noted} == {
        (shop.ids["lena"], shop.crew),
        (shop.ids["leo"], shop.crew),
        (shop.ids["ray"], shop.van),
    }


def test_only_the_owner_sees_it(shop):
    for name in ("fred", "lena"):
        with pytest.raises(NotAllowedError):
            see(shop, name)
    for name in ("ines", "ada", "stranger"):
        with pytest.raises(NotFoundError):
            see(shop, name)
    with pytest.raises(NotFoundError):
        see(shop, organisation=shop.school)


def test_a_crew_of_another_place_is_not_there(shop):
    for crew in (shop.class_, "x" * 22, "nonsense"):
        with pytest.raises(NotFoundError):
            see(shop, crew=crew)


def test_a_shop_with_nobody_in_it(any_town):
    board = see(any_town)

    assert (board.people, board.closed, board.jobs) == ((), (), ())
    assert [(one.name, one.people) for one in board.crews] == [("Garage crew", 0)]
