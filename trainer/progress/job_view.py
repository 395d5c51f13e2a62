"""Where a problem stands in its job, and what was found before it: for its page."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, timedelta

from msgspec import Struct
from msgspec.structs import replace
from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.calc.message import Message, Quantity
from trainer.library.shelf import Library
from trainer.problems.job import Place
from trainer.problems.model import VerdictKind
from trainer.problems.store import message_from_json, restore
from trainer.progress.evidence import latest_gradings
from trainer.progress.jobs import CARRIED, OWN
from trainer.progress.sitting import Sitting
from trainer.records import models
from trainer.text.formats import FORMATS, quantity
from trainer.text.markdown import inline_html

__all__ = ["FoundView", "JobView", "job_left", "job_view"]

IN_INCHES = 120
"""Lengths up to that are read back in inches, and longer ones in feet [in]."""

LEFT_FOR = timedelta(days=14)
"""How long a job that was left between two parts is offered again."""


class FoundView(Struct, frozen=True):
    """
    What was found in an earlier part.

    Args:
        problem: Public id of the part.
        nth: Which part.
        title: Its own title.
        html: The last answer; "" where there was none.
        right: Whether it was right in the end.
        goes_on: Whether the learner's own number is worked with here.
    """

    problem: str
    nth: int
    title: str
    html: str
    right: bool
    goes_on: bool


class JobView(Struct, frozen=True):
    """
    A part's place in its job.

    Args:
        title: The job's title.
        part: The part's own title.
        nth: Which part it is, from 1.
        parts: How many there are.
        said: What is to be said where it went on with another number than the learner's.
        found: What was found in the parts before it.
    """

    title: str
    part: str
    nth: int
    parts: int
    said: tuple[Message, ...]
    found: tuple[FoundView, ...]

    @property
    def last(self) -> bool:
        """Whether the job ends with it."""
        return self.nth == self.parts


def job_view(session: Session, sitting: Sitting, language: str) -> JobView | None:
    """The place of a problem in its job; None for a question that stands for itself."""
    place = sitting.family.job
    if place is None:
        return None
    carried = [message_from_json(stored) for stored in sitting.row.drawn.get(CARRIED, ())]
    own = {message.params["part"] for message in carried if message.id == OWN}
    return JobView(
        place.job.title,
        place.title,
        place.nth,
        len(place.job.parts),
        tuple(message for message in carried if message.id != OWN),
        tuple(replace(one, goes_on=one.nth in own) for one in _found(session, sitting.row, place, language)),
    )


def job_left(session: Session, library: Library, person_id: int, now: datetime) -> tuple[str, Place] | None:
    """The part after which a person left a job of practice last, and its place; None when there is nothing to go on with."""
    table = models.Problem
    parts = [head.id for head in library.heads.values() if head.job]
    if not parts:
        return None
    query = select(table).where(table.person_id == person_id, table.family_id.in_(parts), table.context == "practice")
    row = session.scalar(query.order_by(table.id.desc()).limit(1))
    if row is None or row.closed_at is None or now - row.closed_at > LEFT_FOR:
        return None
    place = library.families[row.family_id].job
    return None if place is None or place.last else (row.public_id, place)


def _found(session: Session, row: models.Problem, place: Place, language: str) -> Iterable[FoundView]:
    """The parts before one, in their order, with one query."""
    if place.first:
        return
    before = {part.id: at for at, part in enumerate(place.job.parts[: place.at])}
    query = latest_gradings().where(
        models.Problem.person_id == row.person_id,
        models.Problem.seed == row.seed,
        models.Problem.family_id.in_(before),
    )
    answers: dict[str, list[tuple[models.Answer, models.Grading, models.Problem]]] = {}
    for answer, grading, problem in session.execute(query.order_by(models.Answer.sequence)):
        answers.setdefault(problem.family_id, []).append((answer, grading, problem))
    for family_id, at in before.items():
        if given := answers.get(family_id):
            right = any(grading.verdict == VerdictKind.RIGHT for _, grading, _ in given)
            typed = [answer for answer, _, _ in given if answer.typed]
            html = _answer_html(typed[-1], given[0][2], place, at, language) if typed else ""
            yield FoundView(given[0][2].public_id, at + 1, place.job.titles[at], html, right, goes_on=False)


def _answer_html(answer: models.Answer, row: models.Problem, place: Place, at: int, language: str) -> str:
    """An answer as one reads it back: a number with its unit, the words of what was chosen, else as typed."""
    part, value = place.job.parts[at], answer.value_read
    if isinstance(value, int | float) and part.unit == "in" and value > IN_INCHES:
        return inline_html(FORMATS["feet"](value))
    if isinstance(value, int | float):
        return inline_html(quantity(Quantity(value, part.unit), language))
    chosen = [value] if isinstance(value, str) else value if isinstance(value, list) else []
    problem = restore(part, row.seed, row.edition, row.drawn, language=language)
    texts = {option.id: option.text for option in problem.options}
    words = [texts[one] for one in chosen if one in texts]
    return "; ".join(inline_html(text) for text in words) or inline_html(answer.typed)
