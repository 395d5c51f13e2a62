"""A box with what is counted in it, and the room that each kind takes, one after the other on one scale."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from trainer.calc.boxes import BoxFill
from trainer.calc.boxes_count import BoxMaxConductors
from trainer.calc.conductors import ConductorGroup
from trainer.calc.message import Quantity
from trainer.figures.svg import MARGIN, WIDTH, Drawing
from trainer.figures.words import Words

__all__ = ["draw_box_content", "draw_box_count"]

_LEFT, _RIGHT, _HEIGHT = 90.0, WIDTH - 90.0, 96.0
_BAR = 10.0
_MOST_LINES = 16

#: Kinds that are counted: the input with what there is, and the output with the room that it takes.
_KINDS = {
    "conductors": "conductor_volume",
    "loops": "loop_volume",
    "devices": "device_volume",
    "clamps": "clamp_volume",
    "studs": "stud_volume",
    "hickeys": "hickey_volume",
    "equipment_grounds": "ground_volume",
    "terminal_blocks": "terminal_volume",
}


def draw_box_content(
    inputs: Mapping[str, Any],
    result: BoxFill,
    words: Words,
    *,
    wrong: Mapping[str, Any],
    solved: bool = True,
    key: str = "",
) -> str:
    """
    The box, open, and below it what each kind takes.

    Args:
        inputs: Values of the calculation `box_fill`.
        result: Its result.
        words: Sentences.
        wrong: A learner's volume under "volume_required", dashed.
        solved: Whether volumes are shown; else only what is in the box.
        key: Tells apart equal figures on one page.
    """
    drawing = Drawing()
    _open_box(drawing, inputs)
    kinds = [kind for kind in _KINDS if inputs.get(kind)]
    said = {kind: words(f"box-content.{kind.replace('_', '-')}", what=_what(inputs[kind])) for kind in kinds}
    listed = "; ".join(said.values())
    title = words("box-content.title")
    if not solved:
        about = words("box-content.asked", what=listed)
        return drawing.finish(-6, drawing.paragraph(_HEIGHT + 10, listed) + 4, title, about, key)
    yours = wrong.get("volume_required")
    yours = float(yours) if isinstance(yours, int | float) else None
    volumes = [(said[kind], float(getattr(result, _KINDS[kind]))) for kind in kinds]
    top = _cascade(drawing, volumes, _whole(result, yours), words)
    needed = words("box-content.needed", volume=_cu_in(result.volume_required))
    level = drawing.paragraph(_limits(drawing, result, yours, top, words), needed)
    told = "; ".join(words("box-content.row", what=what, volume=_cu_in(volume)) for what, volume in volumes)
    return drawing.finish(-6, level + 4, title, words("box-content.about", rows=told, needed=needed), key)


def draw_box_count(
    inputs: Mapping[str, Any],
    result: BoxMaxConductors,
    words: Words,
    *,
    wrong: Mapping[str, Any],
    solved: bool = True,
    key: str = "",
) -> str:
    """The room of a box as a bar, cut into the allowance of one conductor; unsolved, one allowance beside the room."""
    del wrong
    drawing = Drawing()
    box = inputs["box"]
    width = WIDTH - 2 * MARGIN
    cell = width * min(1.0, result.allowance / box.volume)
    drawing.rectangle((MARGIN, 0), width, 30, "fig-left")
    for index in range(result.count if solved else min(1, result.count)):
        drawing.rectangle((MARGIN + index * cell, 0), cell, 30, "fig-insulation")
    params = {"box": box.name, "volume": _cu_in(box.volume), "size": inputs["conductor_size"], "count": result.count}
    allowance = _cu_in(result.allowance)
    about = words("box-count.about" if solved else "box-count.asked", allowance=allowance, **params)
    return drawing.finish(-4, drawing.paragraph(38, about) + 4, words("box-count.title"), about, key)


def _cu_in(volume: float) -> Quantity:
    return Quantity(volume, "cu in")


def _what(given: Sequence[ConductorGroup] | int) -> str:
    return f"{given}" if isinstance(given, int) else ", ".join(map(str, given))


def _count(given: Sequence[ConductorGroup]) -> int:
    return min(_MOST_LINES, sum(group.count for group in given))


def _open_box(drawing: Drawing, inputs: Mapping[str, Any]) -> None:
    """The box from the front: conductors from the left, grounds from below, yokes in it, clamps at the right."""
    drawing.rectangle((_LEFT, 0), _RIGHT - _LEFT, _HEIGHT, "fig-box")
    conductors = _count(inputs["conductors"])
    for index in range(conductors):
        y = 10 + index * (_HEIGHT - 30) / max(1, conductors - 1)
        drawing.line((_LEFT - 40, y), (_LEFT + 45, y), "fig-conductor")
    grounds = _count(inputs.get("equipment_grounds") or ())
    for index in range(grounds):
        x = _LEFT + 12 + index * 8
        drawing.line((x, _HEIGHT - 12), (x, _HEIGHT + 6), "fig-conductor fig-earth")
    for index in range(_count(inputs.get("devices") or ())):
        if index < 3:
            drawing.rectangle((_LEFT + 62 + index * 34, 14), 26, 66, "fig-part")
            drawing.circle((_LEFT + 75 + index * 34, 20), 2, "fig-thin")
            drawing.circle((_LEFT + 75 + index * 34, 74), 2, "fig-thin")
    for index in range(min(4, inputs.get("clamps") or 0)):
        drawing.rectangle((_RIGHT - 14, 8 + index * 21), 14, 14, "fig-ring")


def _whole(result: BoxFill, yours: float | None) -> float:
    """The volume that the full width stands for."""
    return max(result.volume_required, result.volume_available or 0.0, yours or 0.0, 1.0)


def _cascade(drawing: Drawing, volumes: Sequence[tuple[str, float]], whole: float, words: Words) -> float:
    """Each kind with its bar, beginning where the one above ends; returns where the last ends."""
    top, start = _HEIGHT + 10.0, MARGIN
    for what, volume in volumes:
        top = drawing.paragraph(top, words("box-content.row", what=what, volume=_cu_in(volume)))
        width = (WIDTH - 2 * MARGIN) * volume / whole
        drawing.rectangle((start, top), width, _BAR, "fig-insulation")
        start += width
        top += _BAR + 4
    return top


def _limits(drawing: Drawing, result: BoxFill, yours: float | None, top: float, words: Words) -> float:
    """Bars of the sum, of the box, and of a learner's sum; returns where they end."""
    whole = _whole(result, yours)
    bars = [("needed-bar", result.volume_required, "fig-insulation", "")]
    if result.volume_available is not None:
        bars.append(("box-bar", result.volume_available, "fig-left", ""))
    if yours is not None:
        bars.append(("yours-bar", max(0.0, yours), "fig-wrong", " fig-wrong-text"))
    for name, volume, bar, text in bars:
        top = drawing.paragraph(top, words(f"box-content.{name}", volume=_cu_in(volume)), f"fig-text{text}")
        drawing.rectangle((MARGIN, top), (WIDTH - 2 * MARGIN) * volume / whole, _BAR, bar)
        top += _BAR + 4
    return top
