"""
The next part of a job: issued when the part before it is closed, with the job's numbers and with what the learner found.

The parts of one run of a job have its seed in common, so that a run is found again among a person's problems. The numbers
that a part takes over are kept with it like all its numbers; what the page says about them is kept beside them.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from itertools import product
from operator import eq

from msgspec import Struct
from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.accounts.access import NotFoundError
from trainer.calc.message import Message, Quantity
from trainer.library.shelf import Library
from trainer.library.versions import pin
from trainer.problems.draw import settle
from trainer.problems.drawn import Drawn, dress
from trainer.problems.errors import DrawError
from trainer.problems.job import Job, Place
from trainer.problems.job_draw import Run, as_marked, part_with, work_parts
from trainer.problems.misfit import Misfit
from trainer.problems.store import message_to_json, store
from trainer.progress.answering import give_up
from trainer.progress.issued import note_turn, problem_row
from trainer.progress.sitting import Sitting, sit_down
from trainer.progress.states import states_of
from trainer.records import models
from trainer.records.locks import lock_person

__all__ = ["CARRIED", "OWN", "leave_part", "next_part"]

#: A number that is so many times what it should be, or less than such a part of it, is no answer to go on with.
FAR_OFF = 10
#: Under this key the row of a part keeps what its page says about the numbers that it took over.
CARRIED = "carried"
#: Id of the message that a number is the learner's own.
OWN = "job.own"


class Found(Struct, frozen=True):
    """
    What came of an earlier part.

    Args:
        own: The last number that the learner gave; None without one.
        worked: What the part comes to, as one writes it down.
        unit: Of both.
    """

    own: float | None
    worked: float
    unit: str

    @property
    def offered(self) -> list[float]:
        """What to go on with: the learner's number first, unless it is a slip of the finger."""
        if self.own is None or not abs(self.worked) / FAR_OFF <= self.own <= abs(self.worked) * FAR_OFF:
            return [self.worked]
        return [self.own, self.worked]


def leave_part(session: Session, library: Library, person_id: int, public_id: str, now: datetime) -> bool:
    """
    Close a part of a job that has an answer, so that its learner can go on with it, right or wrong.

    Returns:
        Whether it is closed now; a part without any answer stays open.

    Raises:
        NotFoundError: When the person has no such problem, or it is no part that has another one after it.
    """
    lock_person(session, person_id)
    sitting = sit_down(session, library, person_id, public_id)
    _place(sitting)
    if not sitting.open:
        return True
    if not sitting.answered:
        return False
    give_up(session, library, person_id, public_id, now)
    return True


def next_part(
    session: Session,
    library: Library,
    person_id: int,
    public_id: str,
    *,
    assigned_family_id: int | None = None,
    now: datetime,
) -> str:
    """
    Issue the part that comes after another one, or give back the one that was issued.

    Args:
        session: A write session.
        library: The content.
        person_id: To whom.
        public_id: The part before it. While that is open, it is given back itself.
        assigned_family_id: The line of assigned work that the new part is for; None for practice.
        now: This moment.

    Returns:
        Public id of the part.

    Raises:
        NotFoundError: When the person has no such problem, or it is no part that has another one after it.
        DrawError: When the job's numbers fit no more: the core was mended since it was begun.
    """
    person = lock_person(session, person_id)
    sitting = sit_down(session, library, person_id, public_id)
    place = _place(sitting)
    if sitting.open:
        return public_id
    following = place.job.parts[place.nth]
    if (issued := _issued(session, sitting.row, following.id)) is not None:
        return issued
    drawn, said = _worked(session, sitting, place)
    person.problems_issued += 1
    problem = dress(following, sitting.row.seed, sitting.row.edition, drawn)
    row = problem_row(
        session,
        following,
        pin(session, following, now),
        person_id,
        seed=sitting.row.seed,
        edition=sitting.row.edition,
        drawn={**store(problem), CARRIED: [message_to_json(message) for message in said]},
        now=now,
        context="assigned" if assigned_family_id else "practice",
        assigned_family_id=assigned_family_id,
    )
    session.add(row)
    note_turn(session, states_of(session, person_id), row, person)
    session.flush()
    return row.public_id


