"""What an offset's drawing shows: the marks on the tube, where the shoe then bends it, and a learner's wrong marks."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from msgspec import Struct

from trainer.calc.marks import End
from trainer.calc.offset import Offset
from trainer.calc.shoes import DEFAULT_SHOE, Shoe
from trainer.figures.axis import Axis, axis_for
from trainer.figures.run import Bend, Piece, pieces_between
from trainer.figures.svg import Drawing
from trainer.figures.words import Words

__all__ = ["Marks", "OffsetJob", "OffsetSheet", "offset_job"]

#: By which parts of its error a wrong output moves the far and the near mark.
_MOVES: Mapping[str, tuple[float, float]] = {
    "spacing": (0.0, -1.0),
    "shrink": (1.0, 1.0),
    "first_mark": (1.0, 1.0),
    "second_mark": (0.0, 1.0),
}


class Marks(Struct, frozen=True):
    """Positions of the far and the near mark, from the end that measuring starts from [in]."""

    far: float
    near: float


class OffsetJob(Struct, frozen=True):
    """
    An offset to draw.

    Args:
        depth: Wanted rise [in].
        angle: Of each bend [deg].
        distance: To the obstacle [in]; None when the question has none.
        shoe: The bender's shoe.
        hook: End that the hook points at.
        result: What the core says.
        marks: The marks; at an invented place when there is no distance.
        yours: Marks that a wrong answer leads to.
        answer: Name of the wrong output and its value.
    """

    depth: float
    angle: float
    distance: float | None
    shoe: Shoe
    hook: End
    result: Offset
    marks: Marks
    yours: Marks | None
    answer: tuple[str, float] | None

    @property
    def obstacle(self) -> float:
        """Where the obstacle begins [in]."""
        return self.marks.far - self.result.shrink if self.distance is None else self.distance

    @property
    def behind(self) -> float:
        """Tube between a mark and the end of its arc, away from the hook [in]."""
        return self.shoe.mark_to_arc + Bend(0, self.shoe.radius, self.angle).length

    def axis(self) -> Axis:
        """The scale that shows marks, bends and obstacle, and wrong marks that do not lie far off."""
        spacing = self.marks.far - self.marks.near
        back, ahead = (self.behind, 0.0) if self.hook == End.FAR else (0.0, self.behind)
        low, high = self.marks.near, self.marks.far
        if self.yours is not None:
            low = min(low, max(self.yours.near, low - 1.5 * spacing, 0))
            high = max(high, min(self.yours.far, high + 1.5 * spacing))
        lead, tail = max(0.3 * spacing, back + 1, 3), ahead + max(0.55 * spacing, 6)
        return axis_for(max(0.0, low - lead), high + tail)

    def pieces(self, marks: Marks, axis: Axis) -> list[Piece]:
        """
        The tube from `axis.resume` to its last position, bent on these marks.

        Where two arcs of the shoe would run into each other they are drawn tighter, about the same middle.
        """
        spacing = marks.far - marks.near
        full = Bend(0, self.shoe.radius, self.angle)
        radius = min(self.shoe.radius, 0.96 * self.shoe.radius * spacing / full.length)
        arc = Bend(0, radius, self.angle).length
        toward = -1.0 if self.hook == End.FAR else 1.0
        middle = toward * (self.shoe.mark_to_arc + full.length / 2) - axis.resume
        starts = [mark + middle - arc / 2 for mark in (marks.near, marks.far)]
        bends = [Bend(starts[0], radius, self.angle), Bend(starts[1], radius, -self.angle)]
        return pieces_between(bends, axis.last - axis.resume)

    @property
    def too_near(self) -> bool:
        """Whether wrong marks leave no room for two bends between them."""
        return self.yours is not None and self.yours.far - self.yours.near < 0.25 * (self.marks.far - self.marks.near)

    def can_bend(self, marks: Marks, axis: Axis) -> bool:
        """Whether these marks lie on the part of the tube that is drawn, and leave room for two bends."""
        return not self.too_near and all(piece.length > 0 for piece in self.pieces(marks, axis))


def offset_job(inputs: Mapping[str, Any], result: Offset, wrong: Mapping[str, float]) -> OffsetJob:
    """
    The job of these inputs, as `trainer.calc.catalogue` names and reads them.

    Args:
        inputs: Values by name.
        result: What the core made of them.
        wrong: A learner's value by the output's name; with or without a basis behind it.
    """
    hook = End(inputs.get("hook") or End.FAR)
    if result.first_mark is None or result.second_mark is None:
        near = 1.2 * result.spacing + 8
        marks = Marks(near + result.spacing, near)
    else:
        marks = Marks(result.first_mark, result.second_mark)
    answer = next(iter(wrong.items()), None)
    return OffsetJob(
        inputs["depth"],
        inputs["angle"],
        inputs.get("distance"),
        inputs.get("shoe") or DEFAULT_SHOE,
        hook,
        result,
        marks,
        None if answer is None else _moved(marks, result, *answer),
        answer,
    )


def _moved(marks: Marks, result: Offset, name: str, value: float) -> Marks | None:
    """The marks as a wrong output moves them; None for an output that moves none."""
    plain = name.removesuffix("_handbook").removesuffix("_arc")
    right = getattr(result, plain, None)
    if plain not in _MOVES or right is None:
        return None
    far, near = _MOVES[plain]
    return Marks(marks.far + far * (value - right), marks.near + near * (value - right))


class OffsetSheet(Struct, frozen=True):
    """The drawing with its job, its scale, its words, and how thick the tube is drawn."""

    drawing: Drawing
    job: OffsetJob
    axis: Axis
    words: Words

    @property
    def thickness(self) -> float:
        """The tube's diameter on the drawing: to scale, but never a mere line."""
        return max(7.0, self.job.shoe.outside_diameter * self.axis.scale)
