"""Bender shoes: what one tool's distances are. Inches."""

from __future__ import annotations

from msgspec import Struct

from trainer.calc.arcs import arc_and_gain
from trainer.calc.step import write_number
from trainer.calc.tables import table

__all__ = ["DEFAULT_SHOE", "DEFAULT_SHOES", "HOOK_NEEDS", "Shoe"]


class Shoe(Struct, frozen=True):
    """
    One bender shoe.

    Args:
        trade_size: Trade size of the tubing that it bends.
        take_up: From the take-up mark to the back of a 90 degree bend [in].
        radius: Of the bend, to the centreline of the tubing [in].
        outside_diameter: Of the tubing [in].
        own_back_mark: From the take-up mark to the tool's back-of-bend mark, away from the hook [in], where it was
            measured; None where it stands at the back of the bend, as it should.
    """

    trade_size: str
    take_up: float
    radius: float
    outside_diameter: float
    own_back_mark: float | None = None

    @property
    def mark_to_arc(self) -> float:
        """
        From the take-up mark to the start of the arc, away from the hook [in].

        >>> round(DEFAULT_SHOES["1/2"].mark_to_arc, 3)
        0.147
        """
        return self.take_up - self.radius - self.outside_diameter / 2

    @property
    def outside_gain(self) -> float:
        """
        What a 90 takes less than its two legs measured to the back of the bend [in].

        >>> round(DEFAULT_SHOES["1/2"].outside_gain, 3)
        2.637
        """
        _, gain = arc_and_gain(self.radius, 90)
        return gain + self.outside_diameter

    @property
    def back_mark(self) -> float:
        """
        From the take-up mark to the back-of-bend mark, away from the hook [in].

        >>> round(DEFAULT_SHOES["1/2"].back_mark, 3)
        2.363
        """
        return self.take_up - self.outside_gain if self.own_back_mark is None else self.own_back_mark

    @property
    def back_mark_off(self) -> float:
        """How much too far from the hook the tool's back-of-bend mark stands [in]; 0 where it was not measured."""
        return self.back_mark - (self.take_up - self.outside_gain)

    def __str__(self) -> str:
        """As it can be typed: the trade size of a usual shoe, or the figures of a shop's own."""
        if self == DEFAULT_SHOES.get(self.trade_size):
            return self.trade_size
        own = f"{self.trade_size} take-up {write_number(self.take_up)} in radius {write_number(self.radius)} in"
        return own if self.own_back_mark is None else f"{own} back {write_number(self.own_back_mark)} in"


#: A usual hand bender of each trade size; source in tables/bends.toml. A shop's own, measured shoe goes first.
DEFAULT_SHOES: dict[str, Shoe] = {row["trade_size"]: Shoe(**row) for row in table("bends")["hand_bender_shoe"]["rows"]}

#: What is meant where no shoe is named.
DEFAULT_SHOE = DEFAULT_SHOES["1/2"]

#: Tube that the hook needs beyond a mark [in].
HOOK_NEEDS: float = table("bends")["room_on_the_tube"]["hook_needs"]
