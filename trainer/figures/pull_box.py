"""A pull box from the front with its entries, what goes where, and the least dimensions, to scale once they are known."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import Any

from trainer.calc.message import Quantity
from trainer.calc.pull_boxes import PullBox
from trainer.calc.pull_boxes_entries import Entry, Wall
from trainer.figures.dimension import Dimension, dimension_upright, dimensions_below
from trainer.figures.measure import text_box, text_width
from trainer.figures.svg import WIDTH, Drawing, Point
from trainer.figures.words import Words, length

__all__ = ["draw_pull_box"]

_MOST_WIDE, _MOST_HIGH, _STUB = 168.0, 150.0, 18.0
#: From a box to its upright dimension line, beyond entries and their sizes; how far the box gives way to it.
_CLEAR, _ASIDE = 14.0, 20.0
#: Sides for a dimension that nothing asks for, as a part of the other one; and units an inch before the answer.
_FREE_SIDE = 0.6
_UNSOLVED_SCALE = 5.0

_Size = tuple[float, float]
#: How a pull that comes back to its wall reaches into the box.
_INWARD = {Wall.LEFT: (44.0, 0.0), Wall.RIGHT: (-44.0, 0.0), Wall.TOP: (0.0, 44.0), Wall.BOTTOM: (0.0, -44.0)}


def draw_pull_box(
    inputs: Mapping[str, Any],
    result: PullBox,
    words: Words,
    *,
    wrong: Mapping[str, Any],
    solved: bool = True,
    key: str = "",
) -> str:
    """
    The box with its entries.

    Args:
        inputs: Values of the calculation `pull_box`.
        result: Its result.
        words: Sentences.
        wrong: A learner's lengths under "width", "height" or "spacing"; said below.
        solved: Whether the dimensions are shown; else a box that is not to scale.
        key: Tells apart equal figures on one page.
    """
    drawing = Drawing()
    entries: Sequence[Entry] = inputs["entries"]
    known = solved and bool(result.width or result.height)
    width, height, scale = _size(result) if known else (_MOST_WIDE, _MOST_HIGH, _UNSOLVED_SCALE)
    corner = ((WIDTH - width) / 2 - (_ASIDE if known and result.height else 0.0), 0.0)
    drawing.rectangle(corner, width, height, "fig-box")
    places = _places(entries, corner, (width, height))
    _pulls(drawing, entries, places)
    for entry, place in zip(entries, places, strict=True):
        _entry(drawing, entry, place, scale)
    foot = _measured(drawing, entries, result, (corner, (width, height)), words) if known else height + _STUB + 10
    level = drawing.paragraph(
        foot + 16, words("pull-box.drawn" if known else "pull-box.not-to-scale"), "fig-text fig-note"
    )
    told = _dimensions(result, words) if solved else []
    for sentence in told:
        level = drawing.paragraph(level, sentence)
    for name in ("width", "height", "spacing"):
        if solved and isinstance(wrong.get(name), int | float):
            level = drawing.paragraph(
                level, words("pull-box.yours", length=length(float(wrong[name]))), "fig-text fig-wrong-text"
            )
    listed = "; ".join(_pulls_said(entries, words))
    about = words("pull-box.about" if told else "pull-box.asked", entries=listed, dimensions=" ".join(told))
    return drawing.finish(-_STUB - 22, level + 4, words("pull-box.title"), about, key)


def _size(result: PullBox) -> tuple[float, float, float]:
    """Width and height on the drawing, and units an inch."""
    width = result.width or _FREE_SIDE * (result.height or 0.0)
    height = result.height or _FREE_SIDE * (result.width or 0.0)
    scale = min(_MOST_WIDE / width, _MOST_HIGH / height)
    return width * scale, height * scale, scale


def _measured(
    drawing: Drawing, entries: Sequence[Entry], result: PullBox, box: tuple[Point, _Size], words: Words
) -> float:
    """The dimensions that are asked for, outside of the entries and their sizes; how far down they reach."""
    (left, top), (width, height) = box
    right, foot = left + width, top + height
    beside = max((text_width(one.trade_size, "fig-text") for one in entries if one.wall == Wall.RIGHT), default=None)
    below = any(entry.wall == Wall.BOTTOM for entry in entries)
    if result.height:
        x = right + _CLEAR + (0.0 if beside is None else _STUB + beside)
        for y in (top, foot):
            drawing.line((right + 2, y), (x + 4, y), "fig-dim-thin")
        dimension_upright(drawing, x, (top, foot), words("length", length=length(result.height)))
    level = foot + (_STUB + 20 if below else 0.0)
    if not result.width:
        return level
    return dimensions_below(
        drawing, [Dimension(left, right, words("length", length=length(result.width)), foot)], level
    )


def _places(entries: Sequence[Entry], corner: Point, size: _Size) -> list[Point]:
    """
    Where each entry meets its wall: evenly along it, as given from left and top, on the bottom from the right; a wall
    with straight pulls only has each across from its other end.
    """
    found, parts = [], _parts(entries)
    for entry, part in zip(entries, parts, strict=True):
        x, y = corner[0] + part * size[0], corner[1] + part * size[1]
        spot = {
            Wall.LEFT: (corner[0], y),
            Wall.RIGHT: (corner[0] + size[0], y),
            Wall.TOP: (x, corner[1]),
            Wall.BOTTOM: (x, corner[1] + size[1]),
            Wall.BACK: (x, corner[1] + size[1] / 2),
        }
        found.append(spot[entry.wall])
    return found


def _parts(entries: Sequence[Entry]) -> list[float]:
    """How far along its wall each entry sits, from left or from the top, as a part of the wall."""
    parts = []
    for index, entry in enumerate(entries):
        same = [place for place, other in enumerate(entries) if other.wall == entry.wall]
        part = (same.index(index) + 1) / (len(same) + 1)
        parts.append(1 - part if entry.wall == Wall.BOTTOM else part)
    across = [_across(entries, place) for place in range(len(entries))]
    for wall in (Wall.RIGHT, Wall.BOTTOM, Wall.LEFT, Wall.TOP):
        here = [place for place, entry in enumerate(entries) if entry.wall == wall]
        partners = [partner for place in here if (partner := across[place]) is not None]
        if here and len(partners) == len(here):
            for place, partner in zip(here, partners, strict=True):
                parts[place] = parts[partner]
            break
    return parts


def _across(entries: Sequence[Entry], place: int) -> int | None:
    """The other end of an entry's one pull, where that goes straight through."""
    opposite = {Wall.LEFT: Wall.RIGHT, Wall.RIGHT: Wall.LEFT, Wall.TOP: Wall.BOTTOM, Wall.BOTTOM: Wall.TOP}
    entry = entries[place]
    ends = [other for other, one in enumerate(entries) if other != place and set(one.pulls) & set(entry.pulls)]
    return ends[0] if len(ends) == 1 and entries[ends[0]].wall == opposite.get(entry.wall) else None


