"""Photographs of a finding: who adds and takes away, who sees them, and what is left when somebody goes."""

from __future__ import annotations

import pytest
from sqlalchemy import func, select

from trainer.accounts.access import NotAllowedError, NotFoundError
from trainer.accounts.audit import lines_about
from trainer.accounts.people import delete_person
from trainer.calc.message import InputError
from trainer.groups.finding_photos import add_photo, own_photo, photo_seen_by, photos_page, remove_photo
from trainer.groups.findings import report, withdraw
from trainer.groups.held import held_about
from trainer.groups.keeping_photos import MOST_PHOTOS
from trainer.groups.membership import leave, set_sharing
from trainer.groups.photographs import Photograph
from trainer.progress.field import findings_about
from trainer.records.models import FindingPhoto

LENA = "public-lena".ljust(22, "x")
PHOTO = Photograph(b"a picture", 1600, 1200)


@pytest.fixture
def town(any_town):
    any_town.join(any_town.crew, "lena", "leo")
    return any_town


@pytest.fixture
def finding(town):
    wanted = {"skill": "bends.offset", "kind": "dog-leg", "note": "Two offsets lean.", "now": town.now}
    return town.with_library("fred", report, town.crew, LENA, **wanted)


def add(town, finding, who="fred", shows="Two offsets, one leaning.", group=None):
    town.do(who, add_photo, group or town.crew, finding, PHOTO, shows=shows, now=town.now)
    with town.database.read() as session:
        return session.scalars(select(FindingPhoto.public_id).order_by(FindingPhoto.id.desc())).first()


def photos(town):
    with town.database.read() as session:
        return findings_about(session, town.ids["lena"])[0].photos


def test_who_reported_adds_one_and_the_learner_sees_it(town, finding):
    photo = add(town, finding, shows=" Two  offsets. ")

    (line,) = photos(town)
    assert (line.public_id, line.shows, line.width, line.height) == (photo, "Two offsets.", 1600, 1200)
    assert town.do("lena", own_photo, photo) == b"a picture"
    with town.database.read() as session:
        assert held_about(session, town.ids["lena"]).photos == 1
        assert held_about(session, town.ids["leo"]).photos == 0
        assert "finding.photo-added" in [one.what for one in lines_about(session, town.ids["lena"])]


def test_nobody_else_sees_it(town, finding):
    photo = add(town, finding)

    for name in ("leo", "ines", "ada", "stranger", "fred"):
        with pytest.raises(NotFoundError):
            town.do(name, own_photo, photo)
    with pytest.raises(NotAllowedError):
        town.do("leo", photo_seen_by, town.crew, LENA, photo)
    with pytest.raises(NotFoundError):
        town.do("ines", photo_seen_by, town.crew, LENA, photo)
    for odd in ("", "../photo", "x" * 22):
        with pytest.raises(NotFoundError):
            town.do("fred", photo_seen_by, town.crew, LENA, odd)


def test_leaders_of_another_group_see_it_with_readiness_and_no_longer_once_it_is_closed(town, finding):
    town.join(town.class_, "lena")
    photo = add(town, finding)

    assert town.do("otto", photo_seen_by, town.crew, LENA, photo) == b"a picture"
    with pytest.raises(NotFoundError):
        town.do("ines", photo_seen_by, town.class_, LENA, photo)
    town.do("lena", set_sharing, town.class_, "readiness", town.now, shared=True)
    assert town.do("ines", photo_seen_by, town.class_, LENA, photo) == b"a picture"
    town.after(days=1).do("lena", leave, town.class_, town.now)
    with pytest.raises(NotFoundError):
        town.do("ines", photo_seen_by, town.class_, LENA, photo)


def test_a_leader_who_did_not_report_adds_none_but_may_take_one_away(town, finding):
    photo = add(town, finding)

    assert town.do("otto", photos_page, town.crew, LENA, finding).why_not.id == "photo.not-yours"
    with pytest.raises(NotAllowedError):
        add(town, finding, who="otto")
    with pytest.raises(NotAllowedError):
        town.do("lena", remove_photo, town.crew, finding, photo, now=town.now)
    town.do("otto", remove_photo, town.crew, finding, photo, now=town.now)

    assert photos(town) == ()
    with pytest.raises(NotFoundError):
        town.do("lena", own_photo, photo)
    with pytest.raises(NotFoundError):
        town.do("otto", remove_photo, town.crew, finding, photo, now=town.now)


def test_a_finding_takes_so_many_and_a_withdrawn_one_none(town, finding):
    for _ in range(MOST_PHOTOS):
        add(town, finding)

    with pytest.raises(NotAllowedError):
        add(town, finding)
    assert town.do("fred", photos_page, town.crew, LENA, finding).why_not.id == "photo.enough"
    town.do("fred", withdraw, town.crew, finding, reason="Another man's pipe.", now=town.now)
    with pytest.raises(NotAllowedError):
        add(town, finding)


def test_what_it_shows_has_to_be_said(town, finding):
    with pytest.raises(InputError) as error:
        add(town, finding, shows="  ")

    assert error.value.field == "shows"


def test_deleting_the_account_takes_the_photographs_of_its_work(town, finding):
    add(town, finding)
    with town.database.write() as session:
        delete_person(session, town.ids["lena"], town.now)

    with town.database.read() as session:
        assert session.scalars(select(func.count(FindingPhoto.id))).one() == 0
