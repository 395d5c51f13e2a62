"""A cabinet on a wet wall and a pull box below it, from the front without its cover and from the side, not to scale."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from trainer.calc.message import Quantity
from trainer.calc.wet_wall import WetWall, drain_limits
from trainer.figures.svg import MARGIN, WIDTH, Drawing
from trainer.figures.words import Words, length, small_length

__all__ = ["draw_wet_box", "draw_wet_wall"]

_CABINET = (58.0, 0.0, 108.0, 150.0)
#: The pull box and the short tube to it: from the cabinet's left, from its underside; width, height.
_BOX = (24.0, 22.0, 60.0, 40.0)
_NIPPLE = 14.0
_SIDE = 282.0
_DEEP = 46.0
_GAP = 12.0


def draw_wet_wall(
    inputs: Mapping[str, Any],
    result: WetWall,
    words: Words,
    *,
    wrong: Mapping[str, Any],
    solved: bool = True,
    key: str = "",
) -> str:
    """
    The cabinet with its entry, its bare live parts and the air behind it, and the box below it with its drain hole.

    Args:
        inputs: Values of the calculation `wet_wall`.
        result: Its result.
        words: Sentences.
        wrong: Not drawn: what is chosen here is said beside the choice.
        solved: Whether what is amiss is said.
        key: Tells apart equal figures on one page.
    """
    del wrong
    drawing = Drawing()
    live, entry = float(inputs["live_parts"]), float(inputs["entry"])
    _front(drawing, live, entry, words)
    _side(drawing, words)
    level = _CABINET[3] + _BOX[1] + _BOX[3] + 40
    given = {
        "air": length(inputs["air_space"]),
        "drain": small_length(float(inputs["drain_hole"])),
        "live": length(live),
        "entry": length(entry),
    }
    level = drawing.paragraph(level, words("wet-wall.given", **given))
    level = drawing.paragraph(level, words("wet-wall.not-to-scale"), "fig-text fig-note")
    told = _told(result, words) if solved else []
    for sentence in told:
        level = drawing.paragraph(level, sentence)
    about = " ".join([words("wet-wall.asked", **given), *told])
    return drawing.finish(-24, level + 4, words("wet-wall.title"), about, key)


def draw_wet_box(
    inputs: Mapping[str, Any],
    result: WetWall,
    words: Words,
    *,
    wrong: Mapping[str, Any],
    solved: bool = True,
    key: str = "",
) -> str:
    """The box alone, and where a drain hole goes; solved, how wide it may be. Arguments as `draw_wet_wall`."""
    del inputs, result, wrong
    drawing = Drawing()
    _box(drawing, WIDTH / 2 - _BOX[0] - _BOX[2] / 2, 0.0, words)
    level = _BOX[1] + _BOX[3] + 40
    limits = {name: Quantity(inches, "in") for name, inches in drain_limits().items()}
    told = [words("wet-wall.drain-below"), *([words.of_core("wet_wall.no-drain", **limits)] if solved else [])]
    for sentence in told:
        level = drawing.paragraph(level, sentence)
    level = drawing.paragraph(level, words("wet-wall.not-to-scale"), "fig-text fig-note")
    return drawing.finish(-8, level + 4, words("wet-wall.drain-title"), " ".join(told), key)


def _front(drawing: Drawing, live: float, entry: float, words: Words) -> None:
    """The open cabinet: bare parts, and the entry at its side, above or below them as it is."""
    left, top, width, height = _CABINET
    drawing.rectangle((left, top), width, height, "fig-box")
    drawing.text((left + width / 2, top - 8), words("wet-wall.front"), anchor="middle")
    bar = top + height * 0.5
    for x in (left + 40, left + 58, left + 76):
        drawing.rectangle((x - 5, bar), 10, 42, "fig-metal")
    drawing.line((left - 34, bar), (left + width + 30, bar), "fig-axis")
    drawing.text((left + 58, bar + 58), words("wet-wall.live"), anchor="middle")
    above = (entry > live) - (entry < live)
    y = bar - 44 * above
    drawing.rectangle((left + width, y - 8), 44, 16, "fig-tube")
    drawing.text((left + width + 3, y - 14), words("wet-wall.entry"))
    _box(drawing, left, top + height, words)


def _box(drawing: Drawing, left: float, under: float, words: Words) -> None:
    """The pull box, the tube from the cabinet to it, and the hole in its underside."""
    along, down, width, height = _BOX
    middle = left + along + width / 2
    drawing.rectangle((middle - _NIPPLE / 2, under), _NIPPLE, down, "fig-tube")
    drawing.rectangle((left + along, under + down), width, height, "fig-box")
    drawing.text((left + along + width + 8, under + down + height / 2 + 4), words("wet-wall.box"))
    drawing.circle((middle, under + down + height), 4, "fig-bore")
    drawing.text((middle, under + down + height + 18), words("wet-wall.drain"), anchor="middle")


def _side(drawing: Drawing, words: Words) -> None:
    """Wall, air and cabinet from the side."""
    _, top, _, height = _CABINET
    drawing.rectangle((_SIDE - 16, top - 6), 16, height + 12, "fig-obstacle")
    drawing.rectangle((_SIDE + _GAP, top), _DEEP, height, "fig-box")
    for y in (top + 16, top + height - 26):
        drawing.rectangle((_SIDE, y), _GAP, 10, "fig-strap")
    drawing.text((_SIDE + 14, top - 8), words("wet-wall.side"), anchor="middle")
    drawing.line((_SIDE, top + height + 4), (_SIDE, top + height + 20), "fig-dim-thin")
    drawing.line((_SIDE + _GAP, top + height + 4), (_SIDE + _GAP, top + height + 20), "fig-dim-thin")
    drawing.text((min(_SIDE + 6, WIDTH - MARGIN), top + height + 32), words("wet-wall.air"), anchor="middle")


def _told(result: WetWall, words: Words) -> list[str]:
    """What holds and what is amiss."""
    air = (
        words("wet-wall.air-short", short=length(result.air_short)) if result.air_short else words("wet-wall.air-kept")
    )
    drain = words("wet-wall.drain-allowed" if result.drain_allowed else "wet-wall.drain-refused")
    return [air, drain, words("wet-wall.entry-listed" if result.entry_listed else "wet-wall.entry-below")]
