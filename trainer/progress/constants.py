"""
The constants of the skill model in one table.

An answer keeps the version of the table that its update used, so that a replay uses the same one. A change of a
value is a new version beside the old ones, never an edit.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from msgspec import Struct

__all__ = ["CURRENT", "VERSIONS", "Constants"]


class Constants(Struct, frozen=True):
    """
    Settings of the skill model; levels and difficulties in logits, times in days.

    Args:
        version: Number of this table.
        start_level: Level of a new person: about 56 of 100 typical problems right.
        start_variance: Variance of that level: little is known.
        start_share: Share of the mean lead in other skills that a new skill starts with.
        start_limit: Largest change of the start through other skills.
        start_counted: Counted answers from which a skill says something about the next one.
        gain: Expected gain of one answered problem with feedback.
        gain_halves_at: Counted answers after which the gain has halved.
        fading: Loss of level for each unit of ln(1 + days / holding).
        holding_start: First holding time, and the shortest.
        holding_longest: Ceiling of the holding time.
        holding_growth: Largest growth of the holding time at one success, as a factor above 1.
        holding_loss: Factor of the holding time at a failure after a gap.
        another_day: Days apart from which an answer counts as given on another day.
        doubt_answer: Variance added by each answer.
        doubt_gap: Variance added for each unit of ln(1 + days / holding).
        weight: What one answer is worth of a perfect one: good and bad days, difficulty not known exactly.
        weight_hint: The same for a right answer after a hint.
        weight_lesson: The most that an answer inside a lesson is worth.
        weight_half: Factor for a wrong unit, for too few digits and for giving up.
        gain_second: Share of the gain for a right answer after the steps or at a second try.
        slip: Chance that someone who can do it gets it wrong.
        lucky_typed: Chance that someone who can't gets a typed answer right.
        range_width: Standard deviations on each side of the 90 % range.
        difficulty_step: First step of a learned difficulty.
        difficulty_slowing: How fast that step shrinks with the answers counted.
        difficulty_least_step: Smallest step.
        difficulty_limit: Largest difficulty, up and down.
        difficulty_counted: Counted answers in the skill from which a person's answers tell about a family.
        said_from: Counted answers from which a number is shown to people.
        goal: Chance that practice aims at.
        goal_floor: Score that a skill at its goal keeps in the choice of the next problem.
        longest_wait: Ceiling of the waiting factor in that choice.
        never_had: Waiting time that stands for "never had a turn", in problems.
        new_until: Counted answers below which a skill is new.
        new_at_once: How many new skills may be open at once.
        new_block: Problems of a new skill that follow each other.
        refresh_factor: Factor on the score of a skill whose refresh is due.
        family_chance: Predicted chance that the next family comes nearest to.
        family_pause: How many of the skill's last families don't come again.
        family_rounds: A family that had no turn in so many times as many turns as its skill has families comes next.
        family_memory: Turns of a skill that are remembered for that.
    """

    version: int
    start_level: float = 0.3
    start_variance: float = 1.0
    start_share: float = 0.5
    start_limit: float = 1.0
    start_counted: int = 5
    gain: float = 0.12
    gain_halves_at: float = 20.0
    fading: float = 0.25
    holding_start: float = 2.0
    holding_longest: float = 180.0
    holding_growth: float = 1.5
    holding_loss: float = 0.7
    another_day: float = 0.5
    doubt_answer: float = 0.02
    doubt_gap: float = 0.01
    weight: float = 0.7
    weight_hint: float = 0.2
    weight_lesson: float = 0.2
    weight_half: float = 0.5
    gain_second: float = 0.5
    slip: float = 0.02
    lucky_typed: float = 0.02
    range_width: float = 1.645
    difficulty_step: float = 0.5
    difficulty_slowing: float = 0.05
    difficulty_least_step: float = 0.02
    difficulty_limit: float = 3.0
    difficulty_counted: int = 5
    said_from: int = 5
    goal: float = 0.95
    goal_floor: float = 0.02
    longest_wait: float = 3.0
    never_had: int = 99
    new_until: int = 6
    new_at_once: int = 3
    new_block: int = 3
    refresh_factor: float = 2.0
    family_chance: float = 0.80
    family_pause: int = 3
    family_rounds: int = 2
    family_memory: int = 48


CURRENT = Constants(version=1)
"""What an answer given now uses."""

VERSIONS: Mapping[int, Constants] = MappingProxyType({CURRENT.version: CURRENT})
"""Every table that an answer on record may have used."""
