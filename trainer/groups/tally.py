"""Who is counted in assigned work, and how many of them made which known mistake at the first try."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from msgspec import Struct
from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.calc.message import Message
from trainer.groups.lines import WorkLine
from trainer.groups.tries import Tried
from trainer.problems.parts import Family
from trainer.progress.called import called, did
from trainer.records.models import Membership, Person

__all__ = ["Learner", "TallyLine", "learners_of", "tally", "tally_words"]


class Learner(Struct, frozen=True):
    """Someone who learns or learned in the group."""

    id: int
    public_id: str
    display_name: str
    is_member: bool


class TallyLine(Struct, frozen=True):
    """How many of those who answered a family's problems made a known mistake; `words` says it in a sentence."""

    family_id: str
    title: str
    mistake: str
    people: int
    of: int
    words: Message


def learners_of(session: Session, group_id: int, tried: set[int]) -> list[Learner]:
    """Members by name; then those who have left and did some of the work."""
    query = (
        select(Person, Membership.ended_at)
        .join(Membership, Membership.person_id == Person.id)
        .where(Membership.group_id == group_id, Membership.role == "learner")
        .order_by(Person.display_name, Person.id)
    )
    found: dict[int, Learner] = {}
    for person, ended_at in session.execute(query):
        is_member = ended_at is None or (person.id in found and found[person.id].is_member)
        found[person.id] = Learner(person.id, person.public_id, person.display_name, is_member)
    shown = [learner for learner in found.values() if learner.is_member or learner.id in tried]
    return sorted(shown, key=lambda learner: not learner.is_member)


def tally(lines: list[WorkLine], tries: list[Tried], due_at: datetime) -> tuple[TallyLine, ...]:
    """For each family and known mistake: how many people showed it in a first answer, of those who gave one."""
    families = {line.family.id: line.family for line in lines}
    family_at = {line.position: line.family.id for line in lines}
    answered: dict[str, set[int]] = {}
    showed: dict[tuple[str, str], set[int]] = {}
    for one in tries:
        family_id = family_at[one.position]
        for mistake in _first_mistakes(one, due_at, answered.setdefault(family_id, set())):
            showed.setdefault((family_id, mistake), set()).add(one.person_id)
    found = [
        _tally_line(families[family_id], mistake, len(people), len(answered[family_id]))
        for (family_id, mistake), people in showed.items()
    ]
    return tuple(sorted(found, key=lambda line: (-line.people, line.title, line.mistake)))


def _first_mistakes(one: Tried, due_at: datetime, answered: set[int]) -> Iterable[str]:
    """Known mistakes of the first answer to a problem; notes who gave one in time."""
    in_time = one.in_time(due_at)
    if not in_time:
        return ()
    answered.add(one.person_id)
    return in_time[0].mistakes


def _tally_line(family: Family, mistake: str, people: int, of: int) -> TallyLine:
    return TallyLine(family.id, family.title, mistake, people, of, tally_words(family, mistake, people, of))


def tally_words(family: Family, mistake: str, people: int, of: int) -> Message:
    """How many made a known mistake, in a sentence with the words of its family."""
    counted = {"people": people, "of": of, "mistake": called(mistake, family)}
    return Message("groups.tally-did" if did(mistake, family) else "groups.tally", counted)
