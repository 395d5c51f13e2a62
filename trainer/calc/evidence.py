"""
The evidence for one result: what the core says, what another method says, what is published, and the table rows used.

Bends are bent by their own marks in `layout`; what comes from tables is worked out from other columns or by formula;
counts are found once more in exact fractions or by trying all ways. Where there is no second method, none is claimed.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Any

from msgspec import Struct

from trainer.calc.calculation import Calculation
from trainer.calc.evidence_bends import checks_by_layout
from trainer.calc.evidence_check import Check, Method, Values
from trainer.calc.evidence_circuits import ambient_by_root, change_by_shortcut, drop_by_others, ground_by_gauge
from trainer.calc.evidence_counts import places_by_walking, sticks_by_all_ways, straps_by_walking
from trainer.calc.evidence_ends import body_by_diameter, end_by_ring, movement_by_shortcut, step_by_fractions
from trainer.calc.evidence_lengths import bent_piece_laid_out, run_by_places, sum_by_fractions, tape_by_fractions
from trainer.calc.evidence_pulling import tension_by_steps
from trainer.calc.evidence_rows import Used, rows_used
from trainer.calc.evidence_wire import (
    box_by_fractions,
    count_by_fractions,
    fill_by_diameters,
    jam_by_areas,
    most_by_fractions,
    size_by_diameters,
)
from trainer.calc.published import Published, published_figures
from trainer.calc.step import Step

__all__ = ["METHODS", "Evidence", "Printed", "evidence_for"]

#: Second methods besides the bent tube, by calculation.
METHODS: Mapping[str, Method] = MappingProxyType(
    {
        "ampacity": ambient_by_root,
        "box_fill": box_by_fractions,
        "box_max_conductors": most_by_fractions,
        "bent_cut_length": bent_piece_laid_out,
        "cut_length": run_by_places,
        "conduit_body": body_by_diameter,
        "cut_end": end_by_ring,
        "cut_plan": sticks_by_all_ways,
        "expansion_setting": movement_by_shortcut,
        "ground_size": ground_by_gauge,
        "jam_ratio": jam_by_areas,
        "length_sum": sum_by_fractions,
        "knockout_step": step_by_fractions,
        "max_conductors": count_by_fractions,
        "pulling_tension": tension_by_steps,
        "raceway_fill": fill_by_diameters,
        "raceway_size": size_by_diameters,
        "strap_count": straps_by_walking,
        "strap_places": places_by_walking,
        "tape_reading": tape_by_fractions,
        "thermal_change": change_by_shortcut,
        "voltage_drop": drop_by_others,
    }
)


class Printed(Struct, frozen=True):
    """A published figure and what the core says for the same inputs."""

    figure: Published
    core: Any

    @property
    def residue(self) -> float | None:
        """How much more the core says; None for words."""
        return self.figure.residue(self.core)

    @property
    def agrees(self) -> bool:
        """Whether the core says the same."""
        return self.figure.agrees(self.core)


class Evidence(Struct, frozen=True):
    """
    All that can be held against one result.

    Args:
        calculation: The calculation.
        values: Its inputs.
        result: What it gives.
        steps: Its worked steps.
        checks: The same numbers by second methods; empty where there is none.
        printed: Published figures that are worked out here in full: all examples, and table cells of these inputs.
        cells: How many published cells of other inputs there are besides; all are held against the core in the tests.
        used: Rows of the tables.
    """

    calculation: Calculation
    values: Mapping[str, Any]
    result: Any
    steps: Sequence[Step]
    checks: tuple[Check, ...]
    printed: tuple[Printed, ...]
    cells: int
    used: tuple[Used, ...]


def evidence_for(calculation: Calculation, values: Values) -> Evidence:
    """
    The evidence for these inputs.

    Args:
        calculation: One of the catalogue.
        values: Its inputs, as `Calculation.read` gives them.

    Raises:
        InputError: When the calculation refuses them.
    """
    result, steps = calculation.trace(values)
    method = METHODS.get(calculation.name)
    checks = (*checks_by_layout(calculation.name, values, result), *(method(values, result) if method else ()))
    every = published_figures(calculation.name)
    near = [figure for figure in every if not figure.is_cell or _is_near(figure, calculation, values)]
    printed = tuple(Printed(figure, figure.core()) for figure in near)
    used = rows_used(calculation, values, result)
    return Evidence(calculation, values, result, steps, checks, printed, len(every) - len(near), used)


def _is_near(cell: Published, calculation: Calculation, values: Values) -> bool:
    """Whether all inputs but one are those that are asked for: the cells beside it in its row and its column."""
    others = [name for name, value in calculation.read(cell.inputs).items() if values.get(name) != value]
    return len(others) <= 1
