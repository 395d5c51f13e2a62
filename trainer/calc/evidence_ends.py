"""
Second methods for cut ends, the step at a box, conduit bodies and long runs: a ring unrolled, a right triangle, exact
fractions, the share of PVC.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import cos, pi, radians, sqrt

from trainer.calc.boxes_counted import ALLOWANCES
from trainer.calc.conduit_body import ConduitBody
from trainer.calc.cut_end import CutEnd
from trainer.calc.evidence_check import Check, Values
from trainer.calc.expansion_setting import ExpansionSetting
from trainer.calc.knockout_step import KnockoutStep
from trainer.calc.message import Message
from trainer.calc.raceways import raceway_of
from trainer.calc.tables import table

__all__ = ["body_by_diameter", "end_by_ring", "movement_by_shortcut", "step_by_fractions"]

#: By how much the shares of PVC, printed to two places, may differ from the coefficients.
_SHARES_WITHIN = 0.042


def end_by_ring(values: Values, result: CutEnd) -> Iterator[Check]:
    """The ridge as a ring, its middle line times its width; the slant by the long axis of the cut."""
    ridge, slant = values.get("ridge") or 0.0, values.get("slant") or 0.0
    ring = pi * (result.bore - ridge) * ridge
    lost = 100 * ring / (pi / 4 * result.bore**2)
    yield Check(Message("evidence.method.ring"), "lost_percent", "%", result.lost_percent, lost, 1e-6)
    across = raceway_of("emt", values["trade_size"]).outside_diameter
    long_axis = across / cos(radians(slant))
    out = sqrt(max(0.0, long_axis**2 - across**2))
    yield Check(Message("evidence.method.long-axis"), "out_of_square", "in", result.out_of_square, out, 1e-6)


def step_by_fractions(values: Values, result: KnockoutStep) -> Iterator[Check]:
    """Heights in exact fractions of the printed digits, from the tube's back."""
    thick = Fraction(str(raceway_of("emt", values["trade_size"]).outside_diameter))
    tube, box, knockout = (Fraction(values.get(name) or 0) for name in ("tube_spacer", "box_spacer", "knockout"))
    step = abs(2 * (box + knockout) - 2 * tube - thick) / 2
    yield Check(Message("evidence.method.fractions"), "step", "in", result.step, float(step), 1e-9)


def body_by_diameter(values: Values, result: ConduitBody) -> Iterator[Check]:
    """The bore from outside diameter and wall; the splices in exact fractions."""
    row = next(row for row in table("raceway")["emt"]["rows"] if row["trade_size"] == values["trade_size"])
    bore = pi / 4 * (row["outside_diameter"] - 2 * row["wall"]) ** 2
    yield Check(Message("evidence.method.bore"), "raceway_area", "sq in", result.raceway_area, bore, 0.000504)
    volume, allowance = values.get("marked_volume"), ALLOWANCES.get(values["conductor_size"])
    if volume and allowance and result.most_spliced is not None:
        count = Fraction(str(round(volume, 9))) // Fraction(str(allowance))
        method = Message("evidence.method.fractions")
        yield Check(method, "most_spliced", "conductors", result.most_spliced, count, 0)


def movement_by_shortcut(values: Values, result: ExpansionSetting) -> Iterator[Check]:
    """The note's shares of what the table gives for PVC; some 4 % more for metal."""
    shares = table("expansion")["shortcut"]
    swing = (values["hottest"] - values["coldest"]) * 9 / 5
    found = shares[values["material"]] * shares["pvc_table"] * values["length"] / 1200 * swing / 100
    within = _SHARES_WITHIN * found
    yield Check(Message("evidence.method.shortcut"), "movement", "in", result.movement, found, within)
