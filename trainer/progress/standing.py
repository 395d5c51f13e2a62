"""Where a person stands, as the choice of the next problem sees it: plain values, one line a skill, one a family."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct, field

from trainer.progress.skill import SkillState

__all__ = ["FamilyLine", "Standing"]


class FamilyLine(Struct, frozen=True):
    """
    A family that could be asked.

    Args:
        id: The family.
        difficulty: Its difficulty, centred within the skill [logit].
        lucky: Chance of a lucky answer.
        mistakes: Ids of the known mistakes that it provokes.
        unopened: Whether it is later-year work that the person has not opened: see `trainer.progress.later`.
        in_doubt: Whether its key is in doubt; such a family waits until it is mended.
    """

    id: str
    difficulty: float
    lucky: float
    mistakes: frozenset[str]
    unopened: bool = False
    in_doubt: bool = False

    @property
    def waits(self) -> bool:
        """Whether the program takes it only where it is asked for and nothing else is there."""
        return self.unopened or self.in_doubt


class Standing(Struct, frozen=True):
    """
    A skill that could have the next turn.

    Args:
        skill: Its id.
        title: Its title, for the reason.
        state: Where the person stands.
        days: Days since the last counted answer; 0 without one.
        waiting: Problems of other skills since its last turn; None when it never had one.
        recent: The families of its last turns, newest last, as many as are remembered: fewer mean that it had fewer turns.
        active: Known mistakes that the person makes at present in this skill: what they are called, by id.
        refresh_due: Whether a skill once found ready is due for a refresh.
    """

    skill: str
    title: str
    state: SkillState
    days: float = 0.0
    waiting: int | None = None
    recent: tuple[str, ...] = ()
    active: Mapping[str, str] = field(default_factory=dict)
    refresh_due: bool = False

    @property
    def begun(self) -> bool:
        """Whether the skill has had a turn or an answer."""
        return self.waiting is not None or self.state.counted > 0
