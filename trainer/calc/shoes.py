"""Bender shoes: what one tool's distances are. Inches."""

from __future__ import annotations

from dataclasses import dataclass

from trainer.calc.tables import table

__all__ = ["DEFAULT_SHOE", "DEFAULT_SHOES", "HOOK_NEEDS", "Shoe"]


@dataclass(frozen=True, slots=True)
class Shoe:
    """
    One bender shoe.

    Args:
        trade_size: Trade size of the tubing that it bends.
        take_up: From the take-up mark to the back of a 90 degree bend [in].
        radius: Of the bend, to the centreline of the tubing [in].
        outside_diameter: Of the tubing [in].
    """

    trade_size: str
    take_up: float
    radius: float
    outside_diameter: float

    @property
    def mark_to_arc(self) -> float:
        """
        From the take-up mark to the start of the arc, away from the hook [in].

        >>> round(DEFAULT_SHOES["1/2"].mark_to_arc, 3)
        0.147
        """
        return self.take_up - self.radius - self.outside_diameter / 2


#: A usual hand bender of each trade size; source in tables/bends.toml. A shop's own, measured shoe goes first.
DEFAULT_SHOES = {row["trade_size"]: Shoe(**row) for row in table("bends")["hand_bender_shoe"]["rows"]}

#: What is meant where no shoe is named.
DEFAULT_SHOE = DEFAULT_SHOES["1/2"]

#: Tube that the hook needs beyond a mark [in].
HOOK_NEEDS: float = table("bends")["room_on_the_tube"]["hook_needs"]