def _place(sitting: Sitting) -> Place:
    """The place of a part that another one follows."""
    place = sitting.family.job
    if place is None or place.last:
        raise NotFoundError
    return place


def _issued(session: Session, before: models.Problem, family_id: str) -> str | None:
    """A part of the same run that was issued already."""
    table = models.Problem
    query = select(table.public_id).where(
        table.person_id == before.person_id, table.seed == before.seed, table.family_id == family_id
    )
    return session.scalar(query.order_by(table.id.desc()).limit(1))


def _worked(session: Session, sitting: Sitting, place: Place) -> tuple[Drawn, list[Message]]:
    """
    The part after `place`, from the learner's own numbers as far as it can be worked with them; and what to say of each.

    Else from what the earlier parts came to as they were asked, and at last from the true answers.
    """
    job, at, row = place.job, place.nth, sitting.row
    run = Run(job, row.seed, row.edition, settle)
    found = _found(session, row, job)
    carries = {name: found[before] for name, before in job.carries[at].items()}
    drawn_names = [name for parameter in job.parameters for name in parameter.names]
    numbers = {name: row.drawn["numbers"][name] for name in drawn_names}
    for carried in _ways_on(carries):
        try:
            drawn = part_with(run, at, {**numbers, **carried}, own=True)
        except Misfit:
            continue
        return drawn, _said(job, at, carries, carried)
    drawn = _true(run, numbers)[at]
    return drawn, _said(job, at, carries, {name: float(drawn.numbers[name]) for name in carries})


def _ways_on(carries: Mapping[str, Found]) -> list[dict[str, float]]:
    """Every choice between the learner's numbers and what the parts come to, those with most of the learner's first."""
    names = list(carries)
    own = [one.own for one in carries.values()]
    ways = sorted(product(*(one.offered for one in carries.values())), key=lambda way: -sum(map(eq, way, own)))
    return [dict(zip(names, way, strict=True)) for way in ways]


def _true(run: Run, numbers: Mapping[str, float | str]) -> tuple[Drawn, ...]:
    """All parts from the true answers."""
    try:
        return work_parts(run, numbers)
    except Misfit as misfit:
        raise DrawError(run.job.id, run.seed, {str(misfit): 1}) from None


def _found(session: Session, row: models.Problem, job: Job) -> dict[int, Found]:
    """What came of the parts of a run that were issued, by their place."""
    table = models.Problem
    places = {part.id: at for at, part in enumerate(job.parts)}
    query = (
        select(table, models.Answer.value_read)
        .outerjoin(models.Answer, models.Answer.problem_id == table.id)
        .where(table.person_id == row.person_id, table.seed == row.seed, table.family_id.in_(places))
        .order_by(table.id, models.Answer.attempt)
    )
    found: dict[int, Found] = {}
    for problem, read in session.execute(query):
        at = places[problem.family_id]
        worked = problem.drawn["keys"][0]["value"]
        own = found[at].own if at in found else None
        if isinstance(worked, int | float):
            own = float(read) if isinstance(read, int | float) else own
            found[at] = Found(own, as_marked(job.parts[at], worked), job.parts[at].unit)
    return found


def _said(job: Job, at: int, carries: Mapping[str, Found], carried: Mapping[str, float]) -> list[Message]:
    """What to say of each number that a part took over."""
    return [_of_one(job.carries[at][name] + 1, one, carried[name]) for name, one in carries.items()]


def _of_one(nth: int, found: Found, carried: float) -> Message:
    params: dict[str, Quantity | int] = {"part": nth, "value": Quantity(carried, found.unit)}
    if found.own is None:
        return Message("job.worked", params)
    if found.own == carried:
        return Message(OWN, params)
    return Message("job.refused", {**params, "own": Quantity(found.own, found.unit)})
