"""Labels that stand in rows above or below a drawing, each with a leader to the point that it names."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct

from trainer.figures.measure import FONT_SIZE, LINE_HEIGHT, Box, text_box, text_width
from trainer.figures.svg import WIDTH, Drawing, Point

__all__ = ["Callout", "callouts", "label"]

_PAD = 5.0
#: Spots that are looked at with each number of rows before the labels are left as they first came.
_TRIES = 2000


class Callout(Struct, frozen=True):
    """
    A label and what it names.

    Args:
        point: Where the leader ends.
        lines: The label, one text or more below each other.
        name: Class of the leader; the texts are of class "fig-text" and this name with "-text".
        side: Where the label stands if it can: "middle", or to the "left" or "right" of the point, a little beyond it on
            the other side; "all-left" and "all-right" keep clear of what lies right beside the point.
        dot: Whether the leader ends in a dot, as it does on a surface.
        href: Where its first line leads on the page; "" for nowhere.
    """

    point: Point
    lines: tuple[str, ...]
    name: str = "fig-leader"
    side: str = "middle"
    dot: bool = False
    href: str = ""

    @property
    def width(self) -> float:
        """Width of the widest line."""
        return max(text_width(line, f"{self.name}-text") for line in self.lines)


class _Placed(Struct, frozen=True):
    """A label with its row and its left edge."""

    callout: Callout
    row: int
    left: float

    @property
    def room(self) -> tuple[float, float]:
        """From where to where the row is taken."""
        return self.left - _PAD, self.left + self.callout.width + _PAD


def _lefts(callout: Callout) -> Iterator[float]:
    """Left edges inside the drawing, the side that is asked for first."""
    x, width = callout.point[0], callout.width
    shifts = {"middle": -width / 2, "right": -8.0, "left": 8.0 - width}
    clear = {"all-right": 2.0, "all-left": -2.0 - width}
    for shift in ((shifts | clear)[callout.side], *shifts.values(), -0.25 * width, -0.75 * width):
        yield max(3.0, min(WIDTH - 3.0 - width, x + shift))


def _flush(callout: Callout) -> Iterator[float]:
    """Left edges with the leader at one end of the label, where points lie close together."""
    for left in (callout.point[0] - 2.0, callout.point[0] + 2.0 - callout.width):
        if 3.0 <= left <= WIDTH - 3.0 - callout.width:
            yield left


def _collides(one: _Placed, other: _Placed) -> bool:
    """Whether two labels touch, or the leader of the outer one runs through the inner one."""
    if one.row == other.row:
        return one.room[0] < other.room[1] and other.room[0] < one.room[1]
    outer, inner = (one, other) if one.row > other.row else (other, one)
    return inner.room[0] < outer.callout.point[0] < inner.room[1]


def _place(items: Sequence[Callout]) -> list[_Placed]:
    """Each label in the nearest row where it touches none of those before it; where one finds none, all anew."""
    placed: list[_Placed] = []
    full = False
    for callout in items:
        spots = (_Placed(callout, row, left) for row in range(len(items) + 1) for left in _lefts(callout))
        last = _Placed(callout, len(items) + 1 + len(placed), next(_lefts(callout)))
        free = next((spot for spot in spots if not any(_collides(spot, other) for other in placed)), None)
        placed.append(free or last)
        full = full or free is None
    placed = (_searched(items) if full else None) or placed
    used = sorted({one.row for one in placed})
    return [_Placed(one.callout, used.index(one.row), one.left) for one in placed]


def _searched(items: Sequence[Callout]) -> list[_Placed] | None:
    """Places without a collision in as few rows as can be; None where none were found within `_TRIES`."""
    for rows in range(1, len(items) + 1):
        tries = iter(range(_TRIES))
        if found := _fitted(items, (), rows, tries):
            return list(found)
    return None


def _fitted(
    items: Sequence[Callout], placed: tuple[_Placed, ...], rows: int, tries: Iterator[int]
) -> tuple[_Placed, ...] | None:
    """The labels placed so far and all others, none of them in a row beyond `rows`."""
    if len(placed) == len(items):
        return placed
    callout = items[len(placed)]
    lefts = dict.fromkeys((*_lefts(callout), *_flush(callout)))
    for spot in (_Placed(callout, row, left) for row in range(rows) for left in lefts):
        if next(tries, None) is None:
            return None
        if not any(_collides(spot, other) for other in placed) and (
            found := _fitted(items, (*placed, spot), rows, tries)
        ):
            return found
    return None


def callouts(drawing: Drawing, items: Sequence[Callout], level: float, *, above: bool) -> float:
    """
    Labels in rows beginning at `level`, growing away from the drawing.

    Args:
        drawing: Takes the labels.
        items: The labels; earlier ones get the nearer rows.
        level: Height at which the nearest row begins.
        above: Whether the rows lie above `level`, else below.

    Returns:
        Height at which the outermost row ends.
    """
    placed = _place(items)
    rows = [0.0] * (1 + max((one.row for one in placed), default=-1))
    for one in placed:
        rows[one.row] = max(rows[one.row], len(one.callout.lines) * LINE_HEIGHT + (12 if one.callout.href else 6))
    for one in placed:
        inner = sum(rows[: one.row])
        height = len(one.callout.lines) * LINE_HEIGHT
        top = level - inner - height - 3 if above else level + inner + 5
        _draw(drawing, one, top, level - inner if above else level + inner + 3)
    return level - sum(rows) if above else level + sum(rows) + 3


def _draw(drawing: Drawing, one: _Placed, top: float, foot: float) -> None:
    """One label from `top` down, its leader from `foot` to its point."""
    callout = one.callout
    x = min(max(callout.point[0], one.left + 2), one.left + callout.width - 2)
    drawing.line((x, foot), callout.point, callout.name)
    if callout.dot:
        drawing.circle(callout.point, 1.8, f"{callout.name}-dot")
    for index, line in enumerate(callout.lines):
        at = (one.left + callout.width / 2, top + 0.85 * FONT_SIZE + index * LINE_HEIGHT)
        drawing.link(at, line, "" if index else callout.href, f"fig-text {callout.name}-text", "middle")


def label(drawing: Drawing, words: str, spots: Sequence[tuple[Point, str]], name: str = "fig-text") -> Box:
    """A text at the first free one of several spots, each a point with an anchor; at the last when none is free."""
    for at, anchor in spots[:-1]:
        if drawing.is_free(text_box(*at, words, anchor, name)):
            return drawing.text(at, words, name, anchor)
    at, anchor = spots[-1]
    return drawing.text(at, words, name, anchor)
