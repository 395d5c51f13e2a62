"""Room for the bend next to the end where measuring starts: tube for the hook, or for the arc that lies behind the mark."""

from __future__ import annotations

from trainer.calc.arcs import arc_and_gain
from trainer.calc.inputs import Input
from trainer.calc.marks import End
from trainer.calc.message import Message, Quantity
from trainer.calc.shoes import HOOK_NEEDS, Shoe

__all__ = ["check_near_end", "tube_needed"]


def tube_needed(shoe: Shoe, angle: float, hook: str) -> float:
    """
    Tube that a take-up mark needs toward the measured end [in].

    Args:
        shoe: The bender's shoe.
        angle: Of the bend [deg].
        hook: End that the hook points at. Toward the far end the arc lies between the mark and the measured end.
    """
    arc, _ = arc_and_gain(shoe.radius, angle)
    return max(HOOK_NEEDS, shoe.mark_to_arc + arc) if hook == End.FAR else HOOK_NEEDS


def check_near_end(given: Input, distance: float, nearest: float, needed: float) -> None:
    """
    Refuse a distance that leaves the nearest mark too little tube.

    Args:
        given: The input that the distance was given by.
        distance: Its value [in].
        nearest: The mark nearest to the measured end, from there [in].
        needed: What it needs [in].

    Raises:
        InputError: With the least distance that leaves enough.
    """
    if nearest >= needed:
        return
    least = Quantity(distance - nearest + needed, "in")
    params = {"mark": Quantity(nearest, "in"), "needed": Quantity(needed, "in")}
    reason = Message("near_end.no-room" if nearest > 0 else "near_end.off-the-tube", params)
    raise given.refuse(reason, given.written(distance), Message("near_end.least-distance", {"least": least}))
