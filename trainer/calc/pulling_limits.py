"""What conductors stand: pounds-force at the pulling eye or grip, and pounds-force for each foot of radius."""

from __future__ import annotations

from trainer.calc.conductors import ConductorGroup, circular_mils
from trainer.calc.message import Message, Quantity
from trainer.calc.pulling_weight import CONDUCTORS
from trainer.calc.tables import table
from trainer.calc.trace import note, steps

__all__ = ["max_tension_of"]

_RULE = table("pulling")["tension"]


@steps(max_tension="lbf")
def max_tension_of(conductors: tuple[ConductorGroup, ...], material: str, grip: str) -> float:
    """
    The most tension on the conductors: pounds for each circular mil, four fifths of it for more than three of them.

    Conductors of several sizes count as so many of the smallest, which is on the safe side.

    Raises:
        InputError: When a size has no circular mils in the tables.
    """
    count = sum(group.count for group in conductors)
    smallest = min(_area(group) for group in conductors)
    share: float = 1 if count <= 3 else _RULE["share_of_many"]
    per_circular_mil: float = _RULE[material]
    params = {"count": count, "area": smallest, "share": share, "each": f"{per_circular_mil:g}"}
    note("smallest", "pulling.limit", material=material, **params)
    max_tension = share * count * per_circular_mil * smallest
    if grip == "eye":
        return max_tension
    basket: float = _RULE["basket_grip"]
    note("basket", "pulling.basket", most=Quantity(basket, "lbf"))
    max_tension = min(max_tension, basket)
    return max_tension  # noqa: RET504 - the assignment is the step


def _area(group: ConductorGroup) -> int:
    if group.size in {"18", "16"}:
        raise CONDUCTORS.refuse(Message("pulling.not-listed", {"conductor": str(group)}), str(group))
    return circular_mils(group.size)
