"""What a tube measures that is bent by the marks of a calculation, on each basis: the second method of all bends."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from trainer.calc.catalogue import CATALOGUE
from trainer.calc.evidence_check import Check, Values
from trainer.calc.layout_claims import CLAIMS
from trainer.calc.layout_compare import COMPARE, Compared
from trainer.calc.layout_proof import NEAR_ENOUGH, misfit
from trainer.calc.message import InputError, Message

__all__ = ["checks_by_layout"]

#: Below this a measure of a rougher basis is as asked [in], [deg].
_NOTHING = 1e-6

#: The arc first, as the others are held against it.
_BASES = ("arc", "handbook", "sharp-corner")


def checks_by_layout(name: str, values: Values, result: Any) -> Iterator[Check]:
    """
    Asked against got, for every basis that gives marks; only the arc is held to it.

    Marks that know no basis, such as that of a stub on its own take-up, are held to it too.
    """
    marked = {output.basis or "arc" for output in CATALOGUE[name].outputs if output.name.startswith("marks")}
    bases = [basis for basis in _BASES if basis in marked]
    for basis in bases if name in COMPARE else ():
        method = f"evidence.method.bent-{basis}" if len(bases) > 1 else "evidence.method.bent"
        for one in _misfit(name, values, basis):
            if basis == "arc":
                yield _check(method, one, NEAR_ENOUGH)
            elif abs(one.miss) > _NOTHING:
                yield _check(method, one, None)
    for one in CLAIMS[name](values, result) if name in CLAIMS else ():
        if one.asked is not None:  # An optional output, such as the outside gain of a tube whose diameter is not said.
            yield _check("evidence.method.measured", one, NEAR_ENOUGH)


def _misfit(name: str, values: Values, basis: str) -> tuple[Compared, ...]:
    """Nothing where marks of a rougher basis leave the arcs no room."""
    try:
        return misfit(name, values, basis)
    except InputError:
        return ()


def _check(method: str, one: Compared, within: float | None) -> Check:
    return Check(Message(method), one.name, one.unit, one.asked, one.got, within)
