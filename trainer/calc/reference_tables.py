"""
Tables to open while working: what people look up, from the tables of the core or worked out by it, with source and check.

Cells are values in the core's units with a named format; the words of titles and headings are sentences by id,
"table.<name>" and "column.<name>".
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from types import MappingProxyType
from typing import Any

from msgspec import Struct

from trainer.calc.fill import allowed_percent_for
from trainer.calc.fill_count import max_conductors
from trainer.calc.gain import gain
from trainer.calc.offset import offset
from trainer.calc.raceways import TRADE_SIZES, raceway_of
from trainer.calc.sources import Group, group_of

__all__ = ["REFERENCE_TABLES", "Heading", "ReferenceTable"]

Row = Sequence[Any]


class Heading(Struct, frozen=True):
    """A column: its name for the words, and the named format of its cells."""

    name: str
    format: str


class ReferenceTable(Struct, frozen=True):
    """
    A table to look things up in.

    Args:
        name: Kebab-case; "table.<name>" is its title.
        unit: The unit of lessons that it belongs to.
        headings: Of its columns.
        group: The table of the core that it rests on, for source and check; None for arithmetic.
        make: Gives its rows; None in a cell is nothing to say there.
        computed: Whether rows are worked out from the group rather than printed in it.
    """

    name: str
    unit: str
    headings: tuple[Heading, ...]
    group: Group | None
    make: Callable[[], Iterable[Row]]
    computed: bool = False

    @property
    def rows(self) -> tuple[Row, ...]:
        """Its rows, made now."""
        return tuple(tuple(row) for row in self.make())

    @property
    def source(self) -> str:
        """Where its numbers come from; a table of nothing but arithmetic has no group."""
        return self.group.source if self.group else "arithmetic"

    @property
    def checked(self) -> str:
        """How they were checked; row by row where the group leaves it to them."""
        if self.computed or not self.group:
            return "computed"
        said = [self.group.checked, *(value for key, value in self.group.own.items() if key.endswith("_checked"))]
        said += [
            row["checked"] for row in self.group.values.get("rows", ()) if isinstance(row, dict) and "checked" in row
        ]
        return ", ".join(dict.fromkeys(word for word in said if word))


def _printed(name: str, unit: str, path: str, **formats: str) -> ReferenceTable:
    """Columns of a group as they stand there; a 0 in a printed table means that there is no value."""
    group = group_of(tuple(path.split(".")))

    def make() -> Iterator[Row]:
        for row in group.values["rows"]:
            named = row if isinstance(row, dict) else dict(zip(group.columns, row, strict=True))
            cells = [_cell(named.get(column)) for column in formats]
            if any(cell is not None for cell in cells[1:]):
                yield cells

    return ReferenceTable(name, unit, _headings(formats), group, make)


def _laid_out(name: str, unit: str, path: str, make: Callable[[], Iterable[Row]], **formats: str) -> ReferenceTable:
    """Values of a group in rows of our own."""
    return ReferenceTable(name, unit, _headings(formats), group_of(tuple(path.split("."))), make)


def _computed(name: str, unit: str, path: str, make: Callable[[], Iterable[Row]], **formats: str) -> ReferenceTable:
    """Rows that the core works out."""
    group = group_of(tuple(path.split("."))) if path else None
    return ReferenceTable(name, unit, _headings(formats), group, make, computed=True)


def _headings(formats: Mapping[str, str]) -> tuple[Heading, ...]:
    return tuple(Heading(column, kind) for column, kind in formats.items())


def _cell(value: Any) -> Any:
    if isinstance(value, list):
        return " x ".join(map(str, value))
    return None if value == 0 else value


def _offsets() -> Iterator[Row]:
    """Multiplier and shrink for each angle: what benders carry, and what geometry says for a depth of an inch."""
    for row in group_of(("bends", "offset_constants")).values["rows"]:
        exact = offset(1.0, row["angle"])
        yield row["angle"], row["multiplier"], exact.spacing, row.get("shrink_per_inch"), exact.shrink


def _shoes() -> Iterator[Row]:
    for row in group_of(("bends", "hand_bender_shoe")).values["rows"]:
        bent = gain(row["radius"], 90.0, row["outside_diameter"])
        yield row["trade_size"], row["take_up"], row["radius"], row["outside_diameter"], bent.outside_gain


def _shares() -> Iterator[Row]:
    """What the shares of Table 1 leave of each bore."""
    shares = [allowed_percent_for(count, nipple=False) for count in (1, 2, 3)] + [allowed_percent_for(3, nipple=True)]
    for size in TRADE_SIZES:
        area = raceway_of("emt", size).area
        yield size, area, *(area * share / 100 for share in shares)


def _thhn_counts() -> Iterator[Row]:
    for size in ("14", "12", "10", "8", "6", "4", "3", "2", "1"):
        yield f"#{size}", *(max_conductors("emt", trade, "THHN", size).count for trade in ("1/2", "3/4", "1", "1-1/4"))


def _sixteenths() -> Iterator[Row]:
    for sixteenth in range(1, 17):
        yield sixteenth / 16, sixteenth / 16


def _distances() -> Iterator[Row]:
    values = group_of(("support", "emt")).values
    return ((name, values[name]) for name in ("max_spacing", "max_from_end", "max_from_end_exception"))


def _allowances() -> Iterator[Row]:
    for size, volume in group_of(("boxes", "allowance")).values["sizes"].items():
        yield f"#{size}", volume


def _bundling() -> Iterator[Row]:
    """Each row from one more than the row before."""
    least = 1
    for most, percent in group_of(("ampacity", "bundling")).values["rows"]:
        yield f"{least} to {most}" if most < 1000 else f"{least} and more", percent
        least = most + 1


def _caps() -> Iterator[Row]:
    """The largest device beside a small conductor, whatever its ampacity."""
    caps = group_of(("ampacity", "small_conductors")).values
    for size, amperes in caps["copper"].items():
        yield size, amperes, caps["aluminum"].get(size)


def _movement() -> Iterator[Row]:
    """Inches for 100 ft and 100 degrees Fahrenheit."""
    for material, coefficient in group_of(("expansion", "coefficients")).values.items():
        yield material, coefficient * 100 * 12 * 100


_AMPACITY = {"size": "size", "copper_60": "count", "copper_75": "count", "copper_90": "count"}
_ALUMINUM = {"size": "size", "aluminum_60": "count", "aluminum_75": "count", "aluminum_90": "count"}

_TABLES = (
    _computed("sixteenths", "measuring", "", _sixteenths, fraction="length", decimal="decimal"),
    _computed("offsets", "bends", "bends.offset_constants", _offsets, angle="angle", multiplier="number", multiplier_exact="number", shrink_per_inch="length", shrink_exact="bare"),
    _printed("saddles", "bends", "bends.saddle_constants", centre_angle="angle", multiplier="number", shrink_per_inch="length"),
    _computed("shoes", "bends", "bends.hand_bender_shoe", _shoes, trade_size="word", take_up="length", radius="bare", outside_diameter="bare", outside_gain="length"),
    _laid_out("strap-distances", "supports", "support.emt", _distances, distance="word", at_most="feet"),
    _printed("emt", "fill", "raceway.emt", trade_size="word", outside_diameter="bare", wall="bare", inside_diameter="bare", area="bare", weight="number", least_radius="bare"),
    _computed("shares", "fill", "raceway.fill", _shares, trade_size="word", area="bare", one_conductor="bare", two_conductors="bare", over_two="bare", nipple="bare"),
    _computed("thhn-counts", "fill", "conductors.dimensions.THHN", _thhn_counts, size="word", in_half="count", in_three_quarter="count", in_one="count", in_one_quarter="count"),
    _printed("thhn", "fill", "conductors.dimensions.THHN", size="size", diameter="bare", area="bare"),
    _printed("xhhw", "fill", "conductors.dimensions.XHHW", size="size", diameter="bare", area="bare"),
    _printed("thw", "fill", "conductors.dimensions.THW", size="size", diameter="bare", area="bare"),
    _printed("boxes", "boxes", "boxes.boxes", shape="word", size="word", volume="bare"),
    _laid_out("allowances", "boxes", "boxes.allowance", _allowances, size="word", volume="bare"),
    _printed("ampacity-copper", "conductors", "ampacity.base", **_AMPACITY),
    _printed("ampacity-aluminum", "conductors", "ampacity.base", **_ALUMINUM),
    _printed("heat", "conductors", "ampacity.ambient", up_to="celsius", rated_60="number", rated_75="number", rated_90="number"),
    _laid_out("neighbors", "conductors", "ampacity.bundling", _bundling, current_carrying="word", percent="percent"),
    _laid_out("caps", "conductors", "ampacity.small_conductors", _caps, size="size", copper="amperes", aluminum="amperes"),
    _printed("grounds", "conductors", "grounding.least", up_to="amperes", copper="size", aluminum="size"),
    _printed("properties", "conductors", "conductors.properties", size="size", circular_mils="count", stranded_copper="number", stranded_aluminum="number"),
    _computed("movement", "wet", "expansion.coefficients", _movement, material="word", movement="bare"),
)  # fmt: skip

#: Every table by name, in the order in which the trade is taught.
REFERENCE_TABLES: Mapping[str, ReferenceTable] = MappingProxyType({entry.name: entry for entry in _TABLES})
