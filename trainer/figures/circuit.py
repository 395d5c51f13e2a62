"""A circuit on one line, from the panel with its device through the tube to the load; distances are not to scale."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from msgspec import Struct

from trainer.calc.ampacity import Ampacity
from trainer.calc.conductors import size_name
from trainer.calc.length import write_length
from trainer.calc.message import Quantity
from trainer.calc.voltage import VoltageDrop
from trainer.figures.dimension import Dimension, dimensions_below
from trainer.figures.svg import MARGIN, WIDTH, Drawing
from trainer.figures.words import Words

__all__ = [
    "HEIGHT",
    "Told",
    "circuit_line",
    "draw_circuit_ampacity",
    "draw_circuit_drop",
    "draw_circuit_load",
    "finish_circuit",
]

HEIGHT = 52.0
_PANEL, _RADIUS, _TUBE = 46.0, 17.0, 12.0
_LEFT = MARGIN + _PANEL
_RIGHT = WIDTH - MARGIN - 2 * _RADIUS
#: Outputs of `ampacity` that a learner may be asked for.
_AMPERES = ("corrected", "ampacity", "overcurrent_device", "needed", "load_device")
#: Where the two labels stand.
_LABEL = -HEIGHT / 2 - 8


class Told(Struct, frozen=True):
    """What stands below the line: what is given and found, and a learner's values."""

    lines: Sequence[str]
    yours: Sequence[str]

    @classmethod
    def of(cls, given: str, found: str, yours: Sequence[str], *, solved: bool) -> Told:
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
    circuit_line(drawing, words)
    one_way = words("circuit.one-way", length=told["length"])
    level = dimensions_below(drawing, [Dimension(_LEFT, _RIGHT, one_way)], HEIGHT / 2 + 6)
    return finish_circuit(drawing, level, words, Told.of(given, found, yours, solved=solved), key)


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
        solved: Whether what is found is shown.
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
    yours = [words("circuit.yours", value=Quantity(wrong[name], "A")) for name in _AMPERES if name in wrong]
    drawing = Drawing()
    circuit_line(drawing, words)
    told = Told.of(f"{given}{_load(inputs, words)}", _found(result, words), yours, solved=solved)
    return finish_circuit(drawing, HEIGHT / 2 + 6, words, told, key)


def draw_circuit_load(
    inputs: Mapping[str, Any],
    result: Ampacity,
    words: Words,
    *,
    wrong: Mapping[str, float],
    solved: bool = True,
    key: str = "",
) -> str:
    """
    The circuit with its load alone, and what that counts as: for questions that give nothing of the conductor.

    Args:
        inputs: Values of the calculation `ampacity`.
        result: Its result.
        words: Sentences.
        wrong: A learner's amperes, by the output's name.
        solved: Whether what is found is shown.
        key: Tells apart equal figures on one page.
    """
    yours = [words("circuit.yours", value=Quantity(wrong[name], "A")) for name in _AMPERES if name in wrong]
    drawing = Drawing()
    circuit_line(drawing, words)
    given = _load(inputs, words).strip() or words("circuit.no-load")
    told = Told.of(given, _counts(result, words) or given, yours, solved=solved)
    return finish_circuit(drawing, HEIGHT / 2 + 6, words, told, key)


def _counts(result: Ampacity, words: Words) -> str:
    """What the load counts as and its smallest device; "" where there is no load."""
    if result.needed is None or result.load_device is None:
        return ""
    told = {"needed": Quantity(result.needed, "A"), "device": Quantity(result.load_device, "A")}
    return words("circuit.load-counts", **told)


def _load(inputs: Mapping[str, Any], words: Words) -> str:
    """What is known of the load, as a further sentence."""
    continuous, rest = inputs.get("continuous"), inputs.get("noncontinuous")
    if isinstance(continuous, bool) or not (continuous or rest):
        return ""
    told = {"continuous": Quantity(continuous or 0.0, "A"), "rest": Quantity(rest or 0.0, "A")}
    return " " + words("circuit.given-load", **told)


def _found(result: Ampacity, words: Words) -> str:
    """The conductor's sums, and the load's where there is one."""
    found = [
        words(
            "circuit.corrected",
            ambient=Quantity(result.ambient_percent, "%"),
            bundling=Quantity(result.bundling_percent, "%"),
            corrected=Quantity(result.corrected, "A"),
        ),
        words(
            "circuit.terminals",
            limit=Quantity(result.terminal_limit, "A"),
            ampacity=Quantity(result.ampacity, "A"),
        ),
    ]
    if result.overcurrent_device is not None:
        found.append(words("circuit.device", device=Quantity(result.overcurrent_device, "A")))
    return " ".join([*found, *filter(None, [_counts(result, words)])])


def circuit_line(drawing: Drawing, words: Words, *, ground: bool = False) -> None:
    """Panel with its device, tube with the conductor in it, load; a ground dashed beside the conductor where asked for."""
    drawing.rectangle((MARGIN, -HEIGHT / 2), _PANEL, HEIGHT, "fig-box")
    tube = 2 * _TUBE if ground else _TUBE
    drawing.rectangle((_LEFT, -tube / 2), _RIGHT - _LEFT, tube, "fig-tube")
    if ground:
        drawing.line((MARGIN + 8, 8), (_RIGHT + 6, 8), "fig-conductor fig-earth")
    drawing.line((MARGIN + 8, 0), (MARGIN + 15, 0), "fig-wire")
    drawing.line((MARGIN + 15, 0), (MARGIN + 31, -9), "fig-wire")
    drawing.line((MARGIN + 33, 0), (_RIGHT, 0), "fig-wire")
    drawing.circle((_RIGHT + _RADIUS, 0), _RADIUS, "fig-box")
    drawing.text((MARGIN, _LABEL), words("circuit.panel"), "fig-text")
    drawing.text((WIDTH - MARGIN, _LABEL), words("circuit.load"), "fig-text", "end")


def finish_circuit(drawing: Drawing, level: float, words: Words, told: Told, key: str) -> str:
    """The sentences below the line; they are the text alternative too."""
    for line in told.lines:
        level = drawing.paragraph(level + 12, line, "fig-text fig-note")
    for line in told.yours:
        level = drawing.paragraph(level + 12, line, "fig-text fig-wrong-text")
    return drawing.finish(_LABEL - 16, level + 4, words("circuit.title"), " ".join(told.lines), key)
