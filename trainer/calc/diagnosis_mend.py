"""
What saves a piece that came out wrong: opening or closing its bends, cutting, a coupling; or that it is scrap.

How far a bend is to be opened is found by bending the piece in `layout`, not by a formula. Inches and degrees.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import atan2, degrees

from msgspec import Struct

from trainer.calc.diagnosis_job import HELD_ANGLE, HELD_DOG_LEG, HELD_LENGTH, Bent, Figures, Job
from trainer.calc.diagnosis_slips import Slip, about, over_bent, solved
from trainer.calc.message import Message, Quantity
from trainer.calc.tables import table

__all__ = ["Mend", "mends"]

_MENDING = table("bends")["mending"]
#: How far a bend is still opened or closed, and a leg twisted back [deg].
_MOST_OPENING: float = _MENDING["opening"]
_MOST_TWIST: float = _MENDING["twist"]
#: The shortest piece that is coupled in or left straight [in].
_SHORTEST: float = table("cutting")["coupled_piece"]["shortest"]


class Mend(Struct, frozen=True):
    """
    One thing to do with a piece.

    Args:
        kind: "none", "open", "close", "open-saddle", "close-saddle", "twist", "cut-stub", "cut-start", "couple-start",
            "cut-out", "couple-in", "re-mark" or "scrap".
        amount: By how much; None where that says nothing.
    """

    kind: str
    amount: Quantity | None = None

    def message(self) -> Message:
        """What to do as a sentence."""
        return Message(f"mend.{self.kind}", {"amount": self.amount} if self.amount else {})


def mends(job: Job, slip: Slip, measured: Figures) -> tuple[Mend, ...]:
    """
    What saves a piece with this slip, in the order of doing it; a single "scrap" where nothing does.

    Args:
        job: What was wanted.
        slip: How the piece was bent.
        measured: What was found on it.
    """
    steps = tuple(_steps(job, slip, measured))
    if any(step.kind == "scrap" for step in steps):
        return (Mend("scrap"),)
    return steps or (Mend("none"),)


def _steps(job: Job, slip: Slip, measured: Figures) -> Iterator[Mend]:
    yield from _twist(measured)
    if job.kind in {Bent.STUB_UP, Bent.BACK_TO_BACK}:
        yield from _right_angle(job, measured)
        over = measured.size - job.wanted.size
        if abs(over) > HELD_LENGTH:
            yield _stub(over) if job.kind == Bent.STUB_UP else _between(job, over, measured.size)
        return
    closed = _closing(job, slip, measured)
    if closed is None:
        yield Mend("scrap")
        return
    if closed:
        kind = "close" if closed > 0 else "open"
        yield Mend(f"{kind}-saddle" if job.kind == Bent.SADDLE else kind, about(closed))
    yield from _start(job, slip, measured, closed)


def _twist(measured: Figures) -> Iterator[Mend]:
    dog_leg = measured.dog_leg or 0.0
    if dog_leg <= HELD_DOG_LEG:
        return
    twist = degrees(atan2(dog_leg, 12))
    yield Mend("twist", about(twist)) if twist <= _MOST_TWIST else Mend("scrap")


def _right_angle(job: Job, measured: Figures) -> Iterator[Mend]:
    over = 0.0 if measured.angle is None else measured.angle - job.angle
    if abs(over) <= HELD_ANGLE:
        return
    kind = "open" if over > 0 else "close"
    yield Mend(kind, about(over)) if abs(over) <= _MOST_OPENING else Mend("scrap")


def _stub(over: float) -> Mend:
    """A stub that is too tall is cut; one that is too short stays so, and only the rest of the tube can be used."""
    return Mend("cut-stub", Quantity(over, "in")) if over > 0 else Mend("re-mark")


def _between(job: Job, over: float, size: float) -> Mend:
    """Between two backs a piece can be cut out, or coupled in, where there is straight tube for it."""
    straight = size - 2 * job.shoe.radius - job.shoe.outside_diameter
    if over > 0:
        return Mend("cut-out", Quantity(over, "in")) if straight - over >= _SHORTEST else Mend("scrap")
    enough = -over >= _SHORTEST and straight >= _SHORTEST
    return Mend("couple-in", Quantity(-over, "in")) if enough else Mend("scrap")


def _closing(job: Job, slip: Slip, measured: Figures) -> float | None:
    """How far each bend is to be closed for the wanted size [deg]; 0 where it is near enough, None where too far."""
    if abs(measured.size - job.wanted.size) <= HELD_LENGTH:
        return 0.0
    reach = _MOST_OPENING / (2 if job.kind == Bent.SADDLE else 1)
    return solved(
        lambda by: job.measured_on(job.bent(over_bent(job, slip.marks, by))).size - job.wanted.size, -reach, reach
    )


def _start(job: Job, slip: Slip, measured: Figures, closed: float) -> Iterator[Mend]:
    """Where the piece then stands: its start is cut off, or a piece is coupled on."""
    if job.wanted.distance is None or measured.distance is None:
        return
    before, after = (job.measured_on(job.bent(over_bent(job, slip.marks, by))).distance for by in (0.0, closed))
    moved = (after or 0.0) - (before or 0.0)
    over = measured.distance + moved - job.wanted.distance
    if over > HELD_LENGTH:
        yield Mend("cut-start", Quantity(over, "in"))
    elif over < -HELD_LENGTH:
        yield Mend("couple-start", Quantity(-over, "in"))
