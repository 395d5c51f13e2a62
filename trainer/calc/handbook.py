"""The rounded constants of the trade, as printed on benders and in manuals; source and check in tables/bends.toml."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from msgspec import Struct

from trainer.calc.tables import table

__all__ = ["OUTSIDE_GAINS", "OffsetConstants", "SaddleConstants", "offset_constants", "saddle_constants"]


class OffsetConstants(Struct, frozen=True):
    """
    Constants of one angle.

    Args:
        angle: Of each bend [deg].
        multiplier: Spacing of the marks for each inch of depth.
        shrink_per_inch: What the run comes short by for each inch of depth [in]; None where none is common.
    """

    angle: float
    multiplier: float
    shrink_per_inch: float | None = None


class SaddleConstants(Struct, frozen=True):
    """
    Constants of a three-point saddle.

    Args:
        centre_angle: Of the middle bend [deg]; each outer bend has half of it.
        multiplier: From the centre mark to an outer mark, for each inch of height.
        shrink_per_inch: To the centre, for each inch of height [in].
    """

    centre_angle: float
    multiplier: float
    shrink_per_inch: float


_TABLE = table("bends")
_OFFSETS = {
    row["angle"]: OffsetConstants(row["angle"], row["multiplier"], row.get("shrink_per_inch"))
    for row in _TABLE["offset_constants"]["rows"]
}
_SADDLES = {
    row["centre_angle"]: SaddleConstants(row["centre_angle"], row["multiplier"], row["shrink_per_inch"])
    for row in _TABLE["saddle_constants"]["rows"]
}

#: What a 90 takes less than its two legs measured to the back of the bend [in], by trade size.
OUTSIDE_GAINS: Mapping[str, float] = MappingProxyType(
    {row["trade_size"]: row["outside_gain"] for row in _TABLE["outside_gain"]["rows"]}
)


def offset_constants(angle: float) -> OffsetConstants | None:
    """
    The constants of this angle, None where no handbook has any.

    >>> offset_constants(22.5)
    OffsetConstants(angle=22.5, multiplier=2.6, shrink_per_inch=0.1875)
    """
    return _OFFSETS.get(angle)


def saddle_constants(centre_angle: float) -> SaddleConstants | None:
    """
    The constants of a three-point saddle with this middle bend, None where no handbook has any.

    >>> saddle_constants(45).multiplier
    2.5
    """
    return _SADDLES.get(centre_angle)
