"""
A person's log: hours on the job by work process, hours of related instruction, weeks without an entry, and all as CSV.

What of it counts toward a registered program (29 CFR part 29) its sponsor decides, not this program.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence
from datetime import date, datetime, timedelta

from msgspec import Struct
from sqlalchemy.orm import Session

from trainer.accounts.actor import Actor
from trainer.groups.attendance import Attended, days_attended
from trainer.groups.hours import Hours, own_hours
from trainer.groups.processes import Process, processes_of
from trainer.groups.quarters import write_hours
from trainer.library.shelf import Library
from trainer.progress.lessons import lessons_read
from trainer.text.separated import unarmed

__all__ = [
    "OWN_TOTAL_COLUMNS",
    "TOTAL_COLUMNS",
    "HoursLog",
    "LessonRead",
    "ProcessTotal",
    "ShopTotals",
    "as_csv",
    "hours_log",
    "log_csv",
    "own_total_rows",
    "total_rows",
    "totals",
    "weeks_without",
]

TOTAL_COLUMNS = ("Name", "Work process", "Confirmed", "Waiting", "Sent back", "Asked for", "Missing")
#: Of one's own totals: two shops may have processes of one name, which are not one process.
OWN_TOTAL_COLUMNS = ("Name", "Shop", *TOTAL_COLUMNS[1:])
COLUMNS = ("kind", "day", "person", "crew or class", "what", "hours", "state", "by", "note")


class ProcessTotal(Struct, frozen=True):
    """
    Quarters of an hour on one work process, by what became of them.

    Args:
        title: The process in words.
        confirmed: Quarters that count.
        waiting: Quarters that nobody has looked at.
        sent_back: Quarters that were sent back.
        required: Quarters that the program asks for; None where it asks for no number.
    """

    title: str
    confirmed: int
    waiting: int
    sent_back: int
    required: int | None = None

    @property
    def missing(self) -> int | None:
        """Quarters that are still to be worked and confirmed; None where no number is asked for."""
        return None if self.required is None else max(0, self.required - self.confirmed)


class ShopTotals(Struct, frozen=True):
    """Hours on the job in one shop or school by its work processes: those with hours, and those that ask for some."""

    organisation: str
    lines: tuple[ProcessTotal, ...]


class LessonRead(Struct, frozen=True):
    """A lesson that was read, when last, and the minutes that it takes; counted once."""

    title: str
    read_on: date
    minutes: int


class HoursLog(Struct, frozen=True):
    """
    A person's log.

    Args:
        entries: Hours on the job, the newest day first.
        shops: The same by shop and work process.
        attended: Days of class.
        lessons: Lessons read.
        gaps: Mondays of weeks without an entry, since the first one, this week left out; the newest first.
    """

    entries: tuple[Hours, ...]
    shops: tuple[ShopTotals, ...]
    attended: tuple[Attended, ...]
    lessons: tuple[LessonRead, ...]
    gaps: tuple[date, ...]

    @property
    def confirmed(self) -> int:
        """Quarters of an hour on the job that are confirmed."""
        return sum(line.confirmed for shop in self.shops for line in shop.lines)

    @property
    def in_class(self) -> int:
        """Quarters of an hour in class."""
        return sum(one.quarters for one in self.attended)

    @property
    def minutes_read(self) -> int:
        """Minutes of the lessons read, each once."""
        return sum(one.minutes for one in self.lessons)


def hours_log(session: Session, library: Library, actor: Actor, now: datetime) -> HoursLog:
    """The log of the one who asks."""
    entries = own_hours(session, actor)
    read = lessons_read(session, actor.person_id)
    lessons = [
        LessonRead(head.title, at.astimezone(actor.zone).date(), head.minutes)
        for lesson, at in read.items()
        if (head := library.lesson_heads.get(lesson))
    ]
    return HoursLog(
        entries,
        _shops(session, actor, entries),
        days_attended(session, actor.person_id),
        tuple(sorted(lessons, key=lambda one: (one.read_on, one.title), reverse=True)),
        weeks_without([one.day for one in entries], now.astimezone(actor.zone).date()),
    )


def totals(entries: Sequence[Hours], listed: Sequence[Process]) -> tuple[ProcessTotal, ...]:
    """
    Hours by work process, in the order of the list.

    Args:
        entries: Of one person in one organisation.
        listed: The organisation's list. A process without hours stands there only while it is open and asks for some.
    """
    known = {one.key for one in listed}
    left = {one.process: Process(one.process, one.process_title) for one in entries if one.process not in known}
    found = []
    for process in (*listed, *left.values()):
        own = [one for one in entries if one.process == process.key]
        if own or (process.required_hours and not process.is_closed):
            confirmed, waiting, sent_back = (
                sum(one.quarters for one in own if one.decision == state) for state in ("confirmed", "", "sent-back")
            )
            required = None if process.required_hours is None else 4 * process.required_hours
            found.append(ProcessTotal(process.title, confirmed, waiting, sent_back, required))
    return tuple(found)


def total_rows(person: str, lines: Iterable[ProcessTotal]) -> list[tuple[str | float | None, ...]]:
    """Totals of a person for a spreadsheet, in hours; the columns are `TOTAL_COLUMNS`."""
    return [
        (
            person,
            one.title,
            one.confirmed / 4,
            one.waiting / 4,
            one.sent_back / 4,
            _hours(one.required),
            _hours(one.missing),
        )
        for one in lines
    ]


def own_total_rows(person: str, shops: Iterable[ShopTotals]) -> list[tuple[str | float | None, ...]]:
    """One's own totals for a spreadsheet, shop by shop; the columns are `OWN_TOTAL_COLUMNS`."""
    return [(name, shop.organisation, *rest) for shop in shops for name, *rest in total_rows(person, shop.lines)]


