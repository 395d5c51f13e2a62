"""A pull box from the front with its entries, what goes where, and the least dimensions, to scale once they are known."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from trainer.calc.message import Quantity
from trainer.calc.pull_boxes import PullBox
from trainer.calc.pull_boxes_entries import Entry, Wall
from trainer.figures.measure import text_box
from trainer.figures.svg import WIDTH, Drawing, Point
from trainer.figures.words import Words, length

__all__ = ["draw_pull_box"]

_MOST_WIDE, _MOST_HIGH, _STUB = 180.0, 150.0, 18.0
#: Sides for a dimension that nothing asks for, as a part of the other one; and units an inch before the answer.
_FREE_SIDE = 0.6
_UNSOLVED_SCALE = 5.0

_Size = tuple[float, float]


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
    corner = ((WIDTH - width) / 2, 0.0)
    drawing.rectangle(corner, width, height, "fig-box")
    places = _places(entries, corner, (width, height))
    _pulls(drawing, entries, places)
    for entry, place in zip(entries, places, strict=True):
        _entry(drawing, entry, place, scale)
    level = drawing.paragraph(
        height + _STUB + 26, words("pull-box.drawn" if known else "pull-box.not-to-scale"), "fig-text fig-note"
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


def _places(entries: Sequence[Entry], corner: Point, size: _Size) -> list[Point]:
    """Where each entry meets its wall: evenly along it, as given from left and top, on the bottom from the right."""
    found = []
    for index, entry in enumerate(entries):
        same = [place for place, other in enumerate(entries) if other.wall == entry.wall]
        part = (same.index(index) + 1) / (len(same) + 1)
        x, y = corner[0] + (1 - part if entry.wall == Wall.BOTTOM else part) * size[0], corner[1] + part * size[1]
        spot = {
            Wall.LEFT: (corner[0], y),
            Wall.RIGHT: (corner[0] + size[0], y),
            Wall.TOP: (x, corner[1]),
            Wall.BOTTOM: (x, corner[1] + size[1]),
            Wall.BACK: (x, corner[1] + size[1] / 2),
        }
        found.append(spot[entry.wall])
    return found


def _pulls(drawing: Drawing, entries: Sequence[Entry], places: Sequence[Point]) -> None:
    """A line between the two entries of each pull."""
    for pull in sorted({pull for entry in entries for pull in entry.pulls}):
        start, end = (place for entry, place in zip(entries, places, strict=True) if pull in entry.pulls)
        drawing.line(start, end, "fig-conductor")


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
