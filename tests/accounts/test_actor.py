"""The person behind a session, with the memberships that are open."""

from __future__ import annotations

from datetime import timedelta

import pytest
from msgspec.structs import replace
from sqlalchemy import event
from sqlalchemy.exc import NoResultFound

from trainer.accounts.actor import actor_for, actor_of_person
from trainer.accounts.people import delete_person


def names(memberships):
    return [(one.role, one.organisation_name, one.group_name) for one in memberships]


def test_a_learner_learns_in_groups(place):
    kim = place.actor("kim")

    assert names(kim.learns_in) == [
        ("learner", "Riverside Evening School", "tuesday"),
        ("learner", "Northgate Electric", "crew"),
    ]
    assert kim.leads == kim.owns == kim.may_make_groups_in == ()


def test_an_instructor_leads_a_class_and_may_make_another(place):
    ines = place.actor("ines")

    assert names(ines.leads) == [("instructor", "Riverside Evening School", "tuesday")]
    assert names(ines.may_make_groups_in) == [("instructor", "Riverside Evening School", None)]
    assert ines.owns == ines.learns_in == ()


def test_an_owner_owns_the_shop(place):
    assert names(place.actor("olga").owns) == [("owner", "Northgate Electric", None)]


@pytest.mark.parametrize("name", ["ada", "sam", "pat", "inka"])
def test_administrators_strangers_and_former_members_belong_to_nothing(place, name):
    assert place.actor(name).memberships == ()


def test_only_the_administrator_looks_after_the_site(place):
    assert [name for name in place.person if place.actor(name).is_site_administrator] == ["ada"]


def test_a_token_leads_to_its_person_in_one_statement(place, try_to_sign_in, now):
    with place.database.write() as session:
        token = try_to_sign_in(session, "kim").token
    sent = []

    def count(_connection, _cursor, statement, *_rest):
        sent.append(statement)

    with place.database.read() as session:
        session.connection()
        event.listen(place.database.engine, "before_cursor_execute", count)
        actor = actor_for(session, token, now)
        event.remove(place.database.engine, "before_cursor_execute", count)

    assert actor == replace(place.actor("kim"), proved_at=now)
    assert len(sent) == 1


def test_a_token_of_someone_deleted_leads_nowhere(place, try_to_sign_in, now):
    with place.database.write() as session:
        token = try_to_sign_in(session, "kim").token
        delete_person(session, place.person["kim"].id, now)
    with place.database.read() as session:
        assert actor_for(session, token, now + timedelta(seconds=1)) is None
        with pytest.raises(NoResultFound):
            actor_of_person(session, place.person["kim"].id)
