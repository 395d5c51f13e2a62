"""
Dimension lines as on a shop drawing: extension lines, arrowheads, the length in the broken line.

Dimensions that lie side by side share a row; whatever would touch goes one row further out. A length that is wider
than what it measures stands beside it, with the arrows pointing inward.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct

from trainer.figures.measure import FONT_SIZE, Box, text_width
from trainer.figures.svg import WIDTH, Drawing, Point

__all__ = ["Dimension", "arrowhead", "dimension_upright", "dimensions_below"]

HEAD = 7.0
ROW = 21.0
_GAP = 4.0
_TAIL = 14.0


class Dimension(Struct, frozen=True):
    """
    A distance along the drawing's x axis with its written length.

    Args:
        start: Where it begins; less than `end`.
        end: Where it ends.
        words: What is written on it.
        base: Where its extension lines begin; the common base when left out.
        name: Class of its lines: "fig-dim", or "fig-wrong" for a learner's value.
        beside: Whether words that are too wide may stand beside what it measures; else they stand below it.
    """

    start: float
    end: float
    words: str
    base: float | None = None
    name: str = "fig-dim"
    beside: bool = True

    @property
    def width(self) -> float:
        """Width of its words."""
        return text_width(self.words, f"{self.name}-text")


class _Place(Struct, frozen=True):
    """
    Where the words of a dimension go.

    Args:
        middle: Their middle.
        outside: Whether they stand beside what they measure, with the arrows pointing inward.
        beneath: Whether they stand in the next row, because there is no room in or beside the line.
    """

    middle: float
    outside: bool = False
    beneath: bool = False

    @property
    def rows(self) -> int:
        """How many rows it takes."""
        return 2 if self.beneath else 1

    def footprint(self, dimension: Dimension) -> tuple[float, float]:
        """From where to where the row is taken."""
        if not self.outside and not self.beneath:
            return dimension.start, dimension.end
        half, tail = dimension.width / 2, _TAIL if self.outside else 0.0
        return (
            min(dimension.start - tail, self.middle - half) - _GAP,
            max(dimension.end + tail, self.middle + half) + _GAP,
        )


def arrowhead(drawing: Drawing, tip: Point, direction: Point, name: str) -> None:
    """A filled arrowhead with its tip at `tip`, pointing along the unit vector `direction`."""
    (x, y), (along_x, along_y) = tip, direction
    back = (x - HEAD * along_x, y - HEAD * along_y)
    half = 0.36 * HEAD
    sides = [(back[0] - half * along_y, back[1] + half * along_x), (back[0] + half * along_y, back[1] - half * along_x)]
    drawing.shape([tip, *sides], f"{name}-head")


def _places(dimension: Dimension) -> Iterator[_Place]:
    """Places for the words, the best first; every one lies within the drawing."""
    width = dimension.width
    middle = (dimension.start + dimension.end) / 2
    if width + 2 * (HEAD + _GAP) <= dimension.end - dimension.start:
        yield _Place(middle)
        return
    beside = _TAIL + _GAP + width / 2
    for place in (dimension.end + beside, dimension.start - beside) if dimension.beside else ():
        if place - width / 2 > 2 and place + width / 2 < WIDTH - 2:
            yield _Place(place, outside=True)
    inside = min(max(middle, width / 2 + 3), WIDTH - 3 - width / 2)
    yield _Place(inside, outside=dimension.end - dimension.start < 2 * HEAD + 2, beneath=True)


class _Rows:
    """The rows below a drawing, and what is taken of each."""

    def __init__(self) -> None:
        self.taken: list[list[tuple[float, float]]] = []

    def place(self, dimension: Dimension) -> tuple[int, _Place]:
        """The nearest row with room for a dimension, and the place of its words; they are taken from now on."""
        places = list(_places(dimension))
        index = 0
        while True:
            for place in places:
                if self._is_free(index, place.rows, place.footprint(dimension)):
                    self._take(index, place.rows, place.footprint(dimension))
                    return index, place
            index += 1

    def _is_free(self, index: int, rows: int, room: tuple[float, float]) -> bool:
        taken = [other for row in self.taken[index : index + rows] for other in row]
        return all(room[1] <= left or room[0] >= right for left, right in taken)

    def _take(self, index: int, rows: int, room: tuple[float, float]) -> None:
        while len(self.taken) < index + rows:
            self.taken.append([])
        for row in self.taken[index : index + rows]:
            row.append(room)


def _draw(drawing: Drawing, dimension: Dimension, place: _Place, base: float, y: float) -> None:
    """One dimension line at height `y` with its extension lines and words."""
    name = dimension.name
    for x in (dimension.start, dimension.end):
        drawing.line((x, base + 2), (x, y + 4), f"{name}-thin")
    for start, end in _strokes(dimension, place):
        drawing.line((start, y), (end, y), name)
    inward = -1.0 if place.outside else 1.0
    arrowhead(drawing, (dimension.start, y), (-inward, 0), name)
    arrowhead(drawing, (dimension.end, y), (inward, 0), name)
    level = y + 0.35 * FONT_SIZE + (0.75 * ROW if place.beneath else 0.0)
    drawing.text((place.middle, level), dimension.words, f"fig-text {name}-text", "middle")


def _strokes(dimension: Dimension, place: _Place) -> list[tuple[float, float]]:
    """The parts of the dimension line, from where to where."""
    start, end = dimension.start, dimension.end
    if place.outside:
        return [(max(start - _TAIL, 1), start), (end, min(end + _TAIL, WIDTH - 1))]
    if place.beneath:
        return [(start, end)]
    half = dimension.width / 2 + _GAP
    return [(start, place.middle - half), (place.middle + half, end)]


def _words_room(dimension: Dimension) -> tuple[float, float]:
    """From where to where the words of a dimension reach at their best place."""
    middle, half = next(_places(dimension)).middle, dimension.width / 2 + 2
    return middle - half, middle + half


def _cuts(one: Dimension, other: Dimension) -> bool:
    """Whether an extension line of `one` would run through the words of `other`, were it further out."""
    left, right = _words_room(other)
    return any(left < x < right for x in (one.start, one.end))


def _goes_outward(dimension: Dimension, dimensions: Sequence[Dimension]) -> bool:
    """Whether words beside a short dimension are free of lines only further out, and cut nobody's words there."""
    longer = [one for one in dimensions if one.end - one.start > dimension.end - dimension.start]
    return (
        next(_places(dimension)).outside
        and any(_cuts(one, dimension) for one in longer)
        and not any(_cuts(dimension, one) for one in longer)
    )


