"""A state's year beside one class: schools, classes, people, and their answers, written in bulk by a fixed seed."""

from __future__ import annotations

import json
from datetime import timedelta
from itertools import chain, islice
from random import Random

from sqlalchemy import func, insert, select, text

from trainer.records import models

__all__ = ["add_state"]

EACH, CLASS, CLASSES_OF_SCHOOL = 250, 30, 16
NO_MISTAKES = "[]"
LINES, BATCH = 4, 10_000
YEAR = timedelta(days=365)


def add_state(database, library, *, people, now):
    """
    Add so many people with 250 answers each, four fifths of them practice and one fifth assigned work.

    Args:
        database: Migrated, with the pinned versions of at least one family; nobody writes to it meanwhile.
        library: The content.
        people: How many.
        now: Their year ends here.
    """
    with database.write() as session:
        versions = session.execute(select(models.ContentVersion.id, models.ContentVersion.content_id)).all()
        state = _State(session, library, versions, people, now)
        state.add_schools()
        state.add_people()
    for table, rows in state.bulk():
        _write(database, table, rows)
    if database.engine.dialect.name == "postgresql":
        with database.write() as session:
            for table in ("problem", "answer", "grading", "skill_state"):
                _count_on(session, table)
    with database.engine.connect().execution_options(isolation_level="AUTOCOMMIT") as connection:
        connection.exec_driver_sql("ANALYZE")


def _count_on(session, table):
    """Let PostgreSQL number the rows to come behind those that brought their numbers along."""
    session.execute(text(f"SELECT setval(pg_get_serial_sequence('{table}', 'id'), max(id)) FROM {table}"))  # noqa: S608 - our own names.


