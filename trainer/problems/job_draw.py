"""
The numbers of a job: drawn once for all parts, each part worked with what the parts before it came to.

A later part is worked again when its learner comes to it, from the learner's own numbers. Where these can't be worked with,
the part goes on with what the earlier one comes to.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from functools import lru_cache

from msgspec import Struct

from trainer.problems.drawn import Drawn
from trainer.problems.errors import DrawError
from trainer.problems.job import Job
from trainer.problems.misfit import Misfit
from trainer.problems.model import AnswerKind, Value
from trainer.problems.parts import Family

__all__ = ["Run", "as_marked", "draw_parts", "part_with", "work_parts"]

#: A job has more that has to fit than a single question.
TRIES = 1000
#: Seeds of the parts' own choices (which options, in which order) are apart by this.
MOST_PARTS = 8
KEPT = 2048
SIXTEENTHS = 16
#: Of a number that is no length, as one goes on with it.
DIGITS = 4

Numbers = Mapping[str, float | str]
#: What a family settles with given numbers; `trainer.problems.draw.settle`.
Settle = Callable[..., Drawn]


class Run(Struct, frozen=True):
    """
    One run through a job.

    Args:
        job: The job.
        seed: It gives the numbers, and decides about the order of options.
        edition: Of the rules.
        settle: What settles a family: `trainer.problems.draw.settle`.
    """

    job: Job
    seed: int
    edition: str
    settle: Settle


@lru_cache(maxsize=KEPT)
def draw_parts(run: Run) -> tuple[Drawn, ...]:
    """
    All parts of a job with the numbers of a seed, each with the true answers of those before it.

    Raises:
        DrawError: When nothing fits: an error of the job's file.
    """
    chance = random.Random(run.seed)
    reasons: Counter[str] = Counter()
    for _ in range(TRIES):
        numbers = dict(pair for parameter in run.job.parameters for pair in parameter.draw(chance))
        try:
            return work_parts(run, numbers)
        except Misfit as misfit:
            reasons[str(misfit)] += 1
    raise DrawError(run.job.id, run.seed, dict(reasons.most_common()))


def work_parts(run: Run, numbers: Numbers) -> tuple[Drawn, ...]:
    """
    All parts with the job's numbers, each with the true answers of those before it.

    Raises:
        Misfit: When a part does not fit.
    """
    found: list[Drawn] = []
    for at, part in enumerate(run.job.parts):
        try:
            found.append(part_with(run, at, {**numbers, **_carried_from(run.job, at, found)}))
        except Misfit as misfit:
            raise Misfit(f"{part.id}: {misfit}") from None
    return tuple(found)


def part_with(run: Run, at: int, numbers: Numbers, *, own: bool = False) -> Drawn:
    """
    One part with given numbers, the carried ones among them.

    Args:
        run: The run through the job.
        at: Place of the part, from 0.
        numbers: Shared and carried.
        own: Whether a learner's own numbers are carried: then a known mistake that can't be told from the right answer
            is left out, where a draw would be thrown out.

    Raises:
        Misfit: When the part can't be worked with these numbers.
    """
    chance = random.Random(run.seed * MOST_PARTS + at)
    return run.settle(run.job.parts[at], chance, numbers, run.edition, own=own)


def _carried_from(job: Job, at: int, found: Sequence[Drawn]) -> dict[str, float]:
    """What a part takes over from the parts before it, as they come to."""
    return {name: as_marked(job.parts[place], found[place].keys[0].value) for name, place in job.carries[at].items()}


def as_marked(family: Family, value: Value) -> float:
    """
    An answer as the trade would write it down and go on with: a length to the sixteenth, another number with four digits.

    Args:
        family: The part that was asked.
        value: Its answer, a number that is not rounded.
    """
    if not isinstance(value, int | float):
        raise TypeError(f"{family.id} is answered with {value!r}, and only numbers are carried")
    if family.kind is AnswerKind.LENGTH:
        return round(value * SIXTEENTHS) / SIXTEENTHS
    return float(f"{value:.{DIGITS}g}")
