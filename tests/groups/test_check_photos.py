"""Photographs of hands-on checks: who adds and takes away, who sees them, and what is left when somebody goes."""

from __future__ import annotations

import pytest
from sqlalchemy import func, select

from trainer.accounts.access import NotAllowedError, NotFoundError
from trainer.accounts.audit import lines_about
from trainer.accounts.people import delete_person
from trainer.calc.message import InputError
from trainer.groups.check_photos import add_photo, own_photo, photo_seen_by, remove_photo
from trainer.groups.hands_on import drop, set_checks
from trainer.groups.held import held_about
from trainer.groups.keeping_photos import MOST_PHOTOS
from trainer.groups.membership import leave
from trainer.groups.photographs import Photograph
from trainer.progress.hands_on import own_checks
from trainer.records.models import CheckPhoto

LENA = "public-lena".ljust(22, "x")
PHOTO = Photograph(b"a picture", 1600, 1200)


@pytest.fixture
def town(any_town):
    any_town.join(any_town.crew, "lena", "leo")
    return any_town


@pytest.fixture
def check(town):
    more = {"people": [LENA], "kind": "offset", "trade_size": "1/2", "now": town.now}
    (made,) = town.do("fred", set_checks, town.crew, **more)
    return made


def add(town, check, who="fred", shows="The rise, with the tape on it."):
    town.do(who, add_photo, town.crew, check, PHOTO, shows=shows, now=town.now)
    with town.database.read() as session:
        return session.scalars(select(CheckPhoto.public_id).order_by(CheckPhoto.id.desc())).first()


def photos(town, who="lena"):
    with town.database.read() as session:
        return own_checks(session, town.ids[who])[0].photos


def test_who_leads_the_crew_adds_one_and_the_learner_sees_it(town, check):
    photo = add(town, check, shows=" The  rise. ")

    (line,) = photos(town)
    assert (line.public_id, line.shows, line.added_by, line.width, line.height) == (
        photo,
        "The rise.",
        "Fred",
        1600,
        1200,
    )
    assert town.do("lena", own_photo, photo) == town.do("otto", photo_seen_by, town.crew, photo) == b"a picture"
    with town.database.read() as session:
        assert held_about(session, town.ids["lena"]).photos == 1
        assert held_about(session, town.ids["leo"]).photos == 0
        assert "check.photo-added" in [one.what for one in lines_about(session, town.ids["lena"])]


def test_nobody_else_sees_it(town, check):
    photo = add(town, check)

    for name in ("leo", "ines", "ada", "stranger", "fred"):
        with pytest.raises(NotFoundError):
            town.do(name, own_photo, photo)
    with pytest.raises(NotAllowedError):
        town.do("leo", photo_seen_by, town.crew, photo)
    with pytest.raises(NotFoundError):
        town.do("ines", photo_seen_by, town.crew, photo)
    with pytest.raises(NotFoundError):
        town.do("ines", photo_seen_by, town.class_, photo)
    for odd in ("", "../photo", "x" * 22):
        with pytest.raises(NotFoundError):
            town.do("fred", photo_seen_by, town.crew, odd)


def test_it_stays_with_the_check_when_the_learner_leaves(town, check):
    photo = add(town, check)
    town.after(days=1).do("lena", leave, town.crew, town.now)

    assert town.do("fred", photo_seen_by, town.crew, photo) == b"a picture"


def test_the_learner_neither_adds_nor_takes_away_and_another_leader_does(town, check):
    photo = add(town, check)

    with pytest.raises(NotAllowedError):
        add(town, check, who="lena")
    with pytest.raises(NotAllowedError):
        town.do("lena", remove_photo, town.crew, check, photo, now=town.now)
    town.do("otto", remove_photo, town.crew, check, photo, now=town.now)

    assert photos(town) == ()
    with pytest.raises(NotFoundError):
        town.do("lena", own_photo, photo)
    with pytest.raises(NotFoundError):
        town.do("otto", remove_photo, town.crew, check, photo, now=town.now)


def test_a_leader_who_learns_in_his_own_crew_keeps_his_hands_off_his_own_check(town):
    town.join(town.crew, "fred")
    more = {"people": ["public-fred".ljust(22, "x")], "kind": "offset", "trade_size": "1/2", "now": town.now}
    (own,) = town.do("otto", set_checks, town.crew, **more)
    photo = add(town, own, who="otto")

    with pytest.raises(NotAllowedError):
        add(town, own)
    with pytest.raises(NotAllowedError):
        town.do("fred", remove_photo, town.crew, own, photo, now=town.now)


def test_a_check_takes_so_many_and_one_put_aside_none(town, check):
    for _ in range(MOST_PHOTOS):
        add(town, check)

    with pytest.raises(NotAllowedError) as refused:
        add(town, check)
    assert refused.value.reason.id == "photo.enough"
    town.do("fred", drop, town.crew, check, town.now)
    with pytest.raises(NotAllowedError) as refused:
        add(town, check)
    assert refused.value.reason.id == "photo.check-over"


def test_what_it_shows_has_to_be_said(town, check):
    with pytest.raises(InputError) as error:
        add(town, check, shows="  ")

    assert error.value.field == "shows"


def test_deleting_the_account_takes_the_photographs_of_its_work(town, check):
    add(town, check)
    with town.database.write() as session:
        delete_person(session, town.ids["lena"], town.now)

    with town.database.read() as session:
        assert session.scalars(select(func.count(CheckPhoto.id))).one() == 0
