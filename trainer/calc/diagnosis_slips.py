"""
Slips that are made at the bender, and the marks or bends that each leads to. Inches and degrees.

Each is one slip; two at once are not looked for. A plain slip has no figure of its own: the hook is turned or it isn't.
A fitted one has: how far a bend was over-bent is taken from what was measured, so it explains that figure by itself and
counts for less.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise

from msgspec import Struct
from msgspec.structs import replace

from trainer.calc.diagnosis_job import HELD_DOG_LEG, HELD_LENGTH, Bent, Figures, Job, dog_leg_of, misses
from trainer.calc.handbook import OUTSIDE_GAINS, offset_constants
from trainer.calc.layout_change import slipped
from trainer.calc.marks import Datum, End, Mark, Reference
from trainer.calc.message import InputError, Quantity
from trainer.calc.shoes import DEFAULT_SHOES

__all__ = ["MOST_OVER", "Slip", "about", "over_bent", "solved", "tried"]

#: Over-bending that is put down to a slip [deg]; what is more is another angle.
MOST_OVER = 8.0
#: Less than this no level tells from none [deg].
_LEAST_OVER = 0.25
#: A dog-leg that is put down to a roll [deg].
_MOST_ROLL = 30.0
#: What people leave off the tape's worn end and forget to add [in].
_INCH = 1.0

_COMMON_ANGLES = (10.0, 15.0, 22.5, 30.0, 45.0, 60.0)

Marks = tuple[Mark, ...]


class Slip(Struct, frozen=True):
    """
    One slip, with the marks and bends that it led to.

    Args:
        kind: Its name.
        marks: As they were bent.
        amount: Its own figure, where it has one.
        fitted: Whether that figure was taken from what was measured.
    """

    kind: str
    marks: Marks
    amount: Quantity | None = None
    fitted: bool = False


def tried(job: Job, measured: Figures) -> Iterator[Slip]:
    """
    Nothing wrong with the bending, and each slip that can be made with this bend.

    Raises:
        InputError: When the bend that was wanted can't be marked.
    """
    marks = job.marks()
    yield Slip("as-marked", marks)
    yield from _SLIPS[job.kind](job, marks)
    yield from _inside_for_outside(job)
    yield from _fitted(job, marks, measured)


def solved(function: Callable[[float], float], low: float, high: float) -> float | None:
    """
    Where a function that rises or falls crosses 0, None when it doesn't between the two; bends that can't be made
    draw its range in.
    """
    values = [(place, _tried_value(function, place)) for place in _places(low, high)]
    known = [(place, value) for place, value in values if value is not None]
    for (here, value), (there, other) in pairwise(known):
        if value * other <= 0:
            return _bisected(function, here, there, value)
    return None


def about(angle: float) -> Quantity:
    """How far, to the half degree that can be told on a bender."""
    return Quantity(round(2 * abs(angle)) / 2, "deg")


def _places(low: float, high: float, steps: int = 8) -> list[float]:
    return [low + (high - low) * step / steps for step in range(steps + 1)]


def _tried_value(function: Callable[[float], float], place: float) -> float | None:
    try:
        return function(place)
    except InputError:
        return None


def _bisected(function: Callable[[float], float], low: float, high: float, at_low: float) -> float:
    for _ in range(40):
        middle = (low + high) / 2
        if at_low * function(middle) > 0:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def _moved(marks: Sequence[Mark], by: float) -> Marks:
    return tuple(replace(mark, position=mark.position + by) for mark in marks)


def _turned(marks: Sequence[Mark], *orders: int) -> Marks:
    """The hook the other way on these marks."""
    other = {End.FAR: End.MEASURED, End.MEASURED: End.FAR}
    return tuple(replace(mark, hook_toward=other[mark.hook_toward]) if mark.order in orders else mark for mark in marks)


def _angled(marks: Sequence[Mark], angle: float) -> Marks:
    return tuple(replace(mark, angle=angle) for mark in marks)


def _stub_slips(job: Job, marks: Marks) -> Iterator[Slip]:
    take_up = job.shoe.take_up
    yield Slip("take-up-not-taken-off", _moved(marks, take_up))
    yield Slip("take-up-twice", _moved(marks, -take_up))
    yield Slip("hook-other-way", _turned(marks, 1))
    yield Slip("back-mark-for-take-up", tuple(replace(mark, reference=Reference.BACK_OF_BEND) for mark in marks))
    for shoe in DEFAULT_SHOES.values():
        if shoe.trade_size != job.shoe.trade_size:
            slip = f"take-up-of-{shoe.trade_size.replace('/', '-')}"
            yield Slip(slip, _moved(marks, take_up - shoe.take_up), Quantity(shoe.take_up, "in"))
    yield from _burned_inch(marks)


def _offset_slips(job: Job, marks: Marks) -> Iterator[Slip]:
    result = job.as_offset()
    spacing, shrink = (getattr(result, f"{name}{job.basis}") for name in ("spacing", "shrink"))
    yield Slip("hook-other-way", _turned(marks, 1, 2))
    yield Slip("hook-other-way-first", _turned(marks, 1))
    yield Slip("hook-other-way-second", _turned(marks, 2))
    yield Slip("shrink-forgotten", _moved(marks, -shrink))
    yield Slip("shrink-taken-off", _moved(marks, -2 * shrink))
    yield Slip("wrong-mark-first", _moved(marks, spacing))
    yield Slip("take-up-taken-off", _moved(marks, -job.shoe.take_up))
    yield Slip("not-multiplied", _spaced(marks, job.wanted.size))
    for angle in _COMMON_ANGLES:
        constants = offset_constants(angle)
        if constants and angle != job.angle:
            amount = Quantity(angle, "deg")
            yield Slip("wrong-multiplier", _spaced(marks, job.wanted.size * constants.multiplier), amount)
            yield Slip("wrong-angle", _angled(marks, angle), amount)
    yield from _burned_inch(marks)


def _kick_slips(job: Job, marks: Marks) -> Iterator[Slip]:
    yield Slip("hook-other-way", _turned(marks, 1))
    yield Slip("take-up-taken-off", _moved(marks, -job.shoe.take_up))
    yield Slip("not-multiplied", _moved(marks, job.wanted.size - marks[0].position))
    for angle in _COMMON_ANGLES:
        constants = offset_constants(angle)
        if constants and angle != job.angle:
            amount, travel = Quantity(angle, "deg"), job.wanted.size * constants.multiplier
            yield Slip("wrong-multiplier", _moved(marks, travel - marks[0].position), amount)
            yield Slip("wrong-angle", _angled(marks, angle), amount)
    yield from _burned_inch(marks)


def _spaced(marks: Sequence[Mark], spacing: float) -> Marks:
    """The near mark so far from the far one."""
    far = max(mark.position for mark in marks)
    return tuple(mark if mark.position == far else replace(mark, position=far - spacing) for mark in marks)


def _saddle_slips(job: Job, marks: Marks) -> Iterator[Slip]:
    centre, near, far = marks
    shrink = getattr(job.as_saddle(), f"shrink_to_centre{job.basis}")
    yield Slip("hook-away-from-centre", _turned(marks, 2, 3))
    yield Slip("shrink-forgotten", _moved(marks, -shrink))
    yield Slip("shrink-taken-off", _moved(marks, -2 * shrink))
    yield Slip("total-shrink-to-centre", _moved(marks, shrink))
    yield Slip("take-up-on-centre", (replace(centre, reference=Reference.TAKE_UP), near, far))
    yield Slip("take-up-taken-off", _moved(marks, -job.shoe.take_up))
    for angle in _COMMON_ANGLES:
        constants = offset_constants(angle)
        if constants:
            apart = job.wanted.size * constants.multiplier
            outer = (replace(near, position=centre.position - apart), replace(far, position=centre.position + apart))
            yield Slip("wrong-multiplier", (centre, *outer), Quantity(angle, "deg"))
    yield from _burned_inch(marks)


def _back_to_back_slips(job: Job, marks: Marks) -> Iterator[Slip]:
    first, second = marks
    take_up, gain = job.shoe.take_up, OUTSIDE_GAINS[job.shoe.trade_size]

    def other(kind: str, **changes: object) -> Slip:
        return Slip(kind, (first, replace(second, **changes)))

    yield Slip("hook-other-way", _turned(marks, 2))
    if second.reference == Reference.TAKE_UP:
        yield other("take-up-not-taken-off", position=second.position + take_up)
        yield other("take-up-twice", position=second.position - take_up)
        yield other("back-mark-for-take-up", reference=Reference.BACK_OF_BEND)
    else:
        yield other("take-up-taken-off", position=second.position - take_up)
        yield other("take-up-for-back-mark", reference=Reference.TAKE_UP)
    if second.measured_from != Datum.BACK:
        yield other("gain-forgotten", position=second.position + gain)
        yield other("gain-twice", position=second.position - gain)
    yield other("burned-inch", position=second.position - _INCH)


def _burned_inch(marks: Sequence[Mark]) -> Iterator[Slip]:
    yield Slip("burned-inch", _moved(marks, -_INCH))


def _inside_for_outside(job: Job) -> Iterator[Slip]:
    """The size taken to the other side of the tubing; over two backs to both."""
    diameter = job.shoe.outside_diameter
    times = (1, 2) if job.kind == Bent.BACK_TO_BACK else (1,)
    for by in (*(count * diameter for count in times), *(-count * diameter for count in times)):
        try:
            marks = job.marks(job.wanted.size + by)
        except InputError:
            continue
        if marks:
            yield Slip("inside-for-outside" if by > 0 else "outside-for-inside", marks, Quantity(abs(by), "in"))


def _fitted(job: Job, marks: Marks, measured: Figures) -> Iterator[Slip]:
    """Slips whose own size is taken from what was measured."""
    yield from _over_bent(job, marks, measured)
    try:
        as_marked = misses(measured, job.measured_on(job.bent(marks)))
    except InputError:  # These marks leave this shoe's arcs no room; what was bent can't have been bent by them.
        return
    shifted = as_marked.get("distance", 0.0)
    if abs(shifted) > HELD_LENGTH:
        kind = "marks-too-far" if shifted > 0 else "marks-too-near"
        yield Slip(kind, _moved(marks, shifted), Quantity(abs(shifted), "in"), fitted=True)
    other_tool = as_marked["size"]
    if job.kind == Bent.STUB_UP and HELD_LENGTH < abs(other_tool) < 1:
        yield Slip("other-take-up", _moved(marks, other_tool), Quantity(job.shoe.take_up + other_tool, "in"), True)
    if measured.dog_leg is not None and measured.dog_leg > HELD_DOG_LEG:
        yield from _rolled(job, marks, measured.dog_leg)


def over_bent(job: Job, marks: Sequence[Mark], by: float) -> Marks:
    """Each bend closed so much more; of a saddle the middle one twice that, of a back-to-back the last one alone."""
    if job.kind == Bent.BACK_TO_BACK:
        return slipped(marks, 2, angle=by)
    if job.kind == Bent.SADDLE:
        return tuple(replace(mark, angle=mark.angle + by * (2 if mark.order == 1 else 1)) for mark in marks)
    return tuple(replace(mark, angle=mark.angle + by) for mark in marks)


def _over_bent(job: Job, marks: Marks, measured: Figures) -> Iterator[Slip]:
    over = _over_by(job, marks, measured)
    if over is not None and _LEAST_OVER < abs(over) <= MOST_OVER:
        kind = "over-bent" if over > 0 else "under-bent"
        kind = f"saddle-{kind}" if job.kind == Bent.SADDLE else kind
        yield Slip(kind, over_bent(job, marks, over), about(over), fitted=True)


def _over_by(job: Job, marks: Marks, measured: Figures) -> float | None:
    """By the size, which tells it finer than a level; of 90s by the angle, as their size hardly changes with it."""
    if job.kind in {Bent.STUB_UP, Bent.BACK_TO_BACK}:
        return None if measured.angle is None else measured.angle - job.angle
    return solved(
        lambda by: job.measured_on(job.bent(over_bent(job, marks, by))).size - measured.size, -MOST_OVER, MOST_OVER
    )


def _rolled(job: Job, marks: Marks, dog_leg: float) -> Iterator[Slip]:
    """The tube rolled too far before the second bend."""
    if len(marks) < 2:
        return

    def too_much(roll: float) -> float:
        return dog_leg_of(job.bent(slipped(marks, 2, roll=roll))) - dog_leg

    roll = solved(too_much, 0.0, _MOST_ROLL)
    if roll is not None:
        yield Slip("rolled", slipped(marks, 2, roll=roll), about(roll), fitted=True)


_SLIPS: dict[Bent, Callable[[Job, Marks], Iterator[Slip]]] = {
    Bent.STUB_UP: _stub_slips,
    Bent.OFFSET: _offset_slips,
    Bent.KICK: _kick_slips,
    Bent.BACK_TO_BACK: _back_to_back_slips,
    Bent.SADDLE: _saddle_slips,
}
