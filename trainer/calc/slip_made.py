"""
One slip made on purpose: what the piece measures, and whether that tells the slip from all others. Inches and degrees.

The other way round from `bend_diagnosis`: there a piece leads to its slip, here a slip to its piece. Both bend in `layout`.
"""

from __future__ import annotations

from msgspec import Struct

from trainer.calc.bend_diagnosis import bend_diagnosis
from trainer.calc.calculation import Calculation, Output
from trainer.calc.diagnosis_job import Bent, Figures, Job
from trainer.calc.diagnosis_slips import tried
from trainer.calc.inputs import Input, Kind
from trainer.calc.layout_tube import Centreline
from trainer.calc.marks import End
from trainer.calc.message import InputError, Message, Quantity
from trainer.calc.offset import OFFSET
from trainer.calc.shoes import DEFAULT_SHOE, Shoe
from trainer.calc.trace import note, steps

__all__ = ["SLIP_MADE", "SlipMade", "slip_made", "tube_with_slip"]

#: Slips that have no figure of their own, of the bends that have a place along the run.
_SLIPS = (
    *("shrink-forgotten", "shrink-taken-off", "hook-other-way", "not-multiplied", "wrong-mark-first"),
    *("burned-inch", "total-shrink-to-centre", "hook-away-from-centre", "take-up-on-centre"),
)
_BENDS = (Bent.OFFSET, Bent.SADDLE)
#: The tape is read to this [in].
_SIXTEENTHS = 16

BEND = Input("bend", Kind.CHOICE, "offset", choices=tuple(_BENDS))
SLIP = Input("slip", Kind.CHOICE, "shrink-forgotten", choices=_SLIPS)
WANTED = Input("wanted", Kind.LENGTH, "6 in", "in", above=0)
DISTANCE = Input("distance", Kind.LENGTH, "40 in", "in", above=0)
ANGLE, SHOE = OFFSET.input("angle"), OFFSET.input("shoe")


class SlipMade(Struct, frozen=True):
    """
    A piece with one slip.

    Args:
        size: Depth of the offset, or height of the saddle, as it came out [in].
        place: From the end where measuring starts to the far corner of the offset, or to the middle of the saddle [in].
        size_off: How much too large it is; below 0 too small [in].
        place_off: How much too far from that end it stands; below 0 too near [in].
        told_apart: Whether these two figures, read to the sixteenth, fit this slip and no other that can be chosen here.
    """

    size: float
    place: float
    size_off: float
    place_off: float
    told_apart: bool


@steps(size_off="in", place_off="in")
def slip_made(
    bend: str, slip: str, wanted: float, angle: float, distance: float, *, shoe: Shoe = DEFAULT_SHOE
) -> SlipMade:
    """
    What a piece measures that was marked for its own shoe, and with one slip.

    Args:
        bend: "offset" or "three-point-saddle".
        slip: What slipped; some belong to one of the two bends only.
        wanted: The depth, or the height, as it should be [in].
        angle: Of each bend of an offset, of the middle bend of a saddle [deg].
        distance: From the end where measuring starts to the obstacle of an offset, or to the middle of that of a saddle [in].
        shoe: The bender's shoe.

    Raises:
        InputError: When one lies outside its range, this bend knows no such slip, or the piece can't be bent.

    Source: marks of the bend on the shoe's true arc, with the slip bent in `layout`.

    >>> result = slip_made("offset", "shrink-forgotten", 6, 30, 40)
    >>> round(result.place, 2), result.told_apart
    (38.5, True)
    """
    values = {BEND: bend, SLIP: slip, WANTED: wanted, ANGLE: angle, DISTANCE: distance}
    for given, value in values.items():
        given.check(value)
    job = _job(bend, wanted, angle, distance, shoe)
    tube = tube_with_slip(bend, slip, wanted, angle, distance, shoe=shoe)
    found = job.measured_on(tube)
    size, place = found.size, found.distance or 0.0
    note("size", "slip_made.bent", slip=Message(f"slip.{slip}"), size=Quantity(size, "in"), place=Quantity(place, "in"))
    size_off = size - wanted
    place_off = place - distance
    return SlipMade(size, place, size_off, place_off, _is_told_apart(slip, job, size, place))


def tube_with_slip(
    bend: str, slip: str, wanted: float, angle: float, distance: float, *, shoe: Shoe = DEFAULT_SHOE
) -> Centreline:
    """
    The tube that comes of it; arguments as of `slip_made`.

    Raises:
        InputError: When this bend knows no such slip, or the piece can't be bent.
    """
    job = _job(bend, wanted, angle, distance, shoe)
    for made in tried(job, job.wanted):
        if made.kind == slip:
            return job.bent(made.marks)
    raise SLIP.refuse(Message("slip_made.not-here"), slip)


def _job(bend: str, wanted: float, angle: float, distance: float, shoe: Shoe) -> Job:
    job = Job(Bent(bend), Figures(wanted, angle, distance), shoe, End.FAR, "_arc", "by-back-mark", wanted)
    if not _has_marks(job):  # The arcs would run into each other.
        raise WANTED.refuse(Message("slip_made.no-room"), WANTED.written(wanted), Message("slip_made.larger"))
    return job


def _has_marks(job: Job) -> bool:
    """Whether the bend can be marked for its shoe; a refusal names the input of this calculation."""
    own = {"depth": WANTED, "height": WANTED, "centre_angle": ANGLE, "distance": DISTANCE}
    try:
        return bool(job.marks())
    except InputError as error:
        given = own.get(error.field or "", BEND)
        raise given.refuse(error.reason, error.given, error.accepted) from None


def _is_told_apart(slip: str, job: Job, size: float, place: float) -> bool:
    """Whether the figures, as a tape tells them, lead back to this one of the slips that have no figure of their own."""
    read_size, read_place = (round(one * _SIXTEENTHS) / _SIXTEENTHS for one in (size, place))
    wanted = job.wanted
    try:
        named = bend_diagnosis(
            job.kind,
            wanted.size,
            read_size,
            angle=wanted.angle,
            distance=wanted.distance,
            measured_distance=read_place,
            shoe=job.shoe,
            basis="arc",
        )
    except InputError:
        return False
    return [one.kind for one in named.slips if one.fits and one.kind in _SLIPS] == [slip]


SLIP_MADE = Calculation(
    name="slip_made",
    function=slip_made,
    inputs=(BEND, SLIP, WANTED, ANGLE, DISTANCE, SHOE),
    outputs=(
        Output("size", "in", "arc"),
        Output("place", "in", "arc"),
        Output("size_off", "in", "arc"),
        Output("place_off", "in", "arc"),
        Output("told_apart"),
    ),
    sources=(
        "marks: the calculation of the bend, on the shoe's true arc; with the slip bent on it",
        "shoe: trade practice; radius computed from the handbook gain",
        "what pieces are held to: common practice, no source",
    ),
    area="bending",
    example_inputs={
        "bend": "offset",
        "slip": "shrink-forgotten",
        "wanted": "6 in",
        "angle": "30",
        "distance": "40 in",
    },
)
