"""
Figures that others have published, beside what the core says: examples and table cells, each with its source.

They stand in tables/published.toml and tables/annex_c.toml, and decide nothing: `tests/outside/test_published.py` holds
the core against every one, and the evidence of a calculation shows them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import cache
from types import MappingProxyType
from typing import Any

from msgspec import Struct

from trainer.calc.catalogue import CATALOGUE
from trainer.calc.tables import table

__all__ = ["PUBLISHED_FILES", "Published", "published_figures"]

#: Files of published figures, and which calculations the figures of one of their tables are held against.
PUBLISHED_FILES: Mapping[str, Callable[[Mapping[str, Any]], Iterable[str]]] = MappingProxyType(
    {
        "published": lambda values: [row["calculation"] for row in values["rows"]],
        "annex_c": lambda _: ["max_conductors"],
    }
)


class Published(Struct, frozen=True):
    """
    One published figure.

    Args:
        calculation: The calculation that gives it too.
        inputs: Its inputs as typed.
        output: Name of its output.
        expected: The figure as it is printed: a number, a name, yes or no.
        unit: Of the figure.
        tolerance: How far the core may be from it: half of the last printed place, or 0 for what is exact.
        source: Who published it.
        checked: How it was checked that it is printed so.
        differs: Why it differs from what the core says; "" where it doesn't.
        is_cell: Whether it is one of very many cells of a printed table.
    """

    calculation: str
    inputs: Mapping[str, str]
    output: str
    expected: Any
    unit: str
    tolerance: float
    source: str
    checked: str
    differs: str = ""
    is_cell: bool = False

    def core(self) -> Any:
        """What the core says."""
        return getattr(CATALOGUE[self.calculation].solve(self.inputs), self.output)

    def residue(self, core: Any) -> float | None:
        """How much more the core says than is printed; None where the figure is no number."""
        if isinstance(self.expected, str | bool) or core is None:
            return None
        return float(core) - float(self.expected)

    def agrees(self, core: Any) -> bool:
        """Whether the core says the same, to within the tolerance."""
        residue = self.residue(core)
        return core == self.expected if residue is None else abs(residue) <= self.tolerance + 1e-9


@cache
def published_figures(calculation: str) -> tuple[Published, ...]:
    """Every published figure of a calculation, examples before table cells."""
    return tuple(each for each in _all() if each.calculation == calculation)


@cache
def _all() -> tuple[Published, ...]:
    return (*_examples(), *_annex_c())


def _examples() -> Iterator[Published]:
    for group in table("published").values():
        for row in group["rows"]:
            yield Published(source=group["source"], checked=group["checked"], **row)


def _annex_c() -> Iterator[Published]:
    """The cells of the printed table: a row for each size, a column for each trade size."""
    for group in table("annex_c").values():
        for size, *counts in group["rows"]:
            for trade_size, count in zip(group["columns"][1:], counts, strict=True):
                yield _cell(group, size, trade_size, count)


def _cell(group: Mapping[str, Any], size: str, trade_size: str, count: int) -> Published:
    inputs = {"raceway": "emt", "trade_size": trade_size, "insulation": group["insulation"], "conductor_size": size}
    said = (group["source"], group["checked"])
    return Published("max_conductors", inputs, "count", count, "conductors", 0, *said, is_cell=True)
