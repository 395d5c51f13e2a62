"""A level run through framing: from the side along the run, and one piece of framing with its opening, both to scale."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Any

from trainer.calc.framing_support import FramingSupport
from trainer.calc.length import write_length
from trainer.calc.raceways import raceway_of
from trainer.figures.dimension import Dimension, dimension_upright, dimensions_below
from trainer.figures.hatch import section
from trainer.figures.svg import MARGIN, WIDTH, Drawing
from trainer.figures.words import Words, length

__all__ = ["draw_framing"]

_BOX, _TUBE, _HIGH = 20.0, 7.0, 66.0
_LEFT, _RIGHT = MARGIN + _BOX, WIDTH - MARGIN - _BOX
#: The tube that is drawn in the opening, and what a hole is wider than it [in]; height of the detail on the drawing.
_TUBE_SIZE, _LOOSE, _DETAIL = "3/4", 0.08, 118.0
_MIDDLE = 132.0
#: How thick a piece stands in the run, and how high or wide it is seen along the tube [in]: usual sizes, for the drawing.
_DRAWN: Mapping[str, tuple[float, float]] = MappingProxyType(
    {
        "wood-studs": (1.5, 3.5),
        "metal-studs": (1.25, 3.625),
        "joists": (1.5, 9.25),
        "trusses": (1.5, 3.5),
        "frames": (6.0, 12.0),
    }
)


def draw_framing(
    inputs: Mapping[str, Any],
    result: FramingSupport,
    words: Words,
    *,
    wrong: Mapping[str, Any],
    solved: bool = True,
    key: str = "",
) -> str:
    """
    Panel, framing, tube and box from the side; below it one piece of framing, seen along the tube.

    Args:
        inputs: Values of the calculation `framing_support`.
        result: Its result.
        words: Sentences.
        wrong: Has no place here.
        solved: Whether the fasteners are shown that the rule asks for.
        key: Tells apart equal figures on one page.
    """
    del wrong
    drawing, kind = Drawing(), str(inputs["framing"])
    run, spacing = float(inputs["run_length"]), float(inputs["spacing"])
    level = _elevation(drawing, kind, run, spacing, result if solved else None)
    edge = inputs.get("edge") if kind in _BORED else None
    level = _detail(drawing, kind, edge, level + 26, words)
    params = {
        "run": write_length(run, feet=True),
        "spacing": write_length(spacing, feet=True),
        "framing": words(f"framing.{kind}"),
        "edge": length(float(edge or 0.0)),
    }
    told = [words("framing.about", **params)]
    if edge is not None:
        told.append(words("framing.edge", **params))
    if solved:
        places = [write_length(place, denominator=1, feet=True) for place in result.positions]
        told.append(words("framing.carried" if result.carried else "framing.not-carried"))
        told.append(words("framing.fasteners", count=result.straps, places=places))
    for sentence in told[2 if edge is not None else 1 :]:
        level = drawing.paragraph(level, sentence)
    level = drawing.paragraph(level, words("framing.scale"), "fig-text fig-note")
    return drawing.finish(-_HIGH / 2 - 22, level + 4, words("framing.title"), " ".join(told), key)


def _elevation(drawing: Drawing, kind: str, run: float, spacing: float, found: FramingSupport | None) -> float:
    """The run from the side; returns where its dimensions end."""
    scale = (_RIGHT - _LEFT) / run
    thick = max(2.4, _DRAWN[kind][0] * scale)
    places = [spacing * nth for nth in range(1, int((run - 1e-6) // spacing) + 1)]
    for place in places:
        x = _LEFT + place * scale
        drawing.open_group("fig-at", position=place, kind="framing")
        drawing.rectangle((x - thick / 2, -_HIGH / 2), thick, _HIGH, "fig-obstacle")
        drawing.close_group()
    drawing.rectangle((_LEFT, -_TUBE / 2), _RIGHT - _LEFT, _TUBE, "fig-tube")
    drawing.rectangle((MARGIN, -_BOX * 0.8), _BOX, _BOX * 1.6, "fig-box")
    drawing.rectangle((_RIGHT, -_BOX / 2), _BOX, _BOX, "fig-box")
    for position in found.positions if found else ():
        x = _LEFT + position * scale
        drawing.open_group("fig-at", position=position, kind="strap")
        drawing.rectangle((x - 3, -_TUBE / 2 - 3), 6, _TUBE + 6, "fig-strap")
        drawing.close_group()
        drawing.line((x, -_TUBE / 2 - 3), (x, -_HIGH / 2 - 4), "fig-mark")
    middle = places[len(places) // 2 - 1] if len(places) > 1 else 0.0
    lines = [Dimension(_LEFT, _RIGHT, write_length(run, feet=True))]
    if places:
        start, end = _LEFT + middle * scale, _LEFT + (middle + spacing) * scale
        lines.append(Dimension(start, end, write_length(spacing, feet=True)))
    return dimensions_below(drawing, lines, _HIGH / 2 + 4)


def _detail(drawing: Drawing, kind: str, edge: Any, top: float, words: Words) -> float:
    """One piece of framing with the tube in its opening, seen along the tube; returns where it ends."""
    high = _DRAWN[kind][1]
    scale = _DETAIL / high
    radius = raceway_of("emt", _TUBE_SIZE).outside_diameter / 2
    hole = radius + _LOOSE
    drawing.text((MARGIN, top), words("framing.along"), "fig-text fig-note")
    top += 12
    # Studs stand: what is their width in the wall lies level in the picture. All others lie, and their height stands.
    low = hole + float(edge) if edge is not None else high / 2
    centre = _DETAILS[kind](drawing, top, scale, high, low)
    drawing.circle(centre, hole * scale, "fig-bore")
    drawing.circle(centre, radius * scale, "fig-tube")
    drawing.circle(centre, (radius - 0.05) * scale, "fig-bore")
    if edge is None:
        return top + _DETAIL + 8
    said = write_length(float(edge))
    if kind in _STANDING:
        left = _MIDDLE - high * scale / 2
        line = Dimension(left, centre[0] - hole * scale, said, base=centre[1])
        return dimensions_below(drawing, [line], top + _DETAIL + 2) + 6
    bottom = top + _DETAIL
    dimension_upright(drawing, centre[0] + 66, (centre[1] + hole * scale, bottom), said)
    drawing.line((centre[0], centre[1] + hole * scale), (centre[0] + 70, centre[1] + hole * scale), "fig-dim-thin")
    return bottom + 8


def _stud(drawing: Drawing, top: float, scale: float, high: float, low: float) -> tuple[float, float]:
    """The broad face of a wood stud, broken off above and below; its width in the wall lies level."""
    left = _MIDDLE - high * scale / 2
    drawing.rectangle((left, top), high * scale, _DETAIL, "fig-obstacle")
    return left + low * scale, top + _DETAIL / 2


def _metal_stud(drawing: Drawing, top: float, scale: float, high: float, low: float) -> tuple[float, float]:
    """The web of a metal stud with its punched opening."""
    left = _MIDDLE - high * scale / 2
    drawing.rectangle((left, top), high * scale, _DETAIL, "fig-part")
    for x in (left + 5, left + high * scale - 5):
        drawing.line((x, top), (x, top + _DETAIL), "fig-thin")
    wide, tall = 1.5 * scale, 3.0 * scale
    drawing.rectangle((_MIDDLE - wide / 2, top + (_DETAIL - tall) / 2), wide, tall, "fig-bore")
    del low
    return _MIDDLE, top + (_DETAIL + tall) / 2 - 0.55 * scale


def _joist(drawing: Drawing, top: float, scale: float, high: float, low: float) -> tuple[float, float]:
    """The broad face of a joist, broken off at both sides."""
    drawing.rectangle((_MIDDLE - 100, top), 200, high * scale, "fig-obstacle")
    return _MIDDLE, top + (high - low) * scale


def _truss(drawing: Drawing, top: float, scale: float, high: float, low: float) -> tuple[float, float]:
    """The bottom chord and the two webs that meet on it; the tube lies on the chord."""
    deep = high * scale * 0.34
    bottom = top + _DETAIL
    radius = raceway_of("emt", _TUBE_SIZE).outside_diameter / 2 + _LOOSE
    for side in (-1, 1):
        foot, head = _MIDDLE + side * 54, _MIDDLE + side * 92
        corners = [(foot, bottom - deep), (foot + side * 24, bottom - deep), (head + side * 24, top), (head, top)]
        drawing.shape(corners, "fig-obstacle")
    drawing.rectangle((_MIDDLE - 118, bottom - deep), 236, deep, "fig-obstacle")
    del low
    return _MIDDLE, bottom - deep - radius * scale


def _frame(drawing: Drawing, top: float, scale: float, high: float, low: float) -> tuple[float, float]:
    """A steel beam from the side: two flanges and the web between them, with a round opening cut in it."""
    flange = 0.5 * scale
    drawing.rectangle((_MIDDLE - 100, top), 200, high * scale, "fig-part")
    for y in (top, top + high * scale - flange):
        section(drawing, [(_MIDDLE - 100, y), (_MIDDLE + 100, y), (_MIDDLE + 100, y + flange), (_MIDDLE - 100, y + flange)], "fig-part")  # fmt: skip
    drawing.circle((_MIDDLE, top + high * scale / 2), 2.4 * scale, "fig-bore")
    del low
    radius = raceway_of("emt", _TUBE_SIZE).outside_diameter / 2 + _LOOSE
    return _MIDDLE, top + high * scale / 2 + (2.4 - radius) * scale


#: Pieces of framing that stand, so that their edges lie left and right of the hole.
_STANDING = ("wood-studs", "metal-studs")
#: Pieces whose hole is bored, and somewhere between two edges.
_BORED = ("wood-studs", "joists")
_DETAILS: Mapping[str, Callable[[Drawing, float, float, float, float], tuple[float, float]]] = MappingProxyType(
    {"wood-studs": _stud, "metal-studs": _metal_stud, "joists": _joist, "trusses": _truss, "frames": _frame}
)
