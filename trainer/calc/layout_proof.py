"""
The proof: a calculation's marks, bent on the very shoe that they were worked out for, give what was asked; and its
other numbers are what the bent tube measures.

Only the arc basis can be held to it. What sharp corners and handbook constants miss by is the same comparison on
their marks: `misfit`.
"""

from __future__ import annotations

from collections.abc import Mapping
from random import Random
from types import MappingProxyType

from msgspec import Struct

from trainer.calc.catalogue import CATALOGUE
from trainer.calc.layout_claims import CLAIMS
from trainer.calc.layout_compare import COMPARE, Compared
from trainer.calc.layout_draw import DRAWS
from trainer.calc.marks import Mark
from trainer.calc.message import InputError

__all__ = ["NEAR_ENOUGH", "Proof", "misfit", "provable", "prove"]

#: How near the bent tube must come to what was asked, in each measure [in], [deg]: half a sixteenth.
NEAR_ENOUGH = 1 / 32

#: Field of the result that holds the marks of a basis; where there is no such field, the marks know no convention.
_MARKS: Mapping[str, str] = MappingProxyType(
    {"sharp-corner": "marks", "handbook": "marks_handbook", "arc": "marks_arc"}
)


class Proof(Struct, frozen=True):
    """
    Many drawn inputs, each bent and measured.

    Args:
        name: The calculation.
        held: How many were bent.
        refused: How many more were drawn that the calculation refused, or that leave the arcs no room.
        worst: The largest miss of each measure, whichever way, and the inputs that it came from.
    """

    name: str
    held: int
    refused: int
    worst: Mapping[str, tuple[float, Mapping[str, object]]]

    @property
    def holds(self) -> bool:
        """Whether every tube came out near enough."""
        return all(miss <= NEAR_ENOUGH for miss, _ in self.worst.values())


def provable() -> tuple[str, ...]:
    """Names of the calculations that can be bent and measured."""
    return tuple(name for name in CATALOGUE if name in COMPARE or name in CLAIMS)


def misfit(name: str, values: Mapping[str, object], basis: str = "arc") -> tuple[Compared, ...]:
    """
    What was asked, and what a tube measures that is bent by the marks of one basis.

    Args:
        name: The calculation.
        values: Its inputs.
        basis: "sharp-corner", "handbook" or "arc".

    Returns:
        One line for each measure; none where this basis gives no marks.

    Raises:
        InputError: When the calculation refuses the inputs, or the marks leave no room for the arcs.
        KeyError: For a calculation or a basis that there is not.

    >>> values = {"depth": 6, "angle": 45, "distance": 40}
    >>> [round(misfit("offset", values, basis)[0].miss, 3) for basis in ("sharp-corner", "handbook", "arc")]
    [0.137, 0.077, 0.0]
    """
    marks = _marks(CATALOGUE[name].solve(values), basis)
    return COMPARE[name](values, marks) if marks else ()


def prove(name: str, count: int, seed: int = 1) -> Proof:
    """
    Bend so many drawn inputs on the arc basis.

    Args:
        name: The calculation.
        count: How many are to be bent; draws that are refused don't count.
        seed: The same seed draws the same inputs.

    Raises:
        InputError: When marks that the calculation gave can't be bent: arcs overlap or leave the tube.
    """
    random = Random(seed)
    held = refused = 0
    worst: dict[str, tuple[float, Mapping[str, object]]] = {}
    while held < count:
        values = DRAWS[name](random)
        compared = _compared(name, values)
        held, refused = held + bool(compared), refused + (not compared)
        for one in compared:
            if abs(one.miss) >= worst.get(one.name, (0.0, {}))[0]:
                worst[one.name] = (abs(one.miss), values)
    return Proof(name, held, refused, worst)


def _compared(name: str, values: Mapping[str, object]) -> tuple[Compared, ...]:
    """Only the calculation may refuse; marks that it gives must be possible to bend."""
    try:
        result = CATALOGUE[name].solve(values)
    except InputError:
        return ()
    marks = _marks(result, "arc")
    as_bent = COMPARE[name](values, marks) if marks else ()
    return as_bent + (CLAIMS[name](values, result) if name in CLAIMS else ())


def _marks(result: object, basis: str) -> tuple[Mark, ...]:
    field = _MARKS[basis]
    marks: tuple[Mark, ...] = getattr(result, field if hasattr(result, field) else "marks", ())
    return marks
