"""The sample class: what there is to see, that it teaches nothing, and that it goes without a trace."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from sqlalchemy import func, select

from trainer.accounts.access import NotAllowedError, NotFoundError
from trainer.accounts.actor import actor_of_person
from trainer.accounts.many import FirstPasswords, NewPerson, make_people
from trainer.accounts.passwords import CHEAP_PASSWORDS
from trainer.accounts.people import create_person
from trainer.demo.sample_class import SAMPLE_NAME, make_sample_class, remove_sample_class
from trainer.groups.assigned import work_given_to
from trainer.groups.board import board
from trainer.groups.desk import desk
from trainer.groups.membership import make_group, open_joining
from trainer.groups.organisations import appoint, make_organisation
from trainer.groups.results import results
from trainer.library.shelf import Library
from trainer.problems.shelf import content_root
from trainer.records.invented import NotOnlyInventedError, remove_sample_rows
from trainer.records.models import Base, FamilyDifficulty, Group, Membership, Person

NOW = datetime(2026, 11, 28, 19, 0, tzinfo=UTC)


class School:
    """A school with an instructor, a class with a learner, and the way in."""

    def __init__(self, database, library):
        self.database, self.library = database, library
        with database.write() as session:
            for name in ("ada", "ines", "lena", "stranger"):
                more = {"display_name": name.title(), "password": "three words apart", "now": NOW}
                create_person(
                    session, sign_in_name=name, passwords=CHEAP_PASSWORDS, is_site_administrator=name == "ada", **more
                )
        with database.write() as session:
            ada = self.actor("ada", session)
            more = {"name": "Riverside", "kind": "school", "time_zone": "America/Chicago", "now": NOW}
            self.school = make_organisation(session, ada, **more)
            session.flush()
            appoint(session, ada, self.school, sign_in_name="ines", role="instructor", now=NOW)
            session.flush()
            self.class_ = make_group(session, self.actor("ines", session), self.school, name="Tuesday", now=NOW)

    def actor(self, name, session):
        return actor_of_person(session, session.scalars(select(Person.id).where(Person.sign_in_name == name)).one())

    def make(self, who="ines"):
        with self.database.write() as session:
            actor = self.actor(who, session)
            return make_sample_class(session, self.library, actor, self.school, edition="2023", now=NOW)

    def remove(self, group, who="ines"):
        with self.database.write() as session:
            remove_sample_class(session, self.actor(who, session), group)

    def rows(self):
        """How many rows each table has; versions of content stay, as they are nobody's."""
        with self.database.read() as session:
            return {
                table.name: session.scalar(select(func.count()).select_from(table))
                for table in Base.metadata.sorted_tables
                if table.name != "content_version"
            }


@pytest.fixture(scope="session")
def whole_library():
    return Library(content_root(None))


@pytest.fixture
def school(any_database, whole_library):
    return School(any_database, whole_library)


def test_there_is_a_class_with_results_to_look_at(school):
    made = school.make()

    with school.database.write() as session:
        ines = school.actor("ines", session)
        shown = next(one for one in desk(session, ines, NOW) if one.group == made)
        assert (shown.name, shown.people, shown.is_sample, shown.is_open) == (SAMPLE_NAME, 12, True, False)
        assert [work.begun for work in shown.due] == [7]
        people = board(session, school.library, ines, made, NOW).members
        assert all("(invented)" in one.display_name for one in people)
        works = work_given_to(session, ines, made)
        found = results(session, school.library, ines, works[1].work, NOW)
    assert [work.title for work in works] == ["Straps and wet places", "Offsets and stubs"]
    assert found.tally[0].people >= 5
    assert found.tally[0].of == 12
    assert len({person.display_name for person in found.people}) == 12


def test_it_teaches_the_families_nothing(school):
    school.make()

    with school.database.read() as session:
        assert session.scalar(select(func.count()).select_from(FamilyDifficulty)) == 0


def test_it_goes_without_a_trace(school):
    before = school.rows()
    made = school.make()
    with school.database.write() as session:
        # Whoever leads it looks at it, which is noted.
        ines = school.actor("ines", session)
        works = work_given_to(session, ines, made)
        results(session, school.library, ines, works[0].work, NOW)
    assert school.rows() != before

    school.remove(made)

    assert school.rows() == before


def test_two_can_stand_side_by_side_and_only_one_goes(school):
    first, second = school.make(), school.make()
    school.remove(first)

    with school.database.read() as session:
        left = session.scalars(select(Group.public_id).where(Group.is_sample)).all()
        people = session.scalar(select(func.count()).select_from(Person).where(Person.is_invented))
    assert (left, people) == ([second], 12)


def test_nobody_joins_it_and_no_real_class_is_removed(school):
    made = school.make()
    with school.database.write() as session, pytest.raises(NotAllowedError):
        open_joining(session, school.actor("ines", session), made, NOW)
    with pytest.raises(NotAllowedError):
        school.remove(school.class_)
    with pytest.raises(NotFoundError):
        school.remove(made, who="stranger")
    with pytest.raises(NotFoundError):
        school.make(who="stranger")


def test_a_real_person_in_it_keeps_all_of_it_from_being_removed(school):
    made, before = school.make(), None
    with school.database.write() as session:
        group = session.scalars(select(Group).where(Group.public_id == made)).one()
        real = session.scalars(select(Person).where(Person.sign_in_name == "lena")).one()
        more = {"organisation_id": group.organisation_id, "group_id": group.id, "role": "learner"}
        session.add(Membership(person_id=real.id, started_at=NOW, ended_at=NOW + timedelta(days=1), **more))
        key = group.id
    before = school.rows()

    with school.database.write() as session, pytest.raises(NotOnlyInventedError):
        remove_sample_rows(session, key)
    assert school.rows() == before


def test_invented_people_of_another_class_stay(school):
    made = school.make()
    with school.database.write() as session:
        wanted = [NewPerson("somebody.else", "Somebody (invented)", is_invented=True)]
        make_people(session, wanted, FirstPasswords(0, CHEAP_PASSWORDS), NOW)
    school.remove(made)

    with school.database.read() as session:
        assert session.scalars(select(Person.sign_in_name).where(Person.is_invented)).all() == ["somebody.else"]
