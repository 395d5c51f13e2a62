"""
Ampacity of a conductor as it is laid and connected, and the overcurrent device beside it. Amperes, degrees C.

The table's column for the insulation is corrected and adjusted; the column for the terminals is the limit.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from msgspec import Struct

from trainer.calc.ampacity_device import largest_device
from trainer.calc.ampacity_load import Load, Supply, given_load, largest_load_on
from trainer.calc.calculation import Calculation, Output
from trainer.calc.conductors import INSULATIONS, TABLE_SIZES, rating, size_name
from trainer.calc.inputs import Input, Kind
from trainer.calc.message import Message, Quantity
from trainer.calc.tables import table
from trainer.calc.trace import note, steps

__all__ = ["AMPACITY", "Ampacity", "ampacity"]

_TABLE = table("ampacity")
_COLUMNS = {name: place for place, name in enumerate(_TABLE["base"]["columns"])}
_BASE: Mapping[str, list[Any]] = {row[0]: row for row in _TABLE["base"]["rows"]}
_AMBIENT = _TABLE["ambient"]
_BUNDLING = _TABLE["bundling"]
_NIPPLE_LONGEST = Quantity(table("raceway")["fill"]["nipple_longest"], "in")
_RATINGS: tuple[int, ...] = tuple(_TABLE["terminals"]["ratings"])

CONDUCTOR_SIZE = Input("conductor_size", Kind.CONDUCTOR_SIZE, "12", choices=TABLE_SIZES)
MATERIAL = Input("material", Kind.CHOICE, "copper", choices=("copper", "aluminum"))
INSULATION = Input("insulation", Kind.INSULATION, "THHN", choices=INSULATIONS)
AMBIENT = Input("ambient", Kind.TEMPERATURE, "86 F", "°C", least=-50, most=85)
CURRENT_CARRYING = Input("current_carrying", Kind.COUNT, "3", "conductors", least=1, most=500)
TERMINALS = Input("terminals", Kind.RATING, "75 C", "°C", least=60, most=90)
CONTINUOUS = Input("continuous", Kind.CONTINUOUS, "16 A", "A", optional=True, least=0, most=10_000)
NONCONTINUOUS = Input("noncontinuous", Kind.NUMBER, "4 A", "A", optional=True, least=0, most=10_000)
WET = Input("wet", Kind.YES_NO, "yes", optional=True)
NIPPLE = Input("nipple", Kind.YES_NO, "yes", optional=True)
CORD_AND_PLUG = Input("cord_and_plug", Kind.YES_NO, "yes", optional=True)
EDITION = Input("edition", Kind.CHOICE, "2023", optional=True, choices=tuple(_TABLE["base"]["sections"]))


class Factor(Struct, frozen=True):
    """
    One factor on the table's ampacity.

    Args:
        name: "ambient" or "bundling".
        factor: What the ampacity is multiplied by.
    """

    name: str
    factor: float

    def message(self) -> Message:
        """The factor with its name."""
        return Message(f"ampacity.factor-{self.name}", {"factor": self.factor})


class Ampacity(Struct, frozen=True):
    """
    What a conductor may carry, and what may protect it.

    Args:
        ampacity: As laid and connected [A].
        overcurrent_device: The largest standard device that may protect it [A]; None where none is small enough.
        factors: Correction for the ambient and adjustment for bundling.
        table_ampacity: Of the insulation's column [A].
        ambient_percent: The correction.
        bundling_percent: The adjustment.
        corrected: The table's ampacity with both [A].
        terminal_limit: Of the terminals' column [A].
        largest_load: The most that it may feed, all of it continuous where that is said [A]; None for a given load,
            or without a device.
        needed: 125 % of the continuous load and the rest of it [A]; None without a load in amperes.
        carries: Whether conductor and device are enough for that load; None without one.
        load_device: The smallest standard device for that load [A]; None without one, or where none is large enough.
    """

    ampacity: float
    overcurrent_device: float | None
    factors: tuple[Factor, ...]
    table_ampacity: float
    ambient_percent: float
    bundling_percent: float
    corrected: float
    terminal_limit: float
    largest_load: float | None
    needed: float | None
    carries: bool | None
    load_device: float | None


@steps(corrected="A", ampacity="A", table_limit="A")
def ampacity(
    conductor_size: str,
    material: str,
    insulation: str,
    ambient: float,
    *,
    current_carrying: int,
    terminals: float,
    continuous: float | bool | None = None,
    noncontinuous: float = 0.0,
    wet: bool = False,
    nipple: bool = False,
    cord_and_plug: bool = False,
    edition: str = "2023",
) -> Ampacity:
    """
    What a conductor in a raceway may carry, with the overcurrent device that may protect it.

    Args:
        conductor_size: "14" to "4/0" AWG, "250" to "500" kcmil.
        material: "copper", or "aluminum" (copper-clad aluminum too).
        insulation: Type, such as "THHN".
        ambient: Temperature round the raceway [C].
        current_carrying: Conductors in the raceway that carry current; spares count, grounding conductors don't.
        terminals: Rating of the lowest rated terminal [C]: 60, 75 or 90.
        continuous: Load that lasts three hours or more [A], or whether all of the load does.
        noncontinuous: The rest of the load [A].
        wet: Whether the place counts as wet.
        nipple: Whether the raceway is 24 in or less, so that bundling does not matter.
        cord_and_plug: Whether the circuit feeds several outlets for cords and plugs.
        edition: Of NFPA 70, for the numbers of the tables.

    Raises:
        InputError: When a value lies outside its range, the table has no such conductor, the insulation is not for the
            place, or the ambient is too hot for it.

    Source: NFPA 70-2023 Table 310.16, Tables 310.15(B)(1)(1) and 310.15(C)(1), 110.14(C), 240.4(B), (D), 240.6(A).

    >>> found = ampacity("12", "copper", "THHN", 30.0, current_carrying=9, terminals=60.0)
    >>> round(found.ampacity, 6), found.overcurrent_device
    (20.0, 20.0)
    """
    values = (conductor_size, material, insulation, ambient, current_carrying, terminals, continuous)
    _check(*values, noncontinuous, wet, nipple, cord_and_plug, edition)
    rated = _rated(insulation, wet=wet)
    table_ampacity = _in_column("table_ampacity", conductor_size, material, rated, edition)
    ambient_percent = _ambient_percent(ambient, rated, edition)
    bundling_percent = _bundling_percent(current_carrying, edition, nipple=nipple)
    corrected = table_ampacity * ambient_percent / 100 * bundling_percent / 100
    terminal_limit = _in_column("terminal_limit", conductor_size, material, min(int(terminals), rated), edition)
    ampacity = min(corrected, terminal_limit)
    overcurrent_device = largest_device(ampacity, conductor_size, material, cord_and_plug=cord_and_plug)
    table_limit = min(table_ampacity, terminal_limit)
    load = _load(Supply(table_limit, ampacity, overcurrent_device), continuous, noncontinuous)
    return Ampacity(
        ampacity,
        overcurrent_device,
        (Factor("ambient", ambient_percent / 100), Factor("bundling", bundling_percent / 100)),
        table_ampacity,
        ambient_percent,
        bundling_percent,
        corrected,
        terminal_limit,
        load.largest_load,
        load.needed,
        load.carries,
        load.load_device,
    )


def _check(*values: object) -> None:
    for given, value in zip(AMPACITY.inputs, values, strict=True):
        given.check(value)
    terminals, continuous, noncontinuous = values[5], values[6], values[7]
    if terminals not in _RATINGS:
        raise TERMINALS.refuse(Message("ampacity.no-column"), TERMINALS.written(terminals))
    if continuous is True and noncontinuous:
        raise CONTINUOUS.refuse(Message("ampacity.how-much"), "yes")


@steps()
def _rated(insulation: str, *, wet: bool) -> int:
    """Temperature of the conductor's insulation in this place [C]."""
    rated = rating(insulation, wet=wet)
    if not rated:
        for_wet = Message("input.one-of", {"choices": [name for name in INSULATIONS if rating(name, wet=True)]})
        raise INSULATION.refuse(Message("ampacity.not-wet", {"type": insulation}), insulation, for_wet, "THHN/THWN-2")
    place = Message("ampacity.wet" if wet else "ampacity.dry")
    note("rated", "ampacity.rated", type=insulation, place=place, rated=Quantity(rated, "°C"))
    return rated


