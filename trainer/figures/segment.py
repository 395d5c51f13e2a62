"""A wide bend in many small shots: the bent tube to scale, and the shots on the straight tube."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from msgspec import Struct

from trainer.calc.segment_bend import SegmentBend
from trainer.figures.dimension import Dimension, arrowhead, dimensions_below
from trainer.figures.measure import text_box
from trainer.figures.run import Piece, Run, Station
from trainer.figures.svg import MARGIN, WIDTH, Drawing, Point
from trainer.figures.words import Words, angle, length

__all__ = ["draw_segment"]

_TALLEST, _TUBE = 190.0, 8.0
#: Of a leg whose length is not given, and of the straight tube beyond the curve, as shares of radius and curve.
_LEG, _BEYOND = 0.3, 0.08
_REACH = 46.0
#: Outputs that a learner may be asked for.
_ASKED = ("developed_length", "shot_spacing", "first_shot", "setback", "first_mark")


class _Bent(Struct, frozen=True):
    """The tube on the drawing, and where it begins to curve, curves half and ends to curve."""

    run: Run
    begin: Station
    middle: Station
    end: Station
    scale: float


def draw_segment(
    inputs: Mapping[str, Any],
    result: SegmentBend,
    words: Words,
    *,
    wrong: Mapping[str, Any],
    solved: bool = True,
    key: str = "",
) -> str:
    """
    The bend with its radius and its corner, and the developed length with its shots.

    Args:
        inputs: Values of the calculation `segment_bend`.
        result: Its result.
        words: Sentences.
        wrong: A learner's length by the output's name; spacing and first mark are drawn dashed on the straight tube.
        solved: Whether shots and lengths along the tube are shown.
        key: Tells apart equal figures on one page.
    """
    drawing = Drawing()
    level = _elevation(drawing, inputs, result, words, solved=solved)
    lines = _given(inputs, words)
    if solved:
        level = _straight(drawing, level + 22, inputs, result, words, wrong=wrong)
        lines.append(words("segment.shots", angle=angle(result.shot_angle), spacing=length(result.shot_spacing)))
        if result.first_mark is not None:
            lines.append(words("segment.first-mark", mark=length(result.first_mark)))
    for line in lines:
        level = drawing.paragraph(level + 4, line)
    for name in _ASKED:
        if name in wrong:
            yours = words("yours-is", length=length(wrong[name]))
            level = drawing.paragraph(level + 2, yours, "fig-text fig-wrong-text")
    return drawing.finish(min(-4, drawing.highest - 2), level + 4, words("segment.title"), " ".join(lines), key)


def _given(inputs: Mapping[str, Any], words: Words) -> list[str]:
    told = {"radius": length(inputs["radius"]), "angle": angle(inputs["angle"]), "shots": int(inputs["shots"])}
    if inputs.get("centre_spacing") is None:
        return [words("segment.given", **told)]
    apart = {"spacing": length(inputs["centre_spacing"]), "neighbour": int(inputs.get("neighbour") or 1)}
    return [words("segment.given-around", **told, **apart)]


def _bent(inputs: Mapping[str, Any], result: SegmentBend) -> _Bent:
    """As large as fits, the leg that is measured level at the bottom."""
    leg = result.own_radius * _LEG
    first = leg if inputs.get("distance") is None else inputs["distance"] - result.setback
    pieces = [Piece(first), Piece(result.developed_length, inputs["angle"]), Piece(leg)]
    trial = Run((0, 0), 0, pieces, 1.0)
    corner = first + result.setback
    wide = max(corner, *(station.point[0] for station in trial.stations)) - min(
        0.0, *(station.point[0] for station in trial.stations)
    )
    tall = -min(station.point[1] for station in trial.stations)
    scale = min((WIDTH - 2 * MARGIN - _TUBE - 10) / wide, _TALLEST / tall)
    left = (WIDTH - wide * scale) / 2 - min(0.0, *(station.point[0] for station in trial.stations)) * scale
    run = Run((left, tall * scale + _TUBE), 0, pieces, scale)
    curve = result.developed_length
    return _Bent(run, run.at(first), run.at(first + curve / 2), run.at(first + curve), scale)


def _elevation(
    drawing: Drawing, inputs: Mapping[str, Any], result: SegmentBend, words: Words, *, solved: bool
) -> float:
    bent = _bent(inputs, result)
    _inner_tubes(drawing, inputs, bent)
    drawing.path(bent.run.outline(_TUBE), "fig-tube")
    base = bent.begin.point[1]
    corner = (bent.begin.point[0] + result.setback * bent.scale, base)
    drawing.line(bent.begin.point, corner, "fig-axis")
    drawing.line(corner, bent.end.point, "fig-axis")
    if solved:
        _shots(drawing, inputs, result, bent)
    if solved or inputs.get("centre_spacing") is None:
        _radius(drawing, result.own_radius, bent, words)
    below = []
    if inputs.get("distance") is not None:
        start = bent.run.stations[0].point[0]
        below.append(Dimension(start, corner[0], words("segment.to-corner", length=length(inputs["distance"]))))
    if solved:
        below.append(Dimension(bent.begin.point[0], corner[0], words("segment.setback", length=length(result.setback))))
    return dimensions_below(drawing, below, base + _TUBE / 2 + 2)


def _shots(drawing: Drawing, inputs: Mapping[str, Any], result: SegmentBend, bent: _Bent) -> None:
    """The middle of each shot, across the bent tube."""
    before = bent.run.pieces[0].length if bent.run.pieces[0].turn == 0 else 0.0
    for shot in range(int(inputs["shots"])):
        station = bent.run.at(before + result.first_shot + shot * result.shot_spacing)
        drawing.line(station.beside(-_TUBE / 2 - 2), station.beside(_TUBE / 2 + 2), "fig-tick")


def _inner_tubes(drawing: Drawing, inputs: Mapping[str, Any], bent: _Bent) -> None:
    """The tubes inside around the same centre, as far as the question has them."""
    if inputs.get("centre_spacing") is None:
        return
    count, (x, base) = int(inputs.get("neighbour") or 1), bent.run.stations[0].point
    for tube in range(count):
        radius = inputs["radius"] + tube * inputs["centre_spacing"]
        nearer = (count - tube) * inputs["centre_spacing"] * bent.scale
        curve = Piece(radius * math.radians(inputs["angle"]), inputs["angle"])
        run = Run((x, base - nearer), 0, [bent.run.pieces[0], curve, bent.run.pieces[-1]], bent.scale)
        drawing.path(run.outline(_TUBE), "fig-tube")


def _radius(drawing: Drawing, radius: float, bent: _Bent, words: Words) -> None:
    """An arrow from the side of the centre to the centre line of the curve, with the radius on it."""
    tip, from_centre = bent.middle.point, bent.middle.beside(-min(_REACH, radius * bent.scale))
    along = math.hypot(tip[0] - from_centre[0], tip[1] - from_centre[1])
    toward: Point = ((tip[0] - from_centre[0]) / along, (tip[1] - from_centre[1]) / along)
    drawing.line(from_centre, tip, "fig-dim")
    arrowhead(drawing, tip, toward, "fig-dim")
    said = words("segment.radius", length=length(radius))
    for anchor, shift in (("end", -5.0), ("middle", 0.0), ("start", 5.0)):
        at = (from_centre[0] + shift, from_centre[1] - 2)
        if drawing.is_free(text_box(*at, said, anchor)):
            drawing.text(at, said, "fig-text fig-dim-text", anchor)
            return


def _straight(
    drawing: Drawing,
    top: float,
    inputs: Mapping[str, Any],
    result: SegmentBend,
    words: Words,
    *,
    wrong: Mapping[str, Any],
) -> float:
    """The stretch of straight tube that becomes the curve, with the middle of each shot; returns where it ends."""
    curve = result.developed_length
    scale = (WIDTH - 2 * MARGIN) / (curve * (1 + 2 * _BEYOND))

    def at(place: float) -> float:
        return MARGIN + (curve * _BEYOND + place) * scale

    drawing.rectangle((MARGIN, top), WIDTH - 2 * MARGIN, 2 * _TUBE, "fig-tube")
    places = [result.first_shot + shot * result.shot_spacing for shot in range(int(inputs["shots"]))]
    for place in places:
        drawing.open_group("fig-at", position=place, kind="shot")
        drawing.line((at(place), top - 4), (at(place), top + 2 * _TUBE + 4), "fig-mark")
        drawing.close_group()
    for place in _yours(inputs, result, wrong):
        if -curve * _BEYOND <= place <= curve * (1 + _BEYOND):
            drawing.open_group("fig-at", position=place, kind="yours")
            drawing.line((at(place), top - 10), (at(place), top + 2 * _TUBE + 10), "fig-wrong")
            drawing.close_group()
    spacing = words("length", length=length(result.shot_spacing))
    half = words("length", length=length(result.first_shot))
    below = [
        Dimension(at(0), at(places[0]), half),
        Dimension(at(places[-2]), at(places[-1]), spacing),
        Dimension(at(0), at(curve), words("segment.developed", length=length(curve))),
    ]
    return dimensions_below(drawing, below, top + 2 * _TUBE + 10)


def _yours(inputs: Mapping[str, Any], result: SegmentBend, wrong: Mapping[str, Any]) -> list[float]:
    """Where a learner's shots would lie, from the beginning of the curve."""
    if "shot_spacing" in wrong:
        spacing = wrong["shot_spacing"]
        return [spacing / 2 + shot * spacing for shot in range(int(inputs["shots"]))]
    if "first_mark" in wrong and result.first_mark is not None:
        return [wrong["first_mark"] - result.first_mark + result.first_shot]
    return []
