"""What a person shares with a group, from joining to leaving."""

from __future__ import annotations

import pytest
from sqlalchemy import select

from trainer.accounts.audit import lines_about
from trainer.accounts.sharing import STARTS_WITH, Shared, end_sharing, set_shared, shared_with, start_sharing
from trainer.calc.message import Message
from trainer.records.models import Group, Share
from trainer.text.words import say


@pytest.fixture
def kim(place):
    return place.person["kim"].id


def shared(place, person_id, group):
    with place.database.read() as session:
        return shared_with(session, person_id, place.group_id[group])


def test_a_class_starts_with_assigned_work_and_a_crew_with_readiness_too(place, kim):
    assert shared(place, kim, "tuesday") == {Shared.ASSIGNED}
    assert shared(place, kim, "crew") == {Shared.ASSIGNED, Shared.READINESS}
    assert shared(place, kim, "friday") == set()


def test_every_kind_of_group_has_its_start(place):
    with place.database.read() as session:
        assert set(session.scalars(select(Group.kind))) == set(STARTS_WITH)


@pytest.mark.parametrize("what", [Shared.READINESS, Shared.PRACTICE])
def test_a_part_is_opened_and_closed_and_each_is_noted(place, kim, now, what):
    group = place.group_id["tuesday"]
    with place.database.write() as session:
        for wanted in (True, True, False, False, True):
            set_shared(session, kim, group, what, now, shared=wanted)
    with place.database.read() as session:
        lines = [line for line in lines_about(session, kim) if line.what.startswith("share.")]
        rows = session.scalars(select(Share).filter_by(person_id=kim, group_id=group, what=what.value)).all()

    assert shared(place, kim, "tuesday") == {Shared.ASSIGNED, what}
    assert [row.ended_at for row in rows] == [now, None]
    assert [line.what for line in lines][::-1] == ["share.opened", "share.closed", "share.opened"]
    assert {(line.group, line.detail["what"], line.by_subject) for line in lines} == {("tuesday", what.value, True)}


def test_assigned_work_is_shared_for_as_long_as_one_belongs_to_the_group(place, kim, now):
    with place.database.write() as session, pytest.raises(ValueError, match="leaving the group ends it"):
        set_shared(session, kim, place.group_id["tuesday"], Shared.ASSIGNED, now, shared=False)

    assert shared(place, kim, "tuesday") == {Shared.ASSIGNED}


def test_leaving_one_group_closes_everything_towards_it_and_nothing_towards_others(place, kim, now):
    with place.database.write() as session:
        set_shared(session, kim, place.group_id["tuesday"], Shared.PRACTICE, now, shared=True)
        end_sharing(session, kim, place.group_id["tuesday"], now)

    assert shared(place, kim, "tuesday") == set()
    assert shared(place, kim, "crew") == {Shared.ASSIGNED, Shared.READINESS}


def test_coming_back_starts_as_at_first(place, kim, now):
    with place.database.write() as session:
        set_shared(session, kim, place.group_id["tuesday"], Shared.PRACTICE, now, shared=True)
        end_sharing(session, kim, place.group_id["tuesday"], now)
        start_sharing(session, kim, place.group_id["tuesday"], "class", now)

    assert shared(place, kim, "tuesday") == {Shared.ASSIGNED}


def test_what_is_noted_has_words(place, kim, now):
    with place.database.write() as session:
        set_shared(session, kim, place.group_id["tuesday"], Shared.PRACTICE, now, shared=True)
    with place.database.read() as session:
        lines = lines_about(session, kim)

    assert [say(Message(f"audit.{line.what}", {"group": line.group or ""})) for line in lines] == [
        "A part of your record was opened to tuesday.",
        "Your account was made.",
    ]
