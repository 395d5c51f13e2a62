"""A whole board is kept while nothing happens to anybody on it, and so is that somebody looked at it."""

from __future__ import annotations

import pytest
from sqlalchemy import func, select, update

from trainer.groups.board import LOOKED
from trainer.groups.ready_board import ready_board
from trainer.groups.shop_board import shop_board
from trainer.progress.needs import Ready
from trainer.progress.replay import rebuild
from trainer.records.models import AuditLine, Person

SKILLS = ("supports.straps", "bends.offset", "fittings.connectors")


@pytest.fixture
def crew(any_town):
    any_town.join(any_town.crew, "lena", "leo")
    any_town.job_type(checks=())
    any_town.found_ready("lena", *SKILLS)
    any_town.found_ready("leo", *SKILLS)
    return any_town


def see(town, who="fred"):
    return town.with_library(who, ready_board, town.crew, now=town.now)


def states(board):
    return {one.name: [job.state for job in one.jobs.values()] for one in board.people}


def looks(town):
    with town.database.read() as session:
        return session.scalar(select(func.count()).select_from(AuditLine).where(AuditLine.what == LOOKED))


def test_while_nothing_happens_it_is_the_same_board(crew):
    assert see(crew).people is see(crew).people


def test_another_name_shows_at_once_on_both_boards(crew):
    see(crew)
    crew.with_library("otto", shop_board, crew.shop, now=crew.now)
    with crew.database.write() as session:
        session.execute(update(Person).where(Person.display_name == "Leo").values(display_name="Leon"))

    assert [one.name for one in see(crew).people] == ["Lena", "Leon"]
    shop = crew.with_library("otto", shop_board, crew.shop, now=crew.now)
    assert [one.name for one in shop.people] == ["Lena", "Leon"]


def test_a_record_that_was_rebuilt_is_looked_at_again(crew):
    """The rows of `found_ready` have no answers behind them, so that a rebuilt record knows none of it."""
    assert states(see(crew)) == {"Lena": [Ready.READY], "Leo": [Ready.READY]}
    with crew.database.write() as session:
        rebuild(session, crew.ids["lena"])

    assert states(see(crew)) == {"Lena": [Ready.DUE], "Leo": [Ready.READY]}


def test_a_look_is_noted_once_a_day_for_each_reader(crew):
    for _ in range(3):
        see(crew)
    assert looks(crew) == 2
    see(crew, "otto")
    assert looks(crew) == 4

    crew.after(hours=25)
    for _ in range(3):
        see(crew)
    assert looks(crew) == 6


def test_a_look_that_was_rolled_back_is_noted_the_next_time(crew):
    fred = crew.actor("fred")
    with crew.database.write() as session:
        ready_board(session, crew.library, fred, crew.crew, now=crew.now)
        session.rollback()
    assert looks(crew) == 0

    see(crew)
    assert looks(crew) == 2
