"""A raceway in section with its conductors, to scale, and a bar that says how much of the bore they take."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from trainer.calc.conductors import BARE, BARE_SOLID, ConductorGroup, dimensions
from trainer.calc.fill import RacewayFill, raceway_fill
from trainer.calc.fill_count import MaxConductors
from trainer.calc.fill_size import RacewaySize
from trainer.calc.message import Quantity
from trainer.calc.raceways import raceway_of
from trainer.figures.pile import pile
from trainer.figures.svg import MARGIN, WIDTH, Drawing, Point
from trainer.figures.words import Words

__all__ = ["draw_raceway_count", "draw_raceway_section", "draw_raceway_size"]

#: Radius of the tube outside; conductors that lie beside no tube are drawn to this many units an inch.
_RADIUS = 88.0
_LOOSE = 60.0
_BAR = 16.0

_Groups = Sequence[ConductorGroup]


def draw_raceway_section(
    inputs: Mapping[str, Any],
    result: RacewayFill,
    words: Words,
    *,
    wrong: Mapping[str, Any],
    solved: bool = True,
    key: str = "",
) -> str:
    """
    The tube with what is in it.

    Args:
        inputs: Values of the calculation `raceway_fill`.
        result: Its result.
        words: Sentences.
        wrong: A learner's percentage under "percent", dashed on the bar.
        solved: Whether the percentages are shown; else tube and conductors only.
        key: Tells apart equal figures on one page.
    """
    return _filled(inputs, inputs["conductors"], result if solved else None, words, wrong=wrong, key=key)


def draw_raceway_size(
    inputs: Mapping[str, Any],
    result: RacewaySize,
    words: Words,
    *,
    wrong: Mapping[str, Any],
    solved: bool = True,
    key: str = "",
) -> str:
    """The conductors in the smallest tube that may hold them; unsolved, the conductors alone."""
    groups = inputs["conductors"]
    if not solved:
        return _loose(groups, words, key)
    nipple = bool(inputs.get("nipple"))
    filled = raceway_fill(inputs["raceway"], result.trade_size, groups, nipple)
    return _filled({**inputs, "trade_size": result.trade_size}, groups, filled, words, wrong=wrong, key=key)


def draw_raceway_count(
    inputs: Mapping[str, Any],
    result: MaxConductors,
    words: Words,
    *,
    wrong: Mapping[str, Any],
    solved: bool = True,
    key: str = "",
) -> str:
    """The tube with as many conductors as it may hold; unsolved, with a single one beside which the room is seen."""
    size, insulation = inputs["conductor_size"], inputs["insulation"]
    if not solved or result.count == 0:
        return _filled(inputs, [ConductorGroup(1, size, insulation)], None, words, wrong=wrong, key=key)
    groups = (ConductorGroup(result.count, size, insulation),)
    filled = raceway_fill(inputs["raceway"], inputs["trade_size"], groups, bool(inputs.get("nipple")))
    return _filled(inputs, groups, filled, words, wrong=wrong, key=key)


def _filled(
    inputs: Mapping[str, Any],
    groups: _Groups,
    filled: RacewayFill | None,
    words: Words,
    *,
    wrong: Mapping[str, Any],
    key: str,
) -> str:
    """Tube, conductors, the list of them, and the bar where the result may be seen."""
    drawing = Drawing()
    tube = raceway_of(inputs["raceway"], inputs["trade_size"])
    scale = 2 * _RADIUS / tube.outside_diameter
    centre = (WIDTH / 2, _RADIUS)
    bore = tube.inside_diameter / 2
    drawing.circle(centre, _RADIUS, "fig-tube")
    drawing.circle(centre, bore * scale, "fig-bore")
    left_out = _conductors(drawing, groups, bore, centre, scale)
    name = words("raceway-section.tube", kind=inputs["raceway"].upper(), size=inputs["trade_size"])
    told = words("raceway-section.list", tube=name, conductors=_list(groups))
    level = drawing.paragraph(2 * _RADIUS + 8, told)
    if left_out:
        level = drawing.paragraph(level, words("raceway-section.left-out", count=left_out), "fig-text fig-note")
    if filled is None:
        about = words("raceway-section.asked", tube=name, conductors=_list(groups))
        return drawing.finish(-4, level + 4, words("raceway-section.title"), about, key)
    level = _bar(drawing, level + 18, filled, words, wrong.get("percent"))
    params = {"percent": Quantity(round(filled.percent, 1), "%"), "allowed": Quantity(filled.allowed_percent, "%")}
    by_count = "-by-count" if filled.percent > filled.allowed_percent + 1e-9 else ""
    verdict = words(f"raceway-section.fits{by_count}" if filled.fits else "raceway-section.fits-not", **params)
    about = words("raceway-section.about", tube=name, conductors=_list(groups), verdict=verdict)
    level = drawing.paragraph(level, verdict)
    return drawing.finish(-4, level + 4, words("raceway-section.title"), about, key)


def _list(groups: _Groups) -> str:
    return ", ".join(map(str, groups))


def _largest_first(groups: _Groups) -> list[tuple[float, ConductorGroup]]:
    """Diameter and group, once for each conductor."""
    found = [(_diameter(group), group) for group in groups for _ in range(group.count)]
    return sorted(found, key=lambda each: -each[0])


def _diameter(group: ConductorGroup) -> float:
    listed = dimensions(group.size, group.insulation)
    return listed.diameter if listed else 0.0


def _conductors(drawing: Drawing, groups: _Groups, bore: float, centre: Point, scale: float) -> int:
    """The conductors piled in the bore; returns how many found no place on the drawing."""
    each = _largest_first(groups)
    laid = pile([diameter / 2 for diameter, _ in each], bore)
    metal = {diameter / 2: _metal(group) for diameter, group in each}
    for x, y, radius in laid:
        at = (centre[0] + x * scale, centre[1] + y * scale)
        _conductor(drawing, at, radius * scale, metal[radius] * scale)
    return len(each) - len(laid)


def _conductor(drawing: Drawing, at: Point, radius: float, metal: float) -> None:
    """One conductor in section: insulation and metal."""
    drawing.circle(at, radius, "fig-insulation")
    drawing.circle(at, metal, "fig-metal")


def _metal(group: ConductorGroup) -> float:
    """Radius of the bare conductor [in]."""
    bare = dimensions(group.size, BARE) or dimensions(group.size, BARE_SOLID)
    return bare.diameter / 2 if bare else 0.0


def _loose(groups: _Groups, words: Words, key: str) -> str:
    """The conductors in rows without a tube, all to one scale."""
    drawing = Drawing()
    x, top, height = MARGIN, 0.0, 0.0
    for diameter, group in _largest_first(groups)[:200]:
        across = diameter * _LOOSE
        if x + across > WIDTH - MARGIN:
            x, top, height = MARGIN, top + height + 6, 0.0
        height = max(height, across)
        _conductor(drawing, (x + across / 2, top + across / 2), across / 2, _metal(group) * _LOOSE)
        x += across + 5
    level = drawing.paragraph(top + height + 8, words("raceway-section.loose", conductors=_list(groups)))
    about = words("raceway-section.loose", conductors=_list(groups))
    return drawing.finish(-4, level + 4, words("raceway-section.title"), about, key)


def _bar(drawing: Drawing, top: float, filled: RacewayFill, words: Words, yours: float | None) -> float:
    """The whole bore as a bar, the part that is taken, and the limit; returns where it ends."""
    width = WIDTH - 2 * MARGIN

    def at(percent: float) -> float:
        return MARGIN + width * min(100.0, max(0.0, percent)) / 100

    drawing.rectangle((MARGIN, top), width, _BAR, "fig-bore")
    drawing.rectangle((MARGIN, top), at(filled.percent) - MARGIN, _BAR, "fig-insulation")
    limit = at(filled.allowed_percent)
    drawing.line((limit, top - 4), (limit, top + _BAR + 4), "fig-limit")
    said = words("raceway-section.limit", allowed=Quantity(filled.allowed_percent, "%"))
    drawing.text((limit, top - 7), said, "fig-text fig-dim-text", "middle")
    level = top + _BAR + 18
    if isinstance(yours, int | float):
        drawing.line((at(yours), top - 2), (at(yours), top + _BAR + 4), "fig-wrong")
        drawing.text(
            (MARGIN, level), words("raceway-section.yours", percent=Quantity(yours, "%")), "fig-text fig-wrong-text"
        )
        level += 18
    return level - 10
