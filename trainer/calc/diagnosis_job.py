"""
A bend that was wanted, and what tape and level find on one that was bent. Inches and degrees.

Nothing is worked out here by formula: marks come from the calculation of the bend, and what they make from `layout`.
"""

from __future__ import annotations

from collections.abc import Sequence
from enum import StrEnum

from msgspec import Struct

from trainer.calc.back_to_back import back_to_back
from trainer.calc.kick import Kick, kick
from trainer.calc.layout_change import bent
from trainer.calc.layout_measure import (
    along_first_leg,
    corner_distance,
    crown_height,
    leg_offset,
    stub_height,
)
from trainer.calc.layout_reach import bend_reach
from trainer.calc.layout_tube import Centreline
from trainer.calc.marks import Mark
from trainer.calc.offset import Offset, offset
from trainer.calc.shoes import Shoe
from trainer.calc.stub_up import stub_up
from trainer.calc.tables import table
from trainer.calc.three_point_saddle import ThreePointSaddle, three_point_saddle

__all__ = ["HELD_ANGLE", "HELD_DOG_LEG", "HELD_LENGTH", "Bent", "Figures", "Job", "dog_leg_of", "misses", "off_by"]

_HELD = table("bends")["tolerance"]


class Bent(StrEnum):
    """What was bent."""

    STUB_UP = "stub-up"
    OFFSET = "offset"
    KICK = "kick"
    BACK_TO_BACK = "back-to-back"
    SADDLE = "three-point-saddle"


class Figures(Struct, frozen=True):
    """
    What is measured on a piece; None where it was not.

    Args:
        size: Height of the stub to the back, depth of the offset, rise of the kick, distance over the backs, height of
            the saddle [in].
        angle: Of a bend: of each of an offset, of the middle one of a saddle, of the last 90 [deg].
        distance: From the end where measuring starts, along the first leg, to the corner of the far bend of an offset,
            or to the middle of a saddle [in].
        dog_leg: How far the last leg leaves the plane of the first bend, for each foot of it [in], either way.
    """

    size: float
    angle: float | None = None
    distance: float | None = None
    dog_leg: float | None = None


#: How near pieces are held: lengths [in], angles [deg], and out of plane for each foot [in].
HELD_LENGTH: float = _HELD["length"]
HELD_ANGLE: float = _HELD["angle"]
HELD_DOG_LEG: float = _HELD["dog_leg"]

_HELD_TO = {"size": HELD_LENGTH, "angle": HELD_ANGLE, "distance": HELD_LENGTH, "dog_leg": HELD_DOG_LEG}

#: Where a piece stands that nobody gave a distance for [in]: far enough from the end for any slip.
_SOMEWHERE = 90.0
_BEYOND = 120.0


class Job(Struct, frozen=True):
    """
    A bend as it was wanted, on a shoe.

    Args:
        kind: What it is.
        wanted: Its figures.
        shoe: The bender's shoe.
        hook: End that the hook was to point at, of an offset or a kick.
        basis: "", "_handbook" or "_arc": the convention of its marks.
        way: How the second mark of a back-to-back was to be made.
        stub: Of a back-to-back, to the back of its first bend [in].
    """

    kind: Bent
    wanted: Figures
    shoe: Shoe
    hook: str
    basis: str
    way: str
    stub: float

    @property
    def angle(self) -> float:
        """Of the bend that `Figures.angle` is about [deg]."""
        return 90.0 if self.wanted.angle is None else self.wanted.angle

    @property
    def distance(self) -> float:
        """As it was wanted, or somewhere [in]."""
        return _SOMEWHERE if self.wanted.distance is None else self.wanted.distance

    def as_offset(self, depth: float | None = None) -> Offset:
        """The offset as the calculation gives it, of the wanted depth or another [in]."""
        size = self.wanted.size if depth is None else depth
        return offset(size, self.angle, self.distance, self.shoe, self.hook)

    def as_saddle(self, height: float | None = None) -> ThreePointSaddle:
        """The saddle as the calculation gives it, of the wanted height or another [in]."""
        size = self.wanted.size if height is None else height
        return three_point_saddle(size, self.angle, self.distance, self.shoe)

    def as_kick(self, rise: float) -> Kick:
        """The kick of an end as the calculation gives it, with another rise [in]."""
        return kick(rise, self.angle, shoe=self.shoe, hook=self.hook)

    def marks(self, size: float | None = None) -> tuple[Mark, ...]:
        """
        The marks of this convention, for the wanted size or another [in]; none where it has none.

        Raises:
            InputError: When the calculation refuses them.
        """
        if self.kind == Bent.STUB_UP:
            return stub_up(self.wanted.size if size is None else size, take_up=self.shoe.take_up).marks
        if self.kind == Bent.BACK_TO_BACK:
            two = back_to_back(self.wanted.size if size is None else size, self.stub, self.shoe, self.way)
            return two.marks_handbook if self.basis == "_handbook" else two.marks
        if self.kind == Bent.KICK:
            rise = self.wanted.size if size is None else size
            lifted: tuple[Mark, ...] = getattr(self.as_kick(rise), f"marks{self.basis}")
            return lifted
        result = self.as_offset(size) if self.kind == Bent.OFFSET else self.as_saddle(size)
        marks: tuple[Mark, ...] = getattr(result, f"marks{self.basis}")
        return marks

    def bent(self, marks: Sequence[Mark]) -> Centreline:
        """
        The tube bent by some marks.

        Raises:
            InputError: When arcs would overlap or leave the tube.
        """
        return bent(marks, self.shoe, sum(mark.position for mark in marks) + _BEYOND)

    def measured_on(self, tube: Centreline) -> Figures:
        """All figures of a tube."""
        diameter = self.shoe.outside_diameter
        dog_leg = dog_leg_of(tube)
        if self.kind == Bent.STUB_UP:
            return Figures(stub_height(tube, diameter), tube.bends[0].angle, None, dog_leg)
        if self.kind == Bent.KICK:
            run = tube.legs[1]
            return Figures((tube.start - run.start).across(run.along).length, tube.bends[0].angle, None, dog_leg)
        if self.kind == Bent.BACK_TO_BACK:
            return Figures(_over_backs(tube, diameter), tube.bends[1].angle, None, dog_leg)
        if self.kind == Bent.OFFSET:
            return Figures(leg_offset(tube, 0, 2), tube.bends[1].angle, corner_distance(tube, 1), dog_leg)
        middle = tube.bends[1]
        place = along_first_leg(tube, middle.at(middle.length / 2))
        return Figures(crown_height(tube, 1), middle.angle, place, dog_leg)


def _over_backs(tube: Centreline, diameter: float) -> float:
    """From back to back along the leg between, whatever the two bends' angles [in]."""
    along = tube.legs[1].along
    return bend_reach(tube.bends[1], along, diameter) + bend_reach(tube.bends[0], -along, diameter)


def dog_leg_of(tube: Centreline) -> float:
    """How far the last leg leaves the plane of the first bend, for each foot of it [in], either way."""
    first = tube.bends[0]
    return abs(tube.legs[-1].along.dot(first.toward.cross(first.along))) * 12


def misses(got: Figures, asked: Figures) -> dict[str, float]:
    """By how much each figure that both have is too large."""
    both = {name: (getattr(got, name), getattr(asked, name)) for name in _HELD_TO}
    return {name: one - other for name, (one, other) in both.items() if one is not None and other is not None}


def off_by(got: Figures, asked: Figures) -> float:
    """The largest difference between two sets of figures, each in its own tolerances."""
    return max(abs(miss) / _HELD_TO[name] for name, miss in misses(got, asked).items())