def _pulls(drawing: Drawing, entries: Sequence[Entry], places: Sequence[Point]) -> None:
    """A line between the two entries of each pull."""
    for pull in sorted({pull for entry in entries for pull in entry.pulls}):
        (entry, start), (other, end) = (
            (entry, place) for entry, place in zip(entries, places, strict=True) if pull in entry.pulls
        )
        if entry.wall != other.wall or entry.wall == Wall.BACK:
            drawing.line(start, end, "fig-conductor")
            continue
        (across, down) = _INWARD[entry.wall]
        turns = [(x + across, y + down) for x, y in (start, end)]
        for here, there in pairwise((start, *turns, end)):  # Out of one entry and back into the next: a U.
            drawing.line(here, there, "fig-conductor")


def _entry(drawing: Drawing, entry: Entry, place: Point, scale: float) -> None:
    """The end of a raceway, as thick as its trade size, with its size beside it where there is room."""
    half = entry.inches * scale / 2
    x, y = place
    if entry.wall == Wall.BACK:
        drawing.circle(place, half, "fig-bore")
        return
    across = {Wall.LEFT: (-_STUB, 0.0), Wall.RIGHT: (0.0, _STUB)}.get(entry.wall)
    if across:
        drawing.rectangle((x + across[0], y - half), _STUB, 2 * half, "fig-tube")
        at, anchor = ((x - _STUB - 5, y + 4), "end") if entry.wall == Wall.LEFT else ((x + _STUB + 5, y + 4), "start")
    else:
        top = entry.wall == Wall.TOP
        drawing.rectangle((x - half, y - _STUB if top else y), 2 * half, _STUB, "fig-tube")
        at, anchor = ((x, y - _STUB - 5 if top else y + _STUB + 15), "middle")
    if drawing.is_free(text_box(*at, entry.trade_size, anchor)):
        drawing.text(at, entry.trade_size, "fig-text", anchor)


def _pulls_said(entries: Sequence[Entry], words: Words) -> list[str]:
    """Each pull, and each entry whose conductors end in the box, as a sentence."""
    said = []
    for pull in sorted({pull for entry in entries for pull in entry.pulls}):
        start, end = (entry for entry in entries if pull in entry.pulls)
        said.append(words("pull-box.pull", start=start.message(), end=end.message()))
    return said + [words("pull-box.splice", start=entry.message()) for entry in entries if not entry.pulls]


def _dimensions(result: PullBox, words: Words) -> list[str]:
    """The least dimensions that are asked for."""
    asked = {"width": result.width, "height": result.height, "depth": result.depth, "spacing": result.spacing}
    said = [words(f"pull-box.{name}", length=Quantity(value, "in")) for name, value in asked.items() if value]
    return said or [words("pull-box.nothing")]
