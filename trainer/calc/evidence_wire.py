"""
Second methods for raceways, boxes and conductors: areas from diameters, counts in exact fractions, circular mils from
the gauge formula, correction factors from the square root of what heat is left.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from math import pi, sqrt

from trainer.calc.boxes import BoxFill
from trainer.calc.boxes_count import BoxMaxConductors
from trainer.calc.boxes_counted import ALLOWANCES
from trainer.calc.conductors import ConductorGroup, dimensions
from trainer.calc.evidence_check import Check, Values
from trainer.calc.fill import RacewayFill
from trainer.calc.fill_count import MaxConductors
from trainer.calc.fill_jam import JamRatio
from trainer.calc.fill_size import RacewaySize
from trainer.calc.message import Message
from trainer.calc.raceways import raceway_of
from trainer.calc.tables import table

__all__ = [
    "box_by_fractions",
    "count_by_fractions",
    "fill_by_diameters",
    "jam_by_areas",
    "most_by_fractions",
    "size_by_diameters",
]

#: A bore printed to the thousandth; 0.0005 and a little, for one that is printed as rounded down from the half.
_BORE_WITHIN = 0.000504
#: Areas of Table 5 have four decimals; those of bare conductors three, and one is cut off, not rounded.
_INSULATED_WITHIN, _BARE_WITHIN = 0.00005, 0.00066


def fill_by_diameters(values: Values, result: RacewayFill) -> Iterator[Check]:
    """Bore and conductors from their diameters."""
    yield _bore(values["raceway"], values["trade_size"])
    yield _conductors(values["conductors"], result.area)


def size_by_diameters(values: Values, result: RacewaySize) -> Iterator[Check]:
    """The same for the size that was found."""
    yield _bore(values["raceway"], result.trade_size)
    yield _conductors(values["conductors"], result.area)


def count_by_fractions(values: Values, result: MaxConductors) -> Iterator[Check]:
    """The count in exact fractions of the printed digits; bore and conductor from their diameters."""
    nipple = bool(values.get("nipple"))
    shares = table("raceway")["fill"]
    rooms = ((3, shares["nipple" if nipple else "over_two"]), (2, shares["two"]), (1, shares["one"]))
    filled = Fraction(str(result.raceway_area)) / Fraction(str(result.area)) / 100
    counts = {least: _with_eight_tenths(filled * share) for least, share in rooms}
    count = counts[3] if nipple or counts[3] >= 3 else 2 if counts[2] >= 2 else min(counts[1], 1)
    yield Check(Message("evidence.method.fractions"), "count", "conductors", result.count, count, 0)
    yield _bore(values["raceway"], values["trade_size"])
    yield _conductors((ConductorGroup(1, values["conductor_size"], values["insulation"]),), result.area)


def jam_by_areas(values: Values, result: JamRatio) -> Iterator[Check]:
    """The ratio of two diameters is the root of the ratio of two areas, which are printed beside them."""
    bore = raceway_of(values["raceway"], values["trade_size"]).area
    found = dimensions(values["conductor_size"], values["insulation"])
    if found is not None:
        # What the rounding of both areas and of the printed diameter may come to.
        rounding = 0.0005 / bore / 2 + _INSULATED_WITHIN / found.area / 2 + 0.0005 / found.diameter
        by_areas = sqrt(bore / found.area)
        yield Check(Message("evidence.method.areas"), "ratio", "", result.ratio, by_areas, by_areas * rounding)


def most_by_fractions(values: Values, result: BoxMaxConductors) -> Iterator[Check]:
    """How often an allowance goes into a box, in exact fractions of the printed digits."""
    count = Fraction(str(values["box"].volume)) // Fraction(str(ALLOWANCES[values["conductor_size"]]))
    yield Check(Message("evidence.method.fractions"), "count", "conductors", result.count, count, 0)


def box_by_fractions(values: Values, result: BoxFill) -> Iterator[Check]:
    """Everything in the box counted once more, in whole quarters of an allowance and exact fractions."""
    edition, rule = values.get("edition") or "2023", table("boxes")
    quarters = {size: Fraction(str(allowance)) / 4 for size, allowance in ALLOWANCES.items()}
    single = [*_each(values, "conductors"), *(_each(values, "terminal_blocks") if edition >= "2023" else ())]
    double = [*_each(values, "loops"), *_each(values, "devices")]
    total = 4 * sum(quarters[size] for size in single) + 8 * sum(quarters[size] for size in double)
    kinds = sum(bool(values.get(name)) for name in ("clamps", "studs", "hickeys"))
    every = [size for name in _LISTS for size in _each(values, name)]
    total += 4 * kinds * max((quarters[size] for size in every), default=Fraction(0))
    plain, isolated = _each(values, "equipment_grounds"), _each(values, "isolated_grounds")
    for grounds in (plain, isolated) if edition == "2017" else ([*plain, *isolated],):
        further = 0 if edition == "2017" else max(0, len(grounds) - rule["grounds"]["free"])
        total += (4 + further) * max((quarters[size] for size in grounds), default=Fraction(0))
    method = Message("evidence.method.quarters")
    yield Check(method, "volume_required", "cu in", result.volume_required, float(total), 1e-9)


_LISTS = ("conductors", "loops", "devices", "equipment_grounds", "isolated_grounds", "terminal_blocks")


def _each(values: Values, name: str) -> list[str]:
    """Sizes of a list, one for each conductor."""
    return [group.size for group in values.get(name) or () for _ in range(group.count)]


def _bore(kind: str, trade_size: str) -> Check:
    listed = raceway_of(kind, trade_size)
    row = next(row for row in table("raceway")[kind]["rows"] if row["trade_size"] == trade_size)
    by_wall = pi / 4 * (row["outside_diameter"] - 2 * row["wall"]) ** 2
    return Check(Message("evidence.method.bore"), "raceway_area", "sq in", listed.area, by_wall, _BORE_WITHIN)


def _conductors(groups: Iterable[ConductorGroup], area: float) -> Check:
    by_diameter, within = 0.0, 0.0
    for group in groups:
        found = dimensions(group.size, group.insulation)
        if found is not None:
            by_diameter += group.count * pi / 4 * found.diameter**2
            within += group.count * (_BARE_WITHIN if "bare" in group.insulation else _INSULATED_WITHIN)
    return Check(Message("evidence.method.diameters"), "area", "sq in", area, by_diameter, within)


def _with_eight_tenths(room: Fraction) -> int:
    whole, rest = divmod(room, 1)
    return int(whole) + (rest >= Fraction(str(table("raceway")["fill"]["round_up_from"])))
