"""The weight correction factor: conductors that lie against each other press harder on the wall than their weight."""

from __future__ import annotations

from enum import StrEnum

from msgspec import Struct

from trainer.calc.conductors import ConductorGroup, dimensions
from trainer.calc.inputs import Input, Kind
from trainer.calc.message import Message
from trainer.calc.raceways import KINDS, TRADE_SIZES, raceway_of
from trainer.calc.tables import table
from trainer.calc.trace import note, steps
from trainer.calc.trig import sqrt

__all__ = ["CONDUCTORS", "RACEWAY", "TRADE_SIZE", "WEIGHT_CORRECTION", "Correction", "Lay", "correction_for"]

_RULE = table("pulling")["weight_correction"]

CONDUCTORS = Input("conductors", Kind.CONDUCTORS, "3 #4/0 THHN")
RACEWAY = Input("raceway", Kind.CHOICE, "emt", optional=True, choices=KINDS)
TRADE_SIZE = Input("trade_size", Kind.TRADE_SIZE, "2", optional=True, choices=TRADE_SIZES)
WEIGHT_CORRECTION = Input("weight_correction", Kind.NUMBER, "1.4", "", optional=True, least=1, most=3)


class Lay(StrEnum):
    """How the conductors lie in the raceway."""

    SINGLE = "single"
    TRIANGLE = "triangle"
    CRADLE = "cradle"
    UNKNOWN = "unknown"


class Correction(Struct, frozen=True):
    """The factor and the lay that it stands for."""

    factor: float
    lay: Lay


@steps()
def correction_for(
    conductors: tuple[ConductorGroup, ...], raceway: str, trade_size: str | None, weight_correction: float | None
) -> Correction:
    """
    The factor on the weight of the conductors.

    Args:
        conductors: What is pulled.
        raceway: "emt", "rmc" or "imc".
        trade_size: Of the raceway; without it the factor is 1, which is too little for three and more.
        weight_correction: A factor of one's own, which goes first.

    Raises:
        InputError: When the conductors are neither one nor three equal ones and no factor is given, the tables don't
            list them, or three of them have no room.
    """
    if weight_correction is not None:
        note("weight_correction", "pulling.own-correction", factor=weight_correction)
        return Correction(weight_correction, Lay.UNKNOWN)
    count = sum(group.count for group in conductors)
    if count == 1:
        note("weight_correction", "pulling.one-conductor")
        return Correction(1.0, Lay.SINGLE)
    if trade_size is None:
        note("weight_correction", "pulling.no-raceway")
        return Correction(1.0, Lay.UNKNOWN)
    diameters = {_diameter(group) for group in conductors}
    if count != 3 or len(diameters) > 1:
        raise WEIGHT_CORRECTION.refuse(Message("pulling.correction-needed"), "")
    bore = raceway_of(raceway, trade_size).inside_diameter
    if bore / min(diameters) < _RULE["least_ratio"]:
        raise TRADE_SIZE.refuse(Message("pulling.three-have-no-room"), trade_size)
    return _of_three(diameters.pop(), bore)


def _diameter(group: ConductorGroup) -> float:
    found = dimensions(group.size, group.insulation)
    if found is None:
        raise CONDUCTORS.refuse(Message("pulling.not-listed", {"conductor": str(group)}), str(group))
    return found.diameter


@steps(ratio="", weight_correction="")
def _of_three(diameter: float, bore: float) -> Correction:
    """In a triangle when the bore is narrow, else in a cradle; between the two the cradle's larger factor is taken."""
    note("diameter", "pulling.diameters", bore=f"{bore:g} in", diameter=f"{diameter:g} in")
    ratio = bore / diameter
    if ratio < _RULE["triangular_below"]:
        note("weight_correction", "pulling.triangle")
        weight_correction = 1 / sqrt(1 - (diameter / (bore - diameter)) ** 2)
        return Correction(weight_correction, Lay.TRIANGLE)
    note("weight_correction", "pulling.cradle")
    weight_correction = 1 + 4 / 3 * (diameter / (bore - diameter)) ** 2
    return Correction(weight_correction, Lay.CRADLE)
