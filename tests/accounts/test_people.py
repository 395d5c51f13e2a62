"""Making, renaming, resetting and deleting people."""

from __future__ import annotations

from datetime import timedelta

import pytest
from sqlalchemy import select

from trainer.accounts.audit import lines_about
from trainer.accounts.passwords import CHEAP_PASSWORDS, Check, one_time_password
from trainer.accounts.people import (
    DELETED_NAME,
    LastAdministratorError,
    change_display_name,
    delete_person,
    person_named,
    reset_password,
)
from trainer.accounts.sharing import shared_with
from trainer.calc.message import InputError
from trainer.records.models import Membership, Person, Problem, SignInSession
from trainer.text.words import error_text


def test_a_person_is_made_with_folded_name_and_hashed_password(any_database, make_person, now):
    with any_database.write() as session:
        made = make_person(session, " José.García ", display_name="  José   García ", password="some long words")
    with any_database.read() as session:
        row = session.scalars(select(Person)).one()

    assert (made.sign_in_name, made.display_name, made.created_at) == ("jose.garcia", "José García", now)
    assert (made.is_site_administrator, made.must_change_password, made.deleted_at) == (False, False, None)
    assert made.id == row.id
    assert CHEAP_PASSWORDS.check(row.password_hash, "some long words") is Check.RIGHT


@pytest.mark.parametrize("again", ["kim.lee", "KIM.LEE", "Kím.Lée", " kim.lee "])
def test_a_name_that_somebody_has_is_refused_however_it_is_written(any_database, make_person, again):
    with any_database.write() as session:
        make_person(session, "kim.lee")
        with pytest.raises(InputError) as refused:
            make_person(session, again)
        count = len(session.scalars(select(Person)).all())

    assert refused.value.field == "sign_in_name"
    assert "Somebody here signs in as kim.lee already" in error_text(refused.value)
    assert count == 1


def test_the_example_beside_a_name_that_is_taken_can_be_used(any_database, make_person):
    with any_database.write() as session:
        make_person(session, "a" * 40)
        with pytest.raises(InputError) as refused:
            make_person(session, "a" * 40)

        assert make_person(session, refused.value.example)


@pytest.mark.parametrize(
    ("field", "typed"), [("sign_in_name", "k"), ("display_name", ""), ("password", "short"), ("password", "")]
)
def test_a_person_is_not_made_from_bad_input(any_database, make_person, field, typed):
    with any_database.write() as session:
        with pytest.raises(InputError) as refused:
            make_person(session, **{field: typed})
        nobody = session.scalars(select(Person)).all() == []

    assert refused.value.field == field
    assert nobody


def test_a_one_time_password_makes_a_person_who_must_change_it(any_database, make_person):
    with any_database.write() as session:
        assert make_person(session, password=one_time_password(), must_change_password=True).must_change_password


def test_a_person_is_found_by_any_spelling_of_the_name(any_database, make_person):
    with any_database.write() as session:
        made = make_person(session, "kim.lee")
    with any_database.read() as session:
        found = [person_named(session, typed) for typed in ("kim.lee", " Kim.Lee ", "KÍM.LEE")]
        missing = [person_named(session, typed) for typed in ("", "kim", "kim.lee\x00", "\ud800")]

    assert found == [made] * 3
    assert missing == [None] * 4


def test_a_person_may_be_called_otherwise(any_database, make_person, now):
    with any_database.write() as session:
        made = make_person(session)
        change_display_name(session, made.id, " Kim  Park ", now)
        with pytest.raises(InputError):
            change_display_name(session, made.id, " ", now)
    with any_database.read() as session:
        assert person_named(session, "kim.lee").display_name == "Kim Park"
        assert [line.what for line in lines_about(session, made.id)] == ["person.renamed", "person.created"]


def test_a_reset_is_noted_with_who_did_it_and_without_the_password(any_database, make_person, now):
    with any_database.write() as session:
        kim, ada = make_person(session), make_person(session, "ada", display_name="Ada")
        once = reset_password(session, kim.id, now, by_id=ada.id, passwords=CHEAP_PASSWORDS)
    with any_database.read() as session:
        line = lines_about(session, kim.id)[0]

    assert (line.what, line.actor, line.by_subject) == ("password.reset", "Ada", False)
    assert once not in str(line)


@pytest.fixture
def without_pat(place, now):
    """The place after Kim, who had not left, and Pat, who had, were deleted."""
    with place.database.write() as session:
        delete_person(session, place.person["kim"].id, now)
        delete_person(session, place.person["pat"].id, now)
    return place


def test_deleting_strips_the_identity_and_keeps_the_rows(without_pat, now):
    kim = without_pat.person["kim"]
    with without_pat.database.read() as session:
        row = session.get_one(Person, kim.id)
        problems = session.scalars(select(Problem).where(Problem.person_id == kim.id)).all()

    assert (row.sign_in_name, row.display_name, row.password_hash, row.deleted_at) == (None, DELETED_NAME, None, now)
    assert row.public_id == kim.public_id
    assert len(problems) == 4


def test_deleting_ends_memberships_and_sharing_and_leaves_ended_ones_as_they_were(without_pat, now):
    kim, pat = without_pat.person["kim"].id, without_pat.person["pat"].id
    with without_pat.database.read() as session:
        ends = {who: set(session.scalars(select(Membership.ended_at).filter_by(person_id=who))) for who in (kim, pat)}
        still = [shared_with(session, kim, group) for group in without_pat.group_id.values()]

    assert ends == {kim: {now}, pat: {now - timedelta(days=1)}}
    assert still == [frozenset()] * 3


def test_deleting_removes_the_sessions_with_their_devices(any_database, make_person, try_to_sign_in, now):
    with any_database.write() as session:
        kim, other = make_person(session), make_person(session, "other.name")
        try_to_sign_in(session)
        try_to_sign_in(session, "other.name")
        delete_person(session, kim.id, now)
    with any_database.read() as session:
        assert session.scalars(select(SignInSession.person_id)).all() == [other.id]


def test_the_name_of_a_deleted_person_is_free_again(any_database, make_person, now):
    with any_database.write() as session:
        first = make_person(session)
        delete_person(session, first.id, now)
        second = make_person(session)

    assert second.id != first.id


def test_deleting_twice_is_deleting_once(any_database, make_person, now):
    with any_database.write() as session:
        made = make_person(session)
        delete_person(session, made.id, now)
        delete_person(session, made.id, now + timedelta(days=1))
    with any_database.read() as session:
        assert session.get_one(Person, made.id).deleted_at == now
        assert [line.what for line in lines_about(session, made.id)] == ["person.deleted", "person.created"]


def test_the_last_administrator_stays(any_database, make_person, now):
    with any_database.write() as session:
        ada, bo = (make_person(session, name, is_site_administrator=True) for name in ("ada", "bob"))
        delete_person(session, ada.id, now)
        with pytest.raises(LastAdministratorError):
            delete_person(session, bo.id, now)

        assert person_named(session, "bob").is_site_administrator
