from __future__ import annotations

from datetime import UTC, date, datetime, time

import pytest
from sqlalchemy import func, select

from trainer.accounts.access import NotAllowedError, NotFoundError
from trainer.calc.message import InputError
from trainer.groups.assigned import FamilyCount, assign, withdraw, work_given_to
from trainer.records.models import AssignedFamily, AssignedWork, ContentVersion


def test_families_with_counts_become_lines_pinned_to_their_version(any_town):
    town = any_town
    town.assign(("offset-spacing", 2), "straps-run")
    query = (
        select(AssignedFamily.position, ContentVersion.content_id, ContentVersion.rules_hash)
        .join(ContentVersion, ContentVersion.id == AssignedFamily.content_version_id)
        .order_by(AssignedFamily.position)
    )
    with town.database.read() as session:
        lines = session.execute(query).all()

    assert [(position, family) for position, family, _ in lines] == [
        (1, "offset-spacing"),
        (2, "offset-spacing"),
        (3, "straps-run"),
    ]
    assert lines[0].rules_hash == town.library.families["offset-spacing"].rules_hash


def test_the_due_date_is_a_day_where_the_school_is(town):
    """The eleventh of September ends in Chicago five hours after it ends in Greenwich."""
    town.assign("straps-run", due_in=4)
    with town.database.read() as session:
        due_at = session.scalars(select(AssignedWork.due_at)).one()

    assert due_at == datetime(2026, 9, 12, 4, 59, tzinfo=UTC)


def test_it_may_be_due_at_a_time_of_the_same_day(town):
    asked = {"title": "Now", "families": [FamilyCount("straps-run")], "edition": "2023", "now": town.now}
    town.with_library("ines", assign, town.class_, **asked, due_on=date(2026, 9, 7), due_time=time(12, 30), kind="room")
    given = town.do("ines", work_given_to, town.class_)[0]

    assert given.due_at == datetime(2026, 9, 7, 17, 30, tzinfo=UTC)
    assert (given.kind, given.lines, given.withdrawn) == ("room", 1, False)


@pytest.mark.parametrize(
    ("field", "more"),
    [
        ("title", {"title": " "}),
        ("families", {"families": []}),
        ("families", {"families": [FamilyCount("no-such")]}),
        ("families", {"families": [FamilyCount("straps-run", 0)]}),
        ("families", {"families": [FamilyCount("straps-run", 11)]}),
        ("families", {"families": [FamilyCount("straps-run", 10)] * 7}),
        ("due_on", {"due_on": date(2026, 9, 6)}),
        ("due_on", {"due_on": date(9999, 12, 31)}),
        ("due_on", {"due_on": date.min}),
        ("kind", {"kind": "paper-plane"}),
    ],
)
def test_what_cannot_be_given_is_said_with_its_field(town, field, more):
    asked = {"title": "Work", "families": [FamilyCount("straps-run")], "due_on": date(2026, 9, 9)} | more
    with pytest.raises(InputError) as raised:
        town.with_library("ines", assign, town.class_, **asked, edition="2023", now=town.now)

    assert raised.value.field == field
    with town.database.read() as session:
        assert not session.scalars(select(AssignedWork)).all()


def test_the_key_of_a_form_gives_the_work_once_and_belongs_to_who_gives(town):
    asked = {"title": "Work", "families": [FamilyCount("straps-run")], "due_on": date(2026, 9, 9)}
    more = asked | {"edition": "2023", "now": town.now, "form_key": "0d3c3e83-6f0c-4bb2-8b6c-5f5a2d8a9a10"}
    first = town.with_library("ines", assign, town.class_, **more)

    assert town.with_library("ines", assign, town.class_, **more) == first
    assert town.with_library("fred", assign, town.crew, **more) != first
    assert town.with_library("ines", assign, town.class_, **more | {"form_key": ""}) != first
    with town.database.read() as session:
        assert session.scalars(select(func.count(AssignedWork.id))).one() == 3


def test_only_who_leads_the_group_gives_work_to_it(town):
    town.join(town.class_, "lena")
    with pytest.raises(NotAllowedError):
        town.assign("straps-run", who="lena")
    for name in ("fred", "ada", "stranger"):
        with pytest.raises(NotFoundError):
            town.assign("straps-run", who=name)


def test_the_list_has_the_latest_due_date_first_and_says_what_was_withdrawn(town):
    soon = town.assign("straps-run", title="Soon", due_in=1)
    town.assign("straps-run", title="Later", due_in=9)
    for _ in range(2):
        town.do("ines", withdraw, soon, town.now)
    given = town.do("ines", work_given_to, town.class_)

    assert [(work.title, work.withdrawn) for work in given] == [("Later", False), ("Soon", True)]


def test_another_leader_withdraws_nothing(town):
    work = town.assign("straps-run")
    with pytest.raises(NotFoundError):
        town.do("fred", withdraw, work, town.now)
