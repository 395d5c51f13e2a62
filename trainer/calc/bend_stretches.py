"""A run with pull points in it: the bends of each stretch added up and held against the limit. Degrees."""

from __future__ import annotations

from msgspec import Struct

from trainer.calc.bend_total import BEND_TOTAL, bend_total
from trainer.calc.calculation import Calculation, Output
from trainer.calc.inputs import Input, Kind
from trainer.calc.message import Quantity
from trainer.calc.tables import table
from trainer.calc.trace import note, steps

__all__ = ["BEND_STRETCHES", "BendStretches", "bend_stretches"]

_RULE = table("bends")["total"]


def _bends(name: str, example: str) -> Input:
    return Input(name, Kind.ANGLES, example, "deg", above=0, most=180)


FIRST, SECOND, THIRD = _bends("first", "3x90"), _bends("second", "4x90, 10, 10"), _bends("third", "90, 30, 30")
LIMIT = BEND_TOTAL.input("limit")


class BendStretches(Struct, frozen=True):
    """
    The sums.

    Args:
        first_total: Of the stretch to the first pull point [deg].
        second_total: Of the next stretch [deg].
        third_total: Of the last stretch [deg].
        over_count: How many stretches have more bend than is allowed.
        whole: Of the whole run, which no rule asks about [deg].
        most: What is allowed between two pull points [deg].
    """

    first_total: float
    second_total: float
    third_total: float
    over_count: int
    whole: float
    most: float


@steps(whole="deg")
def bend_stretches(
    first: tuple[float, ...],
    second: tuple[float, ...],
    third: tuple[float, ...],
    limit: float = _RULE["limit"],
) -> BendStretches:
    """
    Add up the bends from pull point to pull point; a conduit body or a box starts the count afresh, a coupling does not.

    Args:
        first: Bends from the start to the first pull point [deg]; an offset is two.
        second: Bends of the next stretch [deg].
        third: Bends of the last stretch [deg].
        limit: The most that is allowed between two pull points [deg].

    Raises:
        InputError: When an angle or the limit lies outside its range.

    Source: NFPA 70-2023 358.24(B); 2017 and 2020 358.26.

    >>> bend_stretches((90, 90, 90), (90, 90, 90, 90, 10, 10), (90, 30, 30)).over_count
    1
    """
    for given, bends in ((FIRST, first), (SECOND, second), (THIRD, third)):
        given.check(bends)
    LIMIT.check(limit)
    found = [bend_total(bends, limit) for bends in (first, second, third)]
    first_total, second_total, third_total = (one.total for one in found)
    most = Quantity(limit, "deg")
    for nth, one in enumerate(found, 1):
        said = "bend_stretches.within" if one.within_limit else "bend_stretches.over"
        note("over_count", said, nth=nth, total=Quantity(one.total, "deg"), most=most)
    over_count = sum(not one.within_limit for one in found)
    whole = first_total + second_total + third_total
    note("whole", "bend_stretches.whole")
    return BendStretches(first_total, second_total, third_total, over_count, whole, limit)


BEND_STRETCHES = Calculation(
    name="bend_stretches",
    function=bend_stretches,
    inputs=(FIRST, SECOND, THIRD, LIMIT),
    outputs=(
        Output("first_total", "deg"),
        Output("second_total", "deg"),
        Output("third_total", "deg"),
        Output("over_count", "count"),
        Output("whole", "deg"),
        Output("most", "deg"),
    ),
    sources=(_RULE["source"],),
    area="bending",
    example_inputs={"first": "3x90", "second": "4x90, 10, 10", "third": "90, 30, 30"},
)
