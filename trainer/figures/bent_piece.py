"""A bent piece with its legs dimensioned as they were measured, and below it the straight tube that is cut for it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import pairwise
from typing import Any

from msgspec import Struct

from trainer.calc.bent_cut_length import BentCutLength, Side
from trainer.calc.layout_space import Vector
from trainer.calc.message import Quantity
from trainer.figures.bend_elevation import stations
from trainer.figures.bent_piece_path import Piece, bent_piece
from trainer.figures.bent_piece_tube import straight_tube_to_cut
from trainer.figures.callout import label
from trainer.figures.dimension import Dimension, dimension_upright, dimensions_below
from trainer.figures.svg import MARGIN, WIDTH, Drawing, Point
from trainer.figures.tube import ribbon
from trainer.figures.words import Words, length

__all__ = ["draw_bent_piece"]

#: Room beside the piece with an upright dimension and without, and the most that the piece is tall.
_BESIDE, _CLOSE, _TALLEST = 100.0, MARGIN + 30.0, 170.0
_BOX, _THINNEST, _LARGEST = 26.0, 5.0, 12.0
#: How far the arrows of a short upright dimension stand out of it.
_ARROW = 14.0
#: Legs that are dimensioned all around; more are named on the tube.
_AROUND = 3


class _Sheet(Struct, frozen=True):
    """The drawing of a piece: its scale [units an inch] and where the point (0, 0) of its plane lies."""

    drawing: Drawing
    words: Words
    piece: Piece
    scale: float
    origin: Point
    flat: bool

    def at(self, point: Vector) -> Point:
        """Where a point lies: the second leg to the right; a piece of one leg lies level."""
        across, down = (point.x, -point.z) if self.flat else (point.z, point.x)
        return self.origin[0] + across * self.scale, self.origin[1] + down * self.scale

    @property
    def half(self) -> float:
        """Half of the tube's thickness on the drawing."""
        return max(self.piece.diameter * self.scale, _THINNEST) / 2


def draw_bent_piece(
    inputs: Mapping[str, Any],
    result: BentCutLength,
    words: Words,
    *,
    wrong: Mapping[str, float],
    solved: bool = True,
    key: str = "",
) -> str:
    """
    The piece as it has to come out, and the tube to cut.

    Args:
        inputs: Values of the calculation `bent_cut_length`.
        result: Its result.
        words: Sentences.
        wrong: A learner's value under "tube"; a dashed bar below.
        solved: Whether the length to cut is written; else a question mark.
        key: Tells apart equal figures on one page.

    Returns:
        The figure, "" where the legs leave the arcs no room.
    """
    piece = bent_piece(inputs)
    if piece is None:
        return ""
    sheet = _sheet(piece, words)
    tube = [sheet.at(piece.tube.at(station)) for station in stations(piece.tube)]
    top = min([y for _, y in tube] + _boxes(sheet, inputs)) - sheet.half
    sheet.drawing.shape(ribbon(tube, sheet.half), "fig-tube")
    level = _legs(sheet, inputs["legs"], max(y for _, y in tube) + sheet.half)
    for sentence in _notes(inputs, words):
        level = sheet.drawing.paragraph(level + 2, sentence, "fig-text fig-note")
    level = straight_tube_to_cut(sheet.drawing, words, result.tube, level + 6, wrong, solved=solved)
    about = " ".join(_sentences(inputs, result, words, solved=solved))
    return sheet.drawing.finish(
        min(top - (0 if sheet.flat else _ARROW), sheet.drawing.highest) - 4,
        level + 6,
        words("bent-piece.title"),
        about,
        key,
    )


def _sheet(piece: Piece, words: Words) -> _Sheet:
    """The scale that shows the piece with its dimensions."""
    flat = len(piece.corners) == 2
    points = [piece.tube.at(station) for station in stations(piece.tube)]
    points += piece.corners
    across = [point.x if flat else point.z for point in points]
    down = [-point.z if flat else point.x for point in points]
    wide, tall = max(across) - min(across), max(down) - min(down)
    before = _CLOSE if flat else _BESIDE
    behind = _BESIDE if len(piece.corners) > _AROUND else _CLOSE
    room = WIDTH - before - behind
    scale = min(room / max(wide, 1.0), _TALLEST / max(tall, 1.0), _LARGEST)
    left = before + (room - wide * scale) / 2
    return _Sheet(Drawing(), words, piece, scale, (left - min(across) * scale, -min(down) * scale), flat)


