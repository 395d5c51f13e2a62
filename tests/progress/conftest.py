"""A person at practice on a small content, with a clock that the test moves."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path
from uuid import uuid4

import pytest

from trainer.calc.length import write_length
from trainer.library.shelf import Library
from trainer.problems.model import AnswerKind
from trainer.progress import practice
from trainer.progress.sitting import sit_down
from trainer.records.models import Person

CONTENT = Path(__file__).parents[1] / "library" / "content"
MONDAY = datetime(2026, 9, 7, 17, 0, tzinfo=UTC)


class Desk:
    """One person, one database, one library, and what the person does there; each step is one transaction."""

    def __init__(self, database, library, name="pat"):
        self.database = database
        self.library = library
        self.now = MONDAY
        with database.write() as session:
            person = Person(sign_in_name=name, public_id=f"public-{name}", display_name=name.title(), created_at=MONDAY)
            session.add(person)
            session.flush()
            self.person_id = person.id

    def after(self, **time):
        self.now += timedelta(**time)
        return self

    def issue(self, **wanted):
        with self.database.write() as session:
            return practice.issue(session, self.library, self.person_id, now=self.now, edition="2023", **wanted)

    def problem(self, public_id):
        with self.database.read() as session:
            return sit_down(session, self.library, self.person_id, public_id).problem

    def show(self, public_id):
        with self.database.read() as session:
            return practice.show(session, self.library, self.person_id, public_id)

    def answer(self, public_id, typed, key=None):
        with self.database.write() as session:
            who, key = self.person_id, key or str(uuid4())
            return practice.answer(session, self.library, who, public_id, typed, answer_key=key, now=self.now)

    def right(self, public_id):
        """What the person types for an accepted answer."""
        return typed(self.problem(public_id), self.problem(public_id).keys[0].value)

    def wrong(self, public_id, mistake):
        """What the person types who makes a known mistake."""
        problem = self.problem(public_id)
        return typed(problem, next(route.value for route in problem.mistakes if route.id == mistake))

    def hint(self, public_id, nth=None):
        with self.database.write() as session:
            return practice.hint(session, self.library, self.person_id, public_id, nth, now=self.now)

    def show_steps(self, public_id):
        with self.database.write() as session:
            return practice.show_steps(session, self.library, self.person_id, public_id, self.now)

    def give_up(self, public_id):
        with self.database.write() as session:
            return practice.give_up(session, self.library, self.person_id, public_id, self.now)

    def practise(self, *answers, **wanted):
        """Issue and answer: "right", or the id of a known mistake; gives back the last problem."""
        for given in answers:
            public_id = self.issue(**wanted)
            self.answer(public_id, self.right(public_id) if given == "right" else self.wrong(public_id, given))
            if given != "right":
                self.give_up(public_id)
        return public_id

    def rows(self, table):
        with self.database.read() as session:
            return session.query(table).filter_by(person_id=self.person_id).order_by(table.id).all()


def typed(problem, value):
    if problem.kind is AnswerKind.LENGTH:
        return write_length(value)
    if problem.kind is AnswerKind.CHOICES:
        return list(value)
    return str(int(value)) if problem.kind is AnswerKind.COUNT else str(value)


@pytest.fixture(scope="session")
def library():
    return Library(CONTENT)


@pytest.fixture
def desk(database, library):
    return Desk(database, library)


@pytest.fixture
def any_desk(any_database, library):
    return Desk(any_database, library)


@pytest.fixture
def another_desk(database, library):
    """A second person on the same database."""
    return Desk(database, library, "sam")