def dimensions_below(drawing: Drawing, dimensions: Sequence[Dimension], base: float) -> float:
    """
    Dimension lines below `base`, the shortest nearest, but for those whose words a longer one's line would run through.

    Returns:
        Where the last row ends.
    """
    rows = _Rows()
    for dimension in sorted(dimensions, key=lambda one: (_goes_outward(one, dimensions), one.end - one.start)):
        row, place = rows.place(dimension)
        start = base if dimension.base is None else dimension.base
        _draw(drawing, dimension, place, start, base + ROW * (row + 0.75))
    return base + ROW * (len(rows.taken) + 0.35) if rows.taken else base


def dimension_upright(
    drawing: Drawing, x: float, span: tuple[float, float], words: str, name: str = "fig-dim", *, side: str = "right"
) -> Box:
    """
    A dimension line standing at `x` between two heights, its words beside it where there is room.

    Args:
        drawing: Takes the lines.
        x: Where the line stands.
        span: Upper and lower end.
        words: What is written on it.
        name: Class of its lines.
        side: On which side the words stand if they fit.
    """
    upper, lower = span
    if lower - upper >= 2 * HEAD + 4:
        drawing.line((x, upper), (x, lower), name)
        arrowhead(drawing, (x, upper), (0, -1), name)
        arrowhead(drawing, (x, lower), (0, 1), name)
    else:
        drawing.line((x, upper - _TAIL), (x, lower + _TAIL), name)
        arrowhead(drawing, (x, upper), (0, 1), name)
        arrowhead(drawing, (x, lower), (0, -1), name)
    width, beside = text_width(words, f"{name}-text"), _GAP + 1
    right = x + beside + width < WIDTH - 2 and not (side == "left" and x - beside - width > 2)
    at = (x + beside if right else x - beside, (upper + lower) / 2 + 0.35 * FONT_SIZE)
    return drawing.text(at, words, f"fig-text {name}-text", "start" if right else "end")
