"""A circuit on one line, from the panel with its device through the tube to the load; distances are not to scale."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from trainer.calc.ampacity import Ampacity
from trainer.calc.conductors import size_name
from trainer.calc.length import write_length
from trainer.calc.message import Quantity
from trainer.calc.voltage import VoltageDrop
from trainer.figures.dimension import Dimension, dimensions_below
from trainer.figures.svg import MARGIN, WIDTH, Drawing
from trainer.figures.words import Words

__all__ = ["draw_circuit_ampacity", "draw_circuit_drop"]

_PANEL, _HEIGHT, _RADIUS, _TUBE = 46.0, 52.0, 17.0, 12.0
_LEFT = MARGIN + _PANEL
_RIGHT = WIDTH - MARGIN - 2 * _RADIUS
#: Where the two labels stand.
_LABEL = -_HEIGHT / 2 - 8


@dataclass(frozen=True, slots=True)
class _Told:
    """What stands below the line: what is given and found, and a learner's values."""

    lines: Sequence[str]
    yours: Sequence[str]

    @classmethod
    def of(cls, given: str, found: str, yours: Sequence[str], *, solved: bool) -> _Told:
        """Only what is given, where the answer may not be seen."""
        return cls((given, found), yours) if solved else cls((given,), ())


def draw_circuit_drop(
    inputs: Mapping[str, Any],
    result: VoltageDrop,
    words: Words,
    *,
    wrong: Mapping[str, float],
    solved: bool = True,
    key: str = "",
) -> str:
    """
    The circuit with its one-way length, and what it loses.

    Args:
        inputs: Values of the calculation `voltage_drop`.
        result: Its result.
        words: Sentences.
        wrong: A learner's drop or percent, by the output's name.
        solved: Whether the drop is shown.
        key: Tells apart equal figures on one page.
    """
    told = {
        "volts": Quantity(inputs["volts"], "V"),
        "current": Quantity(inputs["current"], "A"),
        "size": size_name(inputs["conductor_size"]),
        "material": inputs["material"],
        "length": write_length(float(inputs["length"]), feet=True),
    }
    three = "three" if int(inputs["phases"]) == 3 else "one"
    given = words(f"circuit.given-{three}-phase", **told)
    found = words("circuit.drop", drop=Quantity(result.drop, "V"), percent=Quantity(result.percent, "%"))
    yours = [
        words("circuit.yours", value=Quantity(wrong[name], unit))
        for name, unit in (("drop", "V"), ("percent", "%"))
        if name in wrong
    ]
    drawing = Drawing()
    _line(drawing, words)
    one_way = words("circuit.one-way", length=told["length"])
    level = dimensions_below(drawing, [Dimension(_LEFT, _RIGHT, one_way)], _HEIGHT / 2 + 6)
    return _finish(drawing, level, words, _Told.of(given, found, yours, solved=solved), key)


def draw_circuit_ampacity(
    inputs: Mapping[str, Any],
    result: Ampacity,
    words: Words,
    *,
    wrong: Mapping[str, float],
    solved: bool = True,
    key: str = "",
) -> str:
    """
    The circuit with what surrounds its conductors, and what they may carry.

    Args:
        inputs: Values of the calculation `ampacity`.
        result: Its result.
        words: Sentences.
        wrong: A learner's amperes, by the output's name.
        solved: Whether the ampacity is shown.
        key: Tells apart equal figures on one page.
    """
    given = words(
        "circuit.around",
        size=size_name(inputs["conductor_size"]),
        material=inputs["material"],
        insulation=inputs["insulation"],
        count=int(inputs["current_carrying"]),
        ambient=Quantity(round(inputs["ambient"], 1), "°C"),
        base=Quantity(result.table_ampacity, "A"),
    )
    found = words(
        "circuit.corrected",
        ambient=Quantity(result.ambient_percent, "%"),
        bundling=Quantity(result.bundling_percent, "%"),
        corrected=Quantity(result.corrected, "A"),
    )
    yours = [words("circuit.yours", value=Quantity(wrong["corrected"], "A"))] if "corrected" in wrong else []
    drawing = Drawing()
    _line(drawing, words)
    return _finish(drawing, _HEIGHT / 2 + 6, words, _Told.of(given, found, yours, solved=solved), key)


def _line(drawing: Drawing, words: Words) -> None:
    """Panel with its device, tube with the conductor in it, load."""
    drawing.rectangle((MARGIN, -_HEIGHT / 2), _PANEL, _HEIGHT, "fig-box")
    drawing.rectangle((_LEFT, -_TUBE / 2), _RIGHT - _LEFT, _TUBE, "fig-tube")
    drawing.line((MARGIN + 8, 0), (MARGIN + 15, 0), "fig-wire")
    drawing.line((MARGIN + 15, 0), (MARGIN + 31, -9), "fig-wire")
    drawing.line((MARGIN + 33, 0), (_RIGHT, 0), "fig-wire")
    drawing.circle((_RIGHT + _RADIUS, 0), _RADIUS, "fig-box")
    drawing.text((MARGIN, _LABEL), words("circuit.panel"), "fig-text")
    drawing.text((WIDTH - MARGIN, _LABEL), words("circuit.load"), "fig-text", "end")


def _finish(drawing: Drawing, level: float, words: Words, told: _Told, key: str) -> str:
    """The sentences below the line; they are the text alternative too."""
    for line in told.lines:
        level = drawing.paragraph(level + 12, line, "fig-text fig-note")
    for line in told.yours:
        level = drawing.paragraph(level + 12, line, "fig-text fig-wrong-text")
    return drawing.finish(_LABEL - 16, level + 4, words("circuit.title"), " ".join(told.lines), key)
