"""A circuit on one line with its equipment grounding conductor beside the others."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from trainer.calc.conductors import size_name
from trainer.calc.grounding import GroundSize
from trainer.calc.message import Quantity
from trainer.figures.circuit import HEIGHT, Told, circuit_line, finish_circuit
from trainer.figures.svg import Drawing
from trainer.figures.words import Words

__all__ = ["draw_circuit_ground"]


def draw_circuit_ground(
    inputs: Mapping[str, Any],
    result: GroundSize,
    words: Words,
    *,
    wrong: Mapping[str, Any],
    solved: bool = True,
    key: str = "",
) -> str:
    """
    The circuit with its device and its grounding conductor.

    Args:
        inputs: Values of the calculation `ground_size`.
        result: Its result.
        words: Sentences.
        wrong: A learner's circular mils under "needed".
        solved: Whether the size is shown.
        key: Tells apart equal figures on one page.
    """
    told = {"device": Quantity(inputs["overcurrent_device"], "A"), "material": inputs["material"]}
    given = [words("circuit.ground-given", **told)]
    minimum, installed = inputs.get("minimum_phase_size"), inputs.get("installed_phase_size")
    if minimum and installed and minimum != installed:
        phases = {"minimum": size_name(minimum), "installed": size_name(installed)}
        given.append(words("circuit.ground-phases", **phases))
    found = [words("circuit.ground-found", table=size_name(result.table_size))]
    if result.needed is not None:
        larger = {"needed": Quantity(round(result.needed), "cmil"), "size": size_name(result.conductor_size)}
        found.append(words("circuit.ground-larger", **larger))
    yours = [words("circuit.yours", value=Quantity(wrong["needed"], "cmil"))] if "needed" in wrong else []
    drawing = Drawing()
    circuit_line(drawing, words, ground=True)
    lines = Told.of(" ".join(given), " ".join(found), yours, solved=solved)
    return finish_circuit(drawing, HEIGHT / 2 + 6, words, lines, key)