@steps()
def _in_column(about: str, conductor_size: str, material: str, column: int, edition: str) -> float:
    """The table's ampacity in one column [A]."""
    found = float(_BASE[conductor_size][_COLUMNS[f"{material}_{column}"]])
    if not found:
        params = {"size": size_name(conductor_size), "material": material}
        sizes = Message(
            "input.one-of", {"choices": [size for size, row in _BASE.items() if row[_COLUMNS["aluminum_60"]]]}
        )
        raise CONDUCTOR_SIZE.refuse(Message("ampacity.not-listed", params), conductor_size, sizes)
    params = {"size": size_name(conductor_size), "column": column, "ampacity": Quantity(found, "A")}
    note(about, f"ampacity.{about}", table=_TABLE["base"]["sections"][edition], material=material, **params)
    return found


@steps()
def _ambient_percent(ambient: float, rated: int, edition: str) -> float:
    """The correction; between two rows of the table the hotter one holds."""
    column = _AMBIENT["columns"].index(f"rated_{rated}")
    factor = next(row[column] for row in _AMBIENT["rows"] if ambient <= row[0] + 1e-9)
    if not factor:
        reason = Message("ampacity.too-hot", {"rated": Quantity(rated, "°C")})
        raise AMBIENT.refuse(reason, AMBIENT.written(ambient))
    percent = round(100.0 * factor)
    params = {"ambient": Quantity(ambient, "°C"), "rated": rated, "percent": Quantity(percent, "%")}
    note("ambient_percent", "ampacity.ambient", table=_AMBIENT["sections"][edition], **params)
    return float(percent)