def _boxes(sheet: _Sheet, inputs: Mapping[str, Any]) -> list[float]:
    """A box, and its connector, at each end that has one; returns how high each reaches."""
    tops = []
    fitted, out = inputs.get("fitted_ends") or 0, (inputs.get("stands_out") or 0.0) * sheet.scale
    corners = sheet.piece.corners
    ends = [(corners[-1], corners[-2])] * (fitted > 0) + [(corners[0], corners[1])] * (fitted > 1)
    body = sheet.half + 2
    for end, before in ends:
        (x, y), (x0, y0) = sheet.at(end), sheet.at(before)
        tops.append(y - (_BOX / 2 if abs(x - x0) > abs(y - y0) else _BOX))
        if abs(x - x0) > abs(y - y0):
            way = 1.0 if x > x0 else -1.0
            sheet.drawing.rectangle((min(x, x + way * _BOX), y - _BOX / 2), _BOX, _BOX, "fig-box")
            sheet.drawing.rectangle((min(x, x - way * out), y - body), out, 2 * body, "fig-part")
        else:
            way = 1.0 if y > y0 else -1.0
            sheet.drawing.rectangle((x - _BOX / 2, min(y, y + way * _BOX)), _BOX, _BOX, "fig-box")
            sheet.drawing.rectangle((x - body, min(y, y - way * out)), 2 * body, out, "fig-part")
    return tops


def _legs(sheet: _Sheet, legs: tuple[float, ...], bottom: float) -> float:
    """The legs as they were measured: left, below, right; returns where that ends."""
    spots, written = (
        [sheet.at(corner) for corner in sheet.piece.corners],
        [sheet.words("length", length=length(leg)) for leg in legs],
    )
    if len(legs) > _AROUND:
        for (start, end), told in zip(pairwise(spots), written, strict=True):
            _on_leg(sheet, start, end, told)
        return max(bottom, sheet.drawing.lowest) + 4
    beyond = sheet.piece.beyond * sheet.scale
    if sheet.flat:
        return dimensions_below(sheet.drawing, [Dimension(spots[0][0], spots[1][0], written[0])], bottom)
    if len(legs) > 1:
        _upright(sheet, spots[0], spots[1][1] + beyond, written[0], -1.0)
    ends = (spots[1][0] - beyond, spots[2][0] + (beyond if len(legs) == _AROUND else 0.0))
    if len(legs) == _AROUND:
        _upright(sheet, spots[3], spots[2][1] + beyond, written[2], 1.0)
    return dimensions_below(sheet.drawing, [Dimension(*ends, written[1])], bottom)


def _upright(sheet: _Sheet, end: Point, lower: float, told: str, side: float) -> None:
    """A leg that stands, its dimension on the outer side."""
    x = end[0] + side * (sheet.half + 16)
    for y in (end[1], lower):
        sheet.drawing.line((end[0] + side * (sheet.half + 2), y), (x + side * 4, y), "fig-dim-thin")
    dimension_upright(sheet.drawing, x, (end[1], lower), told, side="left" if side < 0 else "right")


def _on_leg(sheet: _Sheet, start: Point, end: Point, told: str) -> None:
    """The length of a leg beside its middle."""
    x, y = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
    off = sheet.half + 6
    beside = [((x + off, y + 4), "start"), ((x - off, y + 4), "end")]
    over = [((x, y - off), "middle"), ((x, y + off + 10), "middle")]
    level = abs(end[0] - start[0]) > abs(end[1] - start[1])
    label(sheet.drawing, told, [*over, *beside] if level else [*beside, *over])


def _notes(inputs: Mapping[str, Any], words: Words) -> Iterator[str]:
    """What is given besides the legs."""
    if len(inputs["legs"]) > 1:
        side = Side(inputs.get("measured") or Side.BACK)
        yield words(f"bent-piece.{side}", gain=length(inputs["gain"]))
    if depth := inputs.get("offset_depth"):
        yield words("bent-piece.offset", depth=length(depth), shrink=length(inputs.get("shrink_per_inch") or 0.0))
    if inputs.get("fitted_ends"):
        ends = {"out": length(inputs.get("stands_out") or 0.0), "deep": length(inputs.get("goes_in") or 0.0)}
        yield words("bent-piece.ends", **ends)


def _sentences(inputs: Mapping[str, Any], result: BentCutLength, words: Words, *, solved: bool) -> Iterator[str]:
    legs = [length(leg) for leg in inputs["legs"]]
    yield words("bent-piece.about", bends=Quantity(result.bends, "bends"), legs=legs)
    yield from _notes(inputs, words)
    if solved:
        yield words("bent-piece.comes-to", tube=length(result.tube))
