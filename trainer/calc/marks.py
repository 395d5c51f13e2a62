"""
A mark on the tube as a full instruction.

A number by itself tells nobody how to bend: it takes the end from which it is measured, the bender's reference that
goes on it, where the hook points, how the tube is turned before, and which bend comes first.
"""

from __future__ import annotations

from enum import StrEnum

from msgspec import Struct

from trainer.calc.message import Message, Quantity

__all__ = ["Datum", "End", "Mark", "Reference"]


#: A roll that comes out the same both ways [deg].
HALF_OVER = 180.0


class End(StrEnum):
    """An end of the tube: the one that measuring starts from, or the other."""

    MEASURED = "measured-end"
    FAR = "far-end"


class Datum(StrEnum):
    """Where a tape starts on a piece that is bent already, toward the far end."""

    BACK = "back-of-first-bend"


class Reference(StrEnum):
    """A reference point of the bender, named by what it does."""

    TAKE_UP = "take-up-mark"
    BACK_OF_BEND = "back-of-bend-mark"
    SADDLE_CENTRE = "saddle-centre-mark"


class Mark(Struct, frozen=True):
    """
    One mark and the bend made on it.

    Args:
        position: From `measured_from` [in].
        measured_from: The end where the tape hooks on, or the back of the bend that was made first.
        reference: The bender's reference that goes on the mark.
        hook_toward: The end that the hook points at.
        angle: Of this bend [deg].
        roll: How far the tube is rolled about its length before this bend, clockwise as seen looking from the measured
            end along the tube [deg]; below 0 counterclockwise.
        end_for_end: Whether it is turned end for end before this bend, flat on the floor: the side that was up stays up.
        order: Which bend this is, from 1.
    """

    position: float
    measured_from: End | Datum
    reference: Reference
    hook_toward: End
    angle: float
    roll: float
    end_for_end: bool
    order: int

    def message(self) -> Message:
        """The instruction as a sentence."""
        params = {
            "order": self.order,
            "position": Quantity(self.position, "in"),
            "measured_from": Message(f"mark.{self.measured_from}"),
            "reference": Message(f"mark.{self.reference}"),
            "hook_toward": Message(f"mark.{self.hook_toward}"),
            "angle": Quantity(self.angle, "deg"),
            "turn": self._turn(),
        }
        return Message("mark.instruction", params)

    def _turn(self) -> Message:
        """What is done with the tube before this bend."""
        turned = "mark.turn.end-for-end" if self.end_for_end else "mark.turn.as-it-lies"
        if not self.roll:
            return Message(turned)
        half_over = abs(self.roll) == HALF_OVER
        way = "over" if half_over else "clockwise" if self.roll > 0 else "counterclockwise"
        rolled = Message(f"mark.roll.{way}", {"roll": Quantity(abs(self.roll), "deg")})
        return Message("mark.turn.both" if self.end_for_end else "mark.turn.roll", {"roll": rolled})
