"""
The next problem: which skill has its turn, which family of it, and why.

Taking turns does most of the good, and the skills furthest from the goal come round more often. Pure: the lines of the
person's skills are passed in, one for each skill that has families, in the order in which the trade is taught.

Later-year work waits until the person opens it, and a family whose key is in doubt until it is mended: of its own accord
the program takes neither, and of a skill that was asked for only where the skill has nothing else.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec import Struct

from trainer.calc.message import Message
from trainer.progress.constants import CURRENT, Constants
from trainer.progress.skill import chance
from trainer.progress.standing import FamilyLine, Standing
from trainer.progress.why import Ground, why

__all__ = ["Choice", "family_for", "next_problem"]


class Choice(Struct, frozen=True):
    """What comes next, and why in words for the person."""

    skill: str
    family_id: str
    why: Message


def next_problem(
    lines: Sequence[Standing], families: Mapping[str, Sequence[FamilyLine]], constants: Constants = CURRENT
) -> Choice | None:
    """
    The skill whose turn it is, and the family of it that fits best.

    Args:
        lines: The person's skills; between equal scores the one that stands first has the turn.
        families: The families of each skill; a skill without one can't have a turn.
        constants: Table to use.

    Returns:
        The choice; None when no skill has a family that may be chosen.
    """
    lines = [line for line in lines if not all(family.waits for family in families.get(line.skill, ()))]
    if not lines:
        return None
    line, ground = _next_skill(lines, constants)
    family, provoked = family_for(line, families[line.skill], constants)
    return Choice(line.skill, family.id, why(line, ground, provoked))


def family_for(
    line: Standing, families: Sequence[FamilyLine], constants: Constants = CURRENT
) -> tuple[FamilyLine, str | None]:
    """
    The family of a skill that comes next, and the id of the active mistake that it was taken for, if any.

    None whose key is in doubt, none of later-year work that was not opened and none of the skill's last three, as far as there are others. One that
    has not had its turn for two rounds of the skill's families before all, so that none starves; then one that provokes
    an active mistake; then the one whose predicted chance is nearest to 0.80.
    """
    families = [family for family in families if not family.in_doubt] or families
    families = [family for family in families if not family.unopened] or families
    pause = min(constants.family_pause, len(families) - 1)
    paused = _last_different(line.recent, pause)
    rested = [family for family in families if family.id not in paused]
    waited = _left_waiting(line.recent, rested, constants.family_rounds * len(families))
    provoking = [family for family in rested if not family.mistakes.isdisjoint(line.active)]

    def distance(family: FamilyLine) -> tuple[float, str]:
        predicted = chance(
            line.state, days=line.days, difficulty=family.difficulty, lucky=family.lucky, constants=constants
        )
        return abs(predicted - constants.family_chance), family.id

    best = min(waited or provoking or rested, key=distance)
    return best, min(best.mistakes & line.active.keys(), default=None)


def _left_waiting(recent: Sequence[str], rested: Sequence[FamilyLine], turns: int) -> list[FamilyLine]:
    """Those that had none of the skill's last turns, so many of them; none before the skill has had so many."""
    if len(recent) < turns:
        return []
    had = {*recent[-turns:]}
    return [family for family in rested if family.id not in had]


def _last_different(recent: Sequence[str], most: int) -> set[str]:
    """The last families by id, `most` different ones: where a skill has few families, the oldest may come again."""
    different = list(dict.fromkeys(reversed(recent)))
    return set(different[:most])


def _next_skill(lines: Sequence[Standing], constants: Constants) -> tuple[Standing, Ground]:
    last = next((line for line in lines if line.waiting == 0), None)
    if last is not None and _in_block(last, constants):
        return last, Ground.BLOCK
    candidates = _candidates(lines, last, constants)
    chances = {line.skill: chance(line.state, days=line.days, constants=constants) for line in candidates}
    open_skills = sum(line.begun for line in lines) + sum(not line.begun for line in candidates)
    best = max(candidates, key=lambda line: _score(line, chances[line.skill], open_skills, constants))
    is_weakest = len(candidates) > 1 and chances[best.skill] == min(chances.values())
    return best, Ground.WEAKEST if is_weakest else Ground.TURN


def _in_block(line: Standing, constants: Constants) -> bool:
    """Whether a new skill is still in its first three problems, which follow each other."""
    return len(line.recent) < constants.new_block


def _candidates(lines: Sequence[Standing], last: Standing | None, constants: Constants) -> list[Standing]:
    """The skills that may have the turn: not the last one, and no further new one while three are new."""
    new = sum(line.begun and line.state.counted < constants.new_until for line in lines)
    full = new >= constants.new_at_once
    candidates = [line for line in lines if line is not last and (line.begun or not full)]
    return candidates or [line for line in lines if line is last]


def _score(line: Standing, chance_now: float, open_skills: int, constants: Constants) -> float:
    missing = constants.goal - chance_now
    waiting = constants.never_had if line.waiting is None else line.waiting
    score = (constants.goal_floor + max(0.0, missing)) * min(constants.longest_wait, waiting / open_skills)
    return score * constants.refresh_factor if line.refresh_due else score
