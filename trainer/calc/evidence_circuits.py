"""
Second methods for circuits: correction factors from the square root of what heat is left, circular mils from the gauge
formula, voltage drop by resistance, expansion by the shortcut that is printed beside the coefficients.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import sqrt

from trainer.calc.ampacity import Ampacity
from trainer.calc.conductors import circular_mils, rating
from trainer.calc.evidence_check import Check, Values
from trainer.calc.expansion import ThermalChange
from trainer.calc.grounding import GroundSize
from trainer.calc.message import Message
from trainer.calc.tables import table
from trainer.calc.voltage import VoltageDrop

__all__ = ["ambient_by_root", "change_by_shortcut", "drop_by_others", "ground_by_gauge"]

#: Printed circular mils and the gauge formula differ by this share at most, at 14 AWG.
_GAUGE_WITHIN = 0.00081


def ambient_by_root(values: Values, result: Ampacity) -> Iterator[Check]:
    """A correction is sqrt((rating - ambient) / (rating - 30)) at the top of its row, to the printed hundredth."""
    rated = rating(values["insulation"], wet=bool(values.get("wet")))
    top = next(row[0] for row in table("ampacity")["ambient"]["rows"] if values["ambient"] <= row[0] + 1e-9)
    by_root = 100 * sqrt((rated - top) / (rated - 30))
    yield Check(Message("evidence.method.root"), "ambient_percent", "%", result.ambient_percent, by_root, 0.5001)


def drop_by_others(values: Values, result: VoltageDrop) -> Iterator[Check]:
    """By the resistance of Table 8, and by the constant with the metal of the gauge formula."""
    by_resistance = result.drop_by_resistance
    yield Check(Message("evidence.method.resistance"), "drop", "V", result.drop, by_resistance, 0.006 * result.drop)
    size = values["conductor_size"]
    by_gauge = result.drop * circular_mils(size) / mils_by_gauge(size)
    yield Check(Message("evidence.method.gauge"), "drop", "V", result.drop, by_gauge, _GAUGE_WITHIN * by_gauge)


def ground_by_gauge(values: Values, result: GroundSize) -> Iterator[Check]:
    """In proportion of the metal of the gauge formula."""
    if result.needed is None:
        return
    sizes = (result.table_size, values["installed_phase_size"], values["minimum_phase_size"])
    table_area, installed, minimum = map(mils_by_gauge, sizes)
    by_gauge = table_area * installed / minimum
    within = 3 * _GAUGE_WITHIN * by_gauge
    yield Check(Message("evidence.method.gauge"), "needed", "cmil", result.needed, by_gauge, within)


def change_by_shortcut(_: Values, result: ThermalChange) -> Iterator[Check]:
    """The shares of PVC that are printed beside the coefficients, which err on the safe side by some 4 %."""
    by_table = result.change_by_table
    yield Check(Message("evidence.method.shortcut"), "change", "in", result.change, by_table, None)


def mils_by_gauge(size: str) -> float:
    """
    Circular mils of a size: by the formula of ASTM B258 for a gauge number, by its name for kcmil.

    >>> round(mils_by_gauge("12")), mils_by_gauge("250")
    (6530, 250000.0)
    """
    if size.isdigit() and int(size) >= 250:
        return 1000.0 * int(size)
    number, _, aught = size.partition("/")
    gauge = 1 - int(number) if aught else int(number)
    return float((1000 * 0.005 * 92 ** ((36 - gauge) / 39)) ** 2)