class _State:
    """The ids of what was there, and generators of the rows beside it."""

    def __init__(self, session, library, versions, people, now):
        self.session, self.people, self.now = session, people, now
        # The numbers of one problem of each family serve all: nobody of the measured class opens theirs.
        drawn = dict(session.execute(select(models.Problem.family_id, models.Problem.drawn)).all())
        self.families = [
            (version, family_id, library.families[family_id].skill, json.dumps(drawn[family_id]))
            for version, family_id in versions
        ]
        self.skills = [skill for skill in library.skills if library.asks(skill)]
        self.first = self._last(models.Person) + 1
        self.problem, self.answer = self._last(models.Problem) + 1, self._last(models.Answer) + 1
        self.grading, self.state = self._last(models.Grading) + 1, self._last(models.SkillState) + 1

    def _last(self, model):
        return self.session.scalar(select(func.coalesce(func.max(model.id), 0)))

    def add_schools(self):
        """Classes of thirty, sixteen to a school, each with a piece of work of a few lines."""
        began = self.now - YEAR
        classes = -(-self.people // CLASS)
        schools = -(-classes // CLASSES_OF_SCHOOL)
        given_by = self.session.scalars(select(models.AssignedWork.given_by_id).limit(1)).one()
        about = {"kind": "school", "time_zone": "America/Chicago", "created_at": began}
        organisations = self._added(models.Organisation, [{"name": f"School {nth}"} | about for nth in range(schools)])
        of_class = {"kind": "class", "created_at": began}
        self.groups = self._added(
            models.Group,
            [
                {"name": f"Class {nth}", "organisation_id": organisations[nth // CLASSES_OF_SCHOOL]} | of_class
                for nth in range(classes)
            ],
        )
        self.school_of = {key: organisations[nth // CLASSES_OF_SCHOOL] for nth, key in enumerate(self.groups)}
        work = {"given_by_id": given_by, "title": "Offsets", "edition": "2023", "created_at": began}
        works = self._added(
            models.AssignedWork, [{"group_id": key, "due_at": self.now + YEAR} | work for key in self.groups]
        )
        self.lines = self._added(
            models.AssignedFamily,
            [
                {
                    "assigned_work_id": key,
                    "position": nth + 1,
                    "content_version_id": self.families[nth % len(self.families)][0],
                }
                for key in works
                for nth in range(LINES)
            ],
        )

    def add_people(self):
        """People, their memberships, what they share, and a signed-in browser of each."""
        at, nth_of = self.now - YEAR, range(self.people)
        given = {"created_at": at, "answers_given": EACH, "problems_issued": EACH}
        self._many(
            models.Person,
            [
                {"id": self.first + nth, "sign_in_name": f"state-{nth}", "display_name": f"Person {nth}"} | given
                for nth in nth_of
            ],
        )
        of = [(self.first + nth, self.groups[nth // CLASS]) for nth in nth_of]
        learns = {"role": "learner", "started_at": at}
        self._many(
            models.Membership,
            [{"person_id": who, "group_id": key, "organisation_id": self.school_of[key]} | learns for who, key in of],
        )
        self._many(
            models.Share,
            [{"person_id": who, "group_id": key, "what": "assigned", "started_at": at} for who, key in of],
        )
        lives = {"created_at": self.now, "last_seen_at": self.now, "expires_at": self.now + YEAR}
        self._many(models.SignInSession, [{"person_id": who, "token_hash": f"state-{who}"} | lives for who, _ in of])
        if self.session.get_bind().dialect.name == "postgresql":
            _count_on(self.session, "person")

    def _added(self, model, rows):
        self._many(model, rows)
        return self.session.scalars(select(model.id).order_by(model.id.desc()).limit(len(rows))).all()[::-1]

    def _many(self, model, rows):
        for at in range(0, len(rows), BATCH):
            self.session.execute(insert(model), rows[at : at + BATCH])

    def bulk(self):
        """The large tables, each with its rows one after the other."""
        yield "problem", (self._problem(nth) for nth in range(self.people * EACH))
        yield "answer", (self._answer(nth) for nth in range(self.people * EACH))
        yield "grading", (self._grading(nth) for nth in range(self.people * EACH))
        yield "skill_state", chain.from_iterable(self._states(nth) for nth in range(self.people))

    def _at(self, nth):
        return self.now - YEAR + timedelta(minutes=2000 * (nth % EACH) + nth % 997)

    def _problem(self, nth):
        who = nth // EACH
        assigned = nth % 5 == 0
        place = nth // 5 % LINES
        version, family, skill, drawn = self.families[
            place % len(self.families) if assigned else nth % len(self.families)
        ]
        at = self._at(nth)
        return {
            "id": self.problem + nth, "public_id": f"s{nth:021}", "code": f"S{nth:010}", "person_id": self.first + who,
            "context": "assigned" if assigned else "practice",
            "assigned_family_id": self.lines[who // CLASS * LINES + place] if assigned else None,
            "content_version_id": version, "family_id": family, "skill": skill, "seed": nth, "edition": "2023", "basis": "",
            "drawn": drawn, "issued_at": at, "closed_at": at, "hints_shown": 0, "steps_shown": False,
        }  # fmt: skip

    def _answer(self, nth):
        return {
            "id": self.answer + nth, "problem_id": self.problem + nth, "person_id": self.first + nth // EACH,
            "answer_key": f"00000000-0000-4000-9000-{nth:012}", "sequence": 1 + nth % EACH, "attempt": 1, "typed": "20 in",
            "hints_seen": 0, "steps_seen": False, "answered_at": self._at(nth), "difficulty": 0.0, "chance_before": 0.7,
            "weight": 0.7, "start_level": 0.3, "days": 0.0, "lucky": 0.02, "constants_version": 1,
        }  # fmt: skip

    def _grading(self, nth):
        verdict = ("right", "right", "known-mistake", "right", "wrong")[nth % 5]
        return {
            "id": self.grading + nth, "answer_id": self.answer + nth, "sequence": 1, "verdict": verdict,
            "mistakes": NO_MISTAKES, "basis": "", "graded_at": self._at(nth),
        }  # fmt: skip

    def _states(self, nth):
        random = Random(nth)
        for place, skill in enumerate(self.skills):
            yield {
                "id": self.state + nth * len(self.skills) + place, "person_id": self.first + nth, "skill": skill,
                "level": random.uniform(-1, 3), "variance": 0.2, "holding_days": 40.0, "counted": 12, "last_at": self.now,
                "last_turn": 12, "recent_families": NO_MISTAKES,
            }  # fmt: skip


def _write(database, table, rows):
    """COPY on PostgreSQL, executemany in one transaction on SQLite."""
    first = next(rows)
    columns = ", ".join(first)
    values = (tuple(row.values()) for row in chain([first], rows))
    line = database.engine.raw_connection()
    try:
        if database.engine.dialect.name == "postgresql":
            with line.cursor() as cursor, cursor.copy(f"COPY {table} ({columns}) FROM STDIN") as copy:
                for row in values:
                    copy.write_row(row)
            line.commit()
            return
        line.execute("BEGIN IMMEDIATE")
        marks = ", ".join("?" * len(first))
        while batch := [_plain(row) for row in islice(values, BATCH)]:
            line.executemany(f"INSERT INTO {table} ({columns}) VALUES ({marks})", batch)  # noqa: S608 - our own names.
        line.execute("COMMIT")
    finally:
        line.close()


def _plain(row):
    """Moments as SQLite keeps them."""
    return [f"{one:%Y-%m-%d %H:%M:%S.%f}" if hasattr(one, "year") else one for one in row]
