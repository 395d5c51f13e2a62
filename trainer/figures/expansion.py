"""A run that is held fast at one end, cold and warm, one below the other; the movement drawn larger than it is."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from msgspec import Struct

from trainer.calc.expansion import ThermalChange
from trainer.calc.expansion_setting import ExpansionSetting, fahrenheit
from trainer.calc.length import write_length
from trainer.calc.message import Quantity
from trainer.figures.dimension import Dimension, dimensions_below
from trainer.figures.svg import MARGIN, WIDTH, Drawing
from trainer.figures.words import Words

__all__ = ["draw_expansion", "draw_expansion_setting"]

_LEFT = MARGIN + 26.0
#: End of the run at its coldest and at its hottest.
_COLD, _WARM = 176.0, 330.0
_TUBE, _ROW = 9.0, 36.0


class _Bar(Struct, frozen=True):
    """The run at one temperature: what is said above it, and how much of the movement it has done."""

    said: str
    part: float

    @property
    def end(self) -> float:
        return _COLD + self.part * (_WARM - _COLD)


def draw_expansion(
    inputs: Mapping[str, Any],
    result: ThermalChange,
    words: Words,
    *,
    wrong: Mapping[str, Any],
    solved: bool = True,
    key: str = "",
) -> str:
    """
    The run cold and warm.

    Args:
        inputs: Values of the calculation `thermal_change`.
        result: Its result.
        words: Sentences.
        wrong: A learner's change under "change" or "change_by_table", dashed.
        solved: Whether the change is shown.
        key: Tells apart equal figures on one page.
    """
    drawing = Drawing()
    asked = "change_by_table" if "change_by_table" in wrong else "change"
    change = abs(getattr(result, asked))
    bars = (_Bar(words("expansion.cold"), 0.0), _Bar(words("expansion.warm"), 1.0))
    params = {
        "run": write_length(float(inputs["length"]), feet=True),
        "material": words(f"expansion.{inputs['material']}"),
        "swing": Quantity(abs(float(inputs["temperature_change"])), "°F"),
        "change": _inches(change),
    }
    base = _bars(drawing, bars)
    lines = [Dimension(_LEFT, _COLD, str(params["run"]), _foot(0))]
    if solved and change:
        lines.append(Dimension(_COLD, _WARM, _inches(change)))
        lines += _yours(wrong.get(asked), change, words)
    level = dimensions_below(drawing, lines, base)
    level = _scale(drawing, level, float(inputs["length"]), change if solved else 0.0, words)
    if solved and not _yours(wrong.get(asked), change, words):
        level = _said_wrong(drawing, level, asked, wrong.get(asked), words)
    about = words("expansion.about" if solved else "expansion.asked", **params)
    return drawing.finish(-22, level + 4, words("expansion.title"), about, key)


def draw_expansion_setting(
    inputs: Mapping[str, Any],
    result: ExpansionSetting,
    words: Words,
    *,
    wrong: Mapping[str, Any],
    solved: bool = True,
    key: str = "",
) -> str:
    """The run on the coldest day, today and on the hottest; arguments as `draw_expansion`, of `expansion_setting`."""
    drawing = Drawing()
    days = {name: Quantity(round(fahrenheit(inputs[name]), 1), "°F") for name in ("coldest", "installed", "hottest")}
    done = result.shrinkage / result.movement if solved else 0.5
    parts = {"coldest": 0.0, "installed": done, "hottest": 1.0}
    bars = [_Bar(words(f"expansion.{name}", degrees=days[name]), parts[name]) for name in days]
    base = _bars(drawing, bars)
    run = float(inputs["length"])
    lines = [Dimension(_LEFT, _COLD, write_length(run, feet=True), _foot(0))]
    if solved:
        lines.append(Dimension(_COLD, _WARM, _inches(result.movement)))
        middle = bars[1].end
        spans = ((_COLD, middle, result.shrinkage), (middle, _WARM, result.growth))
        # Beside its own stretch a number would stand on the lines of the other one.
        shown = [span for span in spans if 0 < span[2] < result.movement]
        lines += [Dimension(start, end, _inches(size), beside=False) for start, end, size in shown]
        lines += _yours(wrong.get("movement"), result.movement, words)
    level = dimensions_below(drawing, lines, base)
    level = _scale(drawing, level, run, result.movement if solved else 0.0, words)
    undrawn = () if _yours(wrong.get("movement"), result.movement, words) else ("movement",)
    for name in (*undrawn, "growth", "shrinkage", "fittings"):
        level = _said_wrong(drawing, level, name, wrong.get(name) if solved else None, words)
    params: dict[str, object] = {**days, "run": write_length(run, feet=True)}
    params["material"] = words(f"expansion.{inputs['material']}")
    params |= {name: _inches(getattr(result, name)) for name in ("movement", "growth", "shrinkage")}
    about = words("expansion-setting.about" if solved else "expansion-setting.asked", **params)
    return drawing.finish(-22, level + 4, words("expansion.title"), about, key)


def _inches(inches: float) -> str:
    """A movement in decimals, as it is worked out."""
    return f"{inches:.2f} in"


def _foot(row: int) -> float:
    return row * _ROW + _TUBE / 2


def _bars(drawing: Drawing, bars: tuple[_Bar, ...] | list[_Bar]) -> float:
    """The run once for each temperature, held fast at the left; returns where the drawing ends below."""
    bottom = _foot(len(bars) - 1)
    drawing.rectangle((MARGIN, -_TUBE / 2 - 5), 14, bottom + _TUBE / 2 + 10, "fig-obstacle")
    for row, bar in enumerate(bars):
        y = row * _ROW
        drawing.rectangle((MARGIN + 14, y - _TUBE / 2 - 3), _LEFT - MARGIN - 14, _TUBE + 6, "fig-strap")
        drawing.rectangle((_LEFT, y - _TUBE / 2), bar.end - _LEFT, _TUBE, "fig-tube")
        drawing.text((_LEFT + 4, y - _TUBE / 2 - 5), bar.said)
    return bottom + 4


def _yours(value: Any, right: float, words: Words) -> list[Dimension]:
    """A learner's movement beside the right one, in the same scale; none where it would leave the drawing."""
    if not isinstance(value, int | float) or not right:
        return []
    end = _COLD + max(0.02, abs(float(value)) / right) * (_WARM - _COLD)
    if end > WIDTH - MARGIN:
        return []
    return [Dimension(_COLD, end, words("yours-is", length=_inches(abs(float(value)))), name="fig-wrong")]


def _said_wrong(drawing: Drawing, level: float, name: str, value: Any, words: Words) -> float:
    if not isinstance(value, int | float):
        return level
    said = f"{value:g}" if name == "fittings" else _inches(float(value))
    return drawing.paragraph(level, words("yours-is", length=said), "fig-text fig-wrong-text")


def _scale(drawing: Drawing, level: float, run: float, movement: float, words: Words) -> float:
    """By how much the movement is drawn too large; returns where the sentence ends."""
    if not movement:
        return drawing.paragraph(level + 4, words("expansion.not-to-scale"), "fig-text fig-note")
    times = (_WARM - _COLD) / (_COLD - _LEFT) * run / movement
    rounded = round(times, -1) if times > 20 else round(times)
    return drawing.paragraph(level + 4, words("expansion.enlarged", times=rounded), "fig-text fig-note")