def _hours(quarters: int | None) -> float | None:
    return None if quarters is None else quarters / 4


def _shops(session: Session, actor: Actor, entries: Sequence[Hours]) -> tuple[ShopTotals, ...]:
    """By shop: of the crews that the person works in, in their order, then of those that were left."""
    names = {one.organisation_id: one.organisation_name for one in actor.learns_in if one.group_kind == "crew"}
    names |= {one.organisation_id: one.organisation for one in entries}
    listed = processes_of(session, names.keys())
    found = (
        ShopTotals(name, totals([one for one in entries if one.organisation_id == shop], listed[shop]))
        for shop, name in names.items()
    )
    return tuple(one for one in found if one.lines)


def weeks_without(days: Iterable[date], today: date) -> tuple[date, ...]:
    """
    Mondays of the weeks without an entry between the first one and this week, the newest first.

    >>> weeks_without([date(2026, 9, 1), date(2026, 9, 16)], date(2026, 9, 30))
    (datetime.date(2026, 9, 21), datetime.date(2026, 9, 7))
    """
    entered = {_monday(day) for day in days}
    if not entered:
        return ()
    weeks = (_monday(today) - min(entered)).days // 7
    between = [min(entered) + timedelta(weeks=week) for week in range(weeks)]
    return tuple(week for week in reversed(between) if week not in entered)


def log_csv(log: HoursLog, person: str) -> str:
    """A person's whole log as CSV, for a spreadsheet or a program's sponsor."""
    rows: list[tuple[str, ...]] = [_of_job(one) for one in log.entries]
    rows += [
        ("class", f"{one.day}", person, one.group, one.topic, write_hours(one.quarters), "noted", one.noted_by, "")
        for one in log.attended
    ]
    rows += [
        ("lesson", f"{one.read_on}", person, "", one.title, f"{one.minutes / 60:.2f}", "read", "", "")
        for one in log.lessons
    ]
    return as_csv(rows)


def as_csv(rows: Iterable[Sequence[str]] | Iterable[Hours]) -> str:
    """
    Rows of the log, or entries of a crew, under their headings; no cell that a spreadsheet would take for a formula.

    >>> as_csv([("job", "2026-09-01", "Kim", "Crew", "Bending", "5.5", "confirmed", "Lee", "=1+1")]).splitlines()[1]
    "job,2026-09-01,Kim,Crew,Bending,5.5,confirmed,Lee,'=1+1"
    """
    written = io.StringIO()
    writer = csv.writer(written)
    writer.writerow(COLUMNS)
    for row in rows:
        writer.writerow([unarmed(cell) for cell in (_of_job(row) if isinstance(row, Hours) else row)])
    return written.getvalue()


def _of_job(one: Hours) -> tuple[str, ...]:
    note = "; ".join(filter(None, (one.note, one.reason)))
    hours, state = write_hours(one.quarters), one.decision or "waiting"
    return ("job", f"{one.day}", one.person, one.group, one.process_title, hours, state, one.decided_by, note)


def _monday(day: date) -> date:
    return day - timedelta(days=day.weekday())
