"""The sum of the bends between two pull points. Degrees."""

from __future__ import annotations

from msgspec import Struct

from trainer.calc.calculation import Calculation, Output
from trainer.calc.inputs import Input, Kind
from trainer.calc.message import Quantity
from trainer.calc.tables import table
from trainer.calc.trace import note, steps

__all__ = ["BEND_TOTAL", "BendTotal", "bend_total"]

_RULE = table("bends")["total"]
_FORGIVEN = 1e-9

ANGLES = Input("angles", Kind.ANGLES, "90, 90, 30", "deg", above=0, most=180)
LIMIT = Input("limit", Kind.ANGLE, "270", "deg", optional=True, above=0)
EDITION = Input("edition", Kind.CHOICE, "2023", optional=True, choices=tuple(_RULE["sections"]))


class BendTotal(Struct, frozen=True):
    """
    All bends of a run together.

    Args:
        total: Their sum [deg].
        within_limit: Whether that is allowed between two pull points.
        left: What may still be bent, below 0 when it is too much already [deg].
    """

    total: float
    within_limit: bool
    left: float


@steps(total="deg", left="deg")
def bend_total(angles: tuple[float, ...], limit: float = _RULE["limit"], edition: str = "2023") -> BendTotal:
    """
    Add up every bend between two pull points: kicks, saddles and box offsets count, couplings reset nothing.

    Args:
        angles: Every bend [deg], each above 0, at most 180; an offset is two.
        limit: The most that is allowed [deg]; some places allow less.
        edition: Edition of NFPA 70, for the number of the section.

    Raises:
        InputError: When an angle or the limit lies outside its range.

    Source: NFPA 70-2023 358.24(B); 2017 and 2020 358.26.

    >>> bend_total((90, 90, 30))
    BendTotal(total=210, within_limit=True, left=150.0)
    """
    ANGLES.check(angles)
    LIMIT.check(limit)
    EDITION.check(edition)
    total = sum(angles)
    allowed = Quantity(_RULE["limit"], "deg")
    which = "bend_total.limit" if limit == _RULE["limit"] else "bend_total.own-limit"
    here = Quantity(limit, "deg")
    note("limit", which, limit=here, allowed=allowed, edition=edition, section=_RULE["sections"][edition])
    left = limit - total
    within_limit = left > -_FORGIVEN
    note(
        "within_limit",
        "bend_total.within" if within_limit else "bend_total.over",
        "left",
        by=Quantity(abs(left), "deg"),
    )
    return BendTotal(total, within_limit, left)


BEND_TOTAL = Calculation(
    name="bend_total",
    function=bend_total,
    inputs=(ANGLES, LIMIT, EDITION),
    outputs=(Output("total", "deg"), Output("within_limit"), Output("left", "deg")),
    sources=(_RULE["source"],),
    area="bending",
    example_inputs={"angles": "90, 90, 30"},
)