@steps()
def _bundling_percent(current_carrying: int, edition: str, *, nipple: bool) -> float:
    """The adjustment for so many current-carrying conductors; none in a nipple."""
    if nipple:
        note("bundling_percent", "ampacity.nipple", table=_BUNDLING["sections"][edition], longest=_NIPPLE_LONGEST)
        return 100.0
    percent = float(next(share for up_to, share in _BUNDLING["rows"] if current_carrying <= up_to))
    params = {"count": current_carrying, "percent": Quantity(percent, "%")}
    note("bundling_percent", "ampacity.bundling", table=_BUNDLING["sections"][edition], **params)
    return percent


@steps()
def _load(supply: Supply, continuous: float | bool | None, noncontinuous: float) -> Load:
    if isinstance(continuous, bool) or (continuous is None and not noncontinuous):
        return largest_load_on(supply, continuous=bool(continuous))
    return given_load(supply, continuous or 0.0, noncontinuous)


AMPACITY = Calculation(
    name="ampacity",
    function=ampacity,
    inputs=(
        CONDUCTOR_SIZE,
        MATERIAL,
        INSULATION,
        AMBIENT,
        CURRENT_CARRYING,
        TERMINALS,
        CONTINUOUS,
        NONCONTINUOUS,
        WET,
        NIPPLE,
        CORD_AND_PLUG,
        EDITION,
    ),
    outputs=(
        Output("ampacity", "A"),
        Output("overcurrent_device", "A", optional=True),
        Output("factors"),
        Output("table_ampacity", "A"),
        Output("ambient_percent", "%"),
        Output("bundling_percent", "%"),
        Output("corrected", "A"),
        Output("terminal_limit", "A"),
        Output("largest_load", "A", optional=True),
        Output("needed", "A", optional=True),
        Output("carries", optional=True),
        Output("load_device", "A", optional=True),
    ),
    sources=(
        *(_TABLE[group]["source"] for group in ("base", "ambient", "bundling", "small_conductors")),
        *(f"{_TABLE[group]['source']}: from memory" for group in ("terminals", "device", "continuous")),
        f"temperatures of insulation: {table('conductors')['insulation']['source']}, from memory",
    ),
    area="conductors",
    example_inputs={
        "conductor_size": "12",
        "material": "copper",
        "insulation": "THHN",
        "ambient": "100 F",
        "current_carrying": "6",
        "terminals": "75 C",
        "continuous": "12 A",
    },
)
