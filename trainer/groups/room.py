"""
Work in the room while its leader stands in it: opened, ended, and what comes in.

The tally of mistakes leads, with what to say about each. Names are on the leader's own screen only.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Mapping, Sequence
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from msgspec import Struct
from sqlalchemy import select, update
from sqlalchemy.orm import Session

from trainer.accounts.access import NotAllowedError, WorkRef, assigned_work_led_by
from trainer.accounts.actor import Actor
from trainer.accounts.audit import note
from trainer.calc.message import Message
from trainer.groups.assigned import END_OF_DAY, read_due
from trainer.groups.lines import WorkLine, lines_of
from trainer.groups.looks import looks_due
from trainer.groups.results import LOOKED
from trainer.groups.room_help import Helped, helped
from trainer.groups.said import said_about
from trainer.groups.tally import TallyLine, learners_of, tally
from trainer.groups.tries import Given, Tried, tries_at
from trainer.library.shelf import Library
from trainer.problems.model import VerdictKind
from trainer.records.joins import problems_of_lines
from trainer.records.models import Answer, AssignedFamily, AssignedWork, Problem

__all__ = ["Room", "RoomLine", "RoomSlip", "end_room", "open_room", "room"]

MOST_SLIPS = 6
LAST_MINUTE = timedelta(minutes=1)


class RoomSlip(Struct, frozen=True):
    """
    A known mistake that comes up.

    Args:
        line: How many made it, in a sentence.
        say_html: What there is to say about it, in one learner's numbers.
        lesson: Id of the lesson to open; "" for none.
    """

    line: TallyLine
    say_html: str
    lesson: str


class RoomLine(Struct, frozen=True):
    """One question, how many have answered it, how many of them rightly, and whether all who learn in the group have."""

    position: int
    title: str
    answered: int
    right: int
    by_all: bool


class Room(Struct, frozen=True):
    """
    What comes in.

    Args:
        work: The work.
        state: "waiting" until it is opened, "open", or "ended".
        people: How many learn in the group.
        begun: How many of them have answered something.
        done: How many have answered all.
        answers: Answers so far that count.
        slips: Known mistakes, the most frequent first.
        wall: Those of them that may stand on the wall: while it is open, of questions that all have answered.
        lines: Question by question.
        helped: Whom to go to first.
        not_begun: Names of those who have answered nothing yet.
        look_is_due: Whether it has still to be noted that the leader looked at names.
        learners: Ids of those whose names are shown.
    """

    work: WorkRef
    state: str
    people: int
    begun: int
    done: int
    answers: int
    slips: tuple[RoomSlip, ...]
    wall: tuple[TallyLine, ...]
    lines: tuple[RoomLine, ...]
    helped: tuple[Helped, ...]
    not_begun: tuple[str, ...]
    look_is_due: bool
    learners: tuple[int, ...]


def open_room(session: Session, actor: Actor, work_public_id: str, now: datetime) -> None:
    """
    Open work in the room, until the end of this day, whatever day was planned. A second call changes nothing.

    Ended before, it goes on, unless somebody has answered since: that was told to be practice.

    Raises:
        NotFoundError: When the work is not his to know of.
        NotAllowedError: When he does not lead its group, the work is of another kind or was taken back, or was ended and
            gone on with as practice.
    """
    work = _of_the_room(session, actor, work_public_id)
    if work.opened_at is not None:
        if now < work.due_at:
            return
        if _answered_since(session, work):
            raise NotAllowedError(Message("work.went-on-as-practice", {"title": work.title}))
    zone = ZoneInfo(work.group.organisation.time_zone)
    # In the last minute of a day, whose end is past already, it is the next one.
    today: date = (now + LAST_MINUTE).astimezone(zone).date()
    until = read_due(today, END_OF_DAY, zone, now)
    _change(session, actor, work, now, what="work.opened", opened_at=work.opened_at or now, due_at=until)


def end_room(session: Session, actor: Actor, work_public_id: str, now: datetime) -> None:
    """
    End work in the room: answers count no more, key and steps are shown. A second call changes nothing.

    Raises:
        NotFoundError: When the work is not his to know of.
        NotAllowedError: When he does not lead its group, or the work is of another kind or was taken back.
    """
    work = _of_the_room(session, actor, work_public_id)
    if work.opened_at is None or work.due_at <= now:
        return
    _change(session, actor, work, now, what="work.ended", due_at=now)


def room(session: Session, library: Library, actor: Actor, work_public_id: str, now: datetime) -> Room:
    """
    What comes in, for who leads the group. Six queries, however many answer.

    Args:
        session: Any session; nothing is written.
        library: The content.
        actor: Who asks.
        work_public_id: The work.
        now: This moment.

    Raises:
        NotFoundError: When the work is not his to know of.
        NotAllowedError: When he does not lead its group, or the work is not done in the room.
    """
    work = _of_the_room(session, actor, work_public_id)
    lines = lines_of(session, library, [work.id]).get(work.id, [])
    members = [one for one in learners_of(session, work.group.id, set()) if one.is_member]
    here = {one.id for one in members}
    # Who has left is in the room no more, and in the results still.
    tries = [one for one in tries_at(session, [work.id]) if one.person_id in here]
    firsts = _firsts(tries, work.due_at)
    answered = Counter(person for person, _ in firsts)
    state = "waiting" if work.opened_at is None else "open" if now < work.due_at else "ended"
    rows = tuple(_line(line, firsts, here) for line in lines)
    every_slip = tally(lines, tries, work.due_at)
    return Room(
        work=work,
        state=state,
        people=len(members),
        begun=sum(bool(answered[one.id]) for one in members),
        done=sum(answered[one.id] == len(lines) for one in members),
        answers=len(firsts),
        slips=tuple(_slips(session, library, lines, tries, every_slip[:MOST_SLIPS])),
        wall=_for_the_wall(lines, rows, every_slip, state)[:MOST_SLIPS],
        lines=rows,
        helped=tuple(helped(members, lines, firsts, _begun(work, tries) if state == "open" else (), now)),
        not_begun=tuple(one.display_name for one in members if not answered[one.id]),
        look_is_due=looks_due(session, actor, work.group.id, here, what=LOOKED, now=now),
        learners=tuple(here),
    )


def _answered_since(session: Session, work: WorkRef) -> bool:
    """Whether anybody has answered a question of the work after its end."""
    query = (
        select(Answer.id)
        .join(Problem, Problem.id == Answer.problem_id)
        .join(AssignedFamily, problems_of_lines())
        .where(AssignedFamily.assigned_work_id == work.id, Answer.answered_at > work.due_at)
    )
    return session.scalar(query.limit(1)) is not None


def _of_the_room(session: Session, actor: Actor, work_public_id: str) -> WorkRef:
    work = assigned_work_led_by(session, actor, work_public_id)
    if work.kind != "room" or work.withdrawn_at is not None:
        raise NotAllowedError(Message("work.not-in-the-room", {"title": work.title}))
    return work


def _change(session: Session, actor: Actor, work: WorkRef, now: datetime, *, what: str, **values: datetime) -> None:
    session.execute(update(AssignedWork).where(AssignedWork.id == work.id).values(**values))
    note(session, what=what, now=now, actor_id=actor.person_id, group_id=work.group.id)


def _firsts(tries: Iterable[Tried], due_at: datetime) -> dict[tuple[int, int], Given]:
    """The answer that counts of each person and line."""
    in_time = ((one, one.in_time(due_at)) for one in tries)
    return {(one.person_id, one.position): answers[0] for one, answers in in_time if answers}


def _begun(work: WorkRef, tries: Iterable[Tried]) -> list[Tried]:
    """What was opened since the room was; what is issued earlier stands on a printed sheet."""
    return [one for one in tries if one.issued_at and work.opened_at and one.issued_at >= work.opened_at]


def _line(line: WorkLine, firsts: Mapping[tuple[int, int], Given], here: Collection[int]) -> RoomLine:
    given = [one for (_, position), one in firsts.items() if position == line.position]
    right = sum(one.verdict == VerdictKind.RIGHT for one in given)
    by_all = all((person, line.position) in firsts for person in here)
    return RoomLine(line.position, line.family.title, len(given), right, by_all)


def _for_the_wall(
    lines: list[WorkLine], rows: Sequence[RoomLine], slips: tuple[TallyLine, ...], state: str
) -> tuple[TallyLine, ...]:
    """The slips that give nothing away to those who are still at the question."""
    if state != "open":
        return slips
    asked = {line.family.id for line, row in zip(lines, rows, strict=True) if not row.by_all}
    return tuple(slip for slip in slips if slip.family_id not in asked)


def _slips(
    session: Session, library: Library, lines: list[WorkLine], tries: list[Tried], most: Sequence[TallyLine]
) -> Iterable[RoomSlip]:
    """The mistakes that come up most, each with what the program tells one of those who made it."""
    families = {line.family.id: line.family for line in lines}
    family_at = {line.position: line.family.id for line in lines}
    made: dict[tuple[str, str], Tried] = {}
    for one in tries:
        for mistake in one.answers[0].mistakes if one.answers else ():
            made.setdefault((family_at[one.position], mistake), one)
    shown = [(line, made[line.family_id, line.mistake]) for line in most]
    said = said_about(session, library, {(one.problem, line.mistake): one.answers[0].value for line, one in shown})
    for line, one in shown:
        lesson = families[line.family_id].lesson
        words = said.get((one.problem, line.mistake), "")
        yield RoomSlip(line, words, lesson if lesson in library.lessons else "")
