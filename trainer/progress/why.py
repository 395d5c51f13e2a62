"""Why a problem comes next, as a message: the plainest true reason first."""

from __future__ import annotations

from enum import StrEnum

from trainer.calc.message import Message, Quantity
from trainer.progress.constants import CURRENT, Constants
from trainer.progress.skill import chance
from trainer.progress.standing import Standing

__all__ = ["Ground", "tenths", "why"]

LONG_AGO = 2
"""Days without an answer from which the gap is the reason."""


class Ground(StrEnum):
    """What gave a skill its turn."""

    BLOCK = "block"
    WEAKEST = "weakest"
    TURN = "turn"
    ASKED = "asked"


def tenths(share: float) -> int:
    """
    A share of 1 in whole tenths, as it is said to people.

    >>> tenths(0.763), tenths(0.45), tenths(0.98)
    (8, 5, 10)
    """
    return int(share * 10 + 0.5)


def why(line: Standing, ground: Ground, provoked: str | None, constants: Constants = CURRENT) -> Message:
    """
    The reason for a problem of this skill.

    Args:
        line: Where the person stands on it.
        ground: What gave it its turn.
        provoked: Id of the active mistake that the family was taken for; None without one.
        constants: Table that says from how many answers on a number is said.
    """
    if provoked is not None:
        return Message("progress.why.mistake", {"skill": line.title, "mistake": line.active[provoked]})
    if ground is Ground.ASKED:
        return Message("progress.why.asked", {"skill": line.title})
    if not line.begun:
        return Message("progress.why.new", {"skill": line.title})
    return _turn(line, ground, constants)


def _turn(line: Standing, ground: Ground, constants: Constants) -> Message:
    """Why a skill that has begun comes round."""
    if ground is Ground.BLOCK:
        nth, block = len(line.recent) + 1, constants.new_block
        return Message("progress.why.block", {"skill": line.title, "nth": nth, "block": block})
    if line.days >= LONG_AGO:
        return Message("progress.why.days", {"skill": line.title, "days": Quantity(int(line.days), "days")})
    if ground is Ground.WEAKEST and line.state.counted >= constants.said_from:
        right = tenths(chance(line.state, days=line.days, constants=constants))
        return Message("progress.why.weakest", {"skill": line.title, "right": right})
    return Message("progress.why.turn", {"skill": line.title, "waiting": Quantity(line.waiting or 0, "problems")})
