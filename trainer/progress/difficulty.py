"""How hard a problem family is, learned from first tries [logit]; 0 is typical of its skill."""

from __future__ import annotations

from collections.abc import Collection

from trainer.progress.constants import CURRENT, Constants

__all__ = ["centred", "learned", "tells"]


def tells(counted: int, *, first_honest_try: bool, constants: Constants = CURRENT) -> bool:
    """
    Whether an answer says something about its family: a first try without a hint by someone who is no beginner.

    Args:
        counted: The person's counted answers in the skill before this one.
        first_honest_try: First try, no hint seen.
        constants: Table to use.
    """
    return first_honest_try and counted >= constants.difficulty_counted


def learned(difficulty: float, counted: int, *, right: bool, expected: float, constants: Constants = CURRENT) -> float:
    """
    The difficulty after one more answer, within the limit on both sides.

    Args:
        difficulty: Difficulty before, not centred [logit].
        counted: Answers that it was learned from so far.
        right: Whether the answer was right.
        expected: Chance that it would be, before the answer.
        constants: Table to use.

    Source: step that shrinks with the number of answers, form of Pelanek 2016.
    >>> round(learned(0.0, 0, right=False, expected=0.8), 3)
    0.4
    """
    shrinking = constants.difficulty_step / (1 + constants.difficulty_slowing * counted)
    step = max(constants.difficulty_least_step, shrinking)
    moved = difficulty - step * (right - expected)
    return max(-constants.difficulty_limit, min(constants.difficulty_limit, moved))


def centred(difficulty: float, of_skill: Collection[float]) -> float:
    """
    A difficulty against the mean of its skill, so that level 0 stays "half of the typical problems".

    Args:
        difficulty: Learned difficulty of the family [logit].
        of_skill: Those of all families of the skill, 0 for one that has none yet.

    >>> centred(0.5, [0.5, 0.1])
    0.2
    """
    return difficulty - sum(of_skill) / len(of_skill) if of_skill else difficulty
