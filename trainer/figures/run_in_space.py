"""A run of 90s that leaves its plane: the bent tube from the side and from above, each leg with its length."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from trainer.calc.layout import BendProgram, Move, lay_out
from trainer.calc.layout_space import Frame, Vector
from trainer.calc.layout_tube import Centreline
from trainer.calc.run_in_space import RunInSpace
from trainer.calc.shoes import DEFAULT_SHOE, Shoe
from trainer.calc.ways import STEPS, Direction, Way
from trainer.figures.bend_elevation import stations
from trainer.figures.callout import label
from trainer.figures.measure import Box, text_box
from trainer.figures.svg import MARGIN, WIDTH, Drawing, Point
from trainer.figures.tube import ribbon
from trainer.figures.words import Words, length

__all__ = ["draw_run_in_space"]

_TALLEST = 150.0
_BESIDE = 64.0
_THINNEST = 5.0
_SAME = 1e-3
#: Along a leg, where its label is tried.
_SHARES = (0.5, 0.3, 0.7, 0.85, 1.0)

Flat = Callable[[Vector], Point]


def draw_run_in_space(
    inputs: Mapping[str, Any],
    result: RunInSpace,
    words: Words,
    *,
    wrong: Mapping[str, float],
    solved: bool = True,
    key: str = "",
) -> str:
    """
    The run in two views.

    Args:
        inputs: Values of the calculation `run_in_space`.
        result: Its result.
        words: Sentences.
        wrong: A learner's distance by the output's name; it is written below.
        solved: Whether it is told where the end comes out; else only the legs.
        key: Tells apart equal figures on one page.
    """
    legs, shoe = inputs["legs"], inputs.get("shoe") or DEFAULT_SHOE
    tube = _bent(legs, result, shoe)
    drawing, level = Drawing(), 0.0
    views: tuple[tuple[str, Flat], ...] = (
        ("side", lambda point: (point.x, point.z)),
        ("above", lambda point: (point.x, point.y)),
    )
    for name, flat in views:
        level = drawing.paragraph(level + 6, words(f"run-in-space.{name}"), "fig-text fig-heading")
        level = _view(drawing, level + 16, tube, flat, legs=legs, shoe=shoe, words=words)
    level = drawing.paragraph(level + 6, words("run-in-space.ring"), "fig-text fig-note")
    told = _told(legs, result, words)
    if solved:
        level = drawing.paragraph(level, words("run-in-space.end", place=told["place"]), "fig-text fig-note")
        for value in wrong.values():
            if isinstance(value, int | float):
                yours = words("run-in-space.yours", length=length(value))
                level = drawing.paragraph(level, yours, "fig-text fig-wrong-text")
    about = words("run-in-space.about", **told) if solved else words("run-in-space.asked", legs=told["legs"])
    return drawing.finish(-4, level + 6, words("run-in-space.title"), about, key)


def _told(legs: Sequence[Way], result: RunInSpace, words: Words) -> dict[str, object]:
    """The legs, and where the end lies, in words."""

    def far(value: float, onward: Direction, backward: Direction) -> str:
        way = Way(onward if value >= 0 else backward, abs(value)).message()
        return words.of_core(way.id, **way.params)

    said = [leg.message() for leg in legs]
    places = (
        (result.ahead, Direction.AHEAD, Direction.BACK),
        (result.left, Direction.LEFT, Direction.RIGHT),
        (result.up, Direction.UP, Direction.DOWN),
    )
    return {
        "legs": ", ".join(words.of_core(one.id, **one.params) for one in said),
        "place": ", ".join(str(far(*one)) for one in places if abs(one[0]) > _SAME),
    }


def _bent(legs: Sequence[Way], result: RunInSpace, shoe: Shoe) -> Centreline:
    """The tube in space, its first leg and its first bend the way they go."""
    last, radius = len(legs) - 1, shoe.radius
    straight = [leg.length - radius * (1 if at in {0, last} else 2) for at, leg in enumerate(legs)]
    moves = [Move(feed, roll, 90.0, radius) for feed, roll in zip(straight, result.rolls, strict=False)]
    along, up = (Vector(*map(float, STEPS[leg.direction])) for leg in legs[:2])
    return lay_out(BendProgram(tuple(moves), straight[-1]), Frame(Vector(0.0, 0.0, 0.0), along, up))


def _view(
    drawing: Drawing, top: float, tube: Centreline, flat: Flat, *, legs: Sequence[Way], shoe: Shoe, words: Words
) -> float:
    """One view from `top` down; returns where it ends."""
    points = [flat(tube.at(station)) for station in stations(tube)]
    left, right = min(x for x, _ in points), max(x for x, _ in points)
    low, high = min(y for _, y in points), max(y for _, y in points)
    room = WIDTH - 2 * MARGIN - 2 * _BESIDE
    scale = min(room / max(right - left, 1.0), _TALLEST / max(high - low, 1.0), 6.0)
    half = max(shoe.outside_diameter * scale, _THINNEST) / 2
    middle = (WIDTH - (left + right) * scale) / 2

    def at(point: Point) -> Point:
        return middle + point[0] * scale, top + half + (high - point[1]) * scale

    start = at(flat(tube.start))
    _tube(drawing, [at(point) for point in points], half)
    for leg in tube.legs:
        if abs(_turned(leg.along, flat)) < _SAME:
            drawing.circle(at(flat(leg.start)), half + 2.5, "fig-tube")
            drawing.circle(at(flat(leg.start)), half - 0.5, "fig-bore")
    drawing.rectangle((start[0] - half - 3, start[1] - half - 3), 2 * half + 6, 2 * half + 6, "fig-box")
    bottom = top + 2 * half + (high - low) * scale
    _label(drawing, words("run-in-space.start"), [start], half, "below", others=[])
    seen = [
        one for one in zip(range(1, 1 + len(legs)), tube.legs, legs, strict=True) if _turned(one[1].along, flat) > _SAME
    ]
    boxes = [_box(at(flat(leg.start)), at(flat(leg.end)), half) for _, leg, _ in seen]
    for number, leg, way in seen:
        said = words("run-in-space.leg", number=number, length=length(way.length))
        upright = abs(flat(leg.along)[0]) < _SAME
        spots = [at(flat(leg.at(leg.length * share))) for share in _SHARES]
        _label(drawing, said, spots, half, "beside" if upright else "above", others=boxes)
    return max(bottom, drawing.lowest) + 4


def _turned(along: Vector, flat: Flat) -> float:
    """How much of a leg is seen in a view: 0 for one that points at the one who looks."""
    x, y = flat(along)
    return abs(x) + abs(y)


def _tube(drawing: Drawing, line: Sequence[Point], half: float) -> None:
    """The tube, without the points that fall onto each other in this view."""
    kept = [line[0]]
    kept += [point for point in line[1:] if abs(point[0] - kept[-1][0]) + abs(point[1] - kept[-1][1]) > _SAME]
    seen: list[Point] = []
    for point in kept:
        if not seen or abs(point[0] - seen[-1][0]) + abs(point[1] - seen[-1][1]) > _SAME:
            seen.append(point)
    if len(seen) > 1:
        drawing.shape(ribbon(seen, half), "fig-tube")


#: Where a label is tried first, and then.
_ORDER = {
    "above": ("over", "under", "right", "left"),
    "beside": ("right", "left", "over", "under"),
    "below": ("under", "left", "over", "right"),
}


def _label(
    drawing: Drawing, said: str, along: Sequence[Point], half: float, where: str, *, others: Sequence[Box]
) -> None:
    """
    A label beside one of these points, clear of the other legs if it can be.

    Left out where there is no room beside any, as the text tells it all the same.
    """
    free = [
        spot
        for point in along
        for spot in _spots(point, half, where)
        if drawing.is_free(text_box(*spot[0], said, spot[1], "fig-text"))
    ]
    clear = [
        spot for spot in free if not any(text_box(*spot[0], said, spot[1], "fig-text").meets(box) for box in others)
    ]
    if free:
        label(drawing, said, (clear or free)[:1])


def _spots(point: Point, half: float, where: str) -> list[tuple[Point, str]]:
    """Where a label may stand beside a point, the best first."""
    (x, y), off = point, half + 8
    spots: dict[str, tuple[Point, str]] = {
        "over": ((x, y - off), "middle"),
        "right": ((x + off, y + 5), "start"),
        "left": ((x - off, y + 5), "end"),
        "under": ((x, y + off + 10), "middle"),
    }
    return [spots[name] for name in _ORDER[where]]


def _box(start: Point, end: Point, half: float) -> Box:
    """What a leg takes of the drawing."""
    (left, right), (top, bottom) = (sorted(pair) for pair in zip(start, end, strict=True))
    return Box(left - half, top - half, right + half, bottom + half)
