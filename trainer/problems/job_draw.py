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

from trainer.problems.drawn import Drawn
from trainer.problems.errors import DrawError
from trainer.problems.job import Job
from trainer.problems.misfit import Misfit
from trainer.problems.model import AnswerKind
from trainer.problems.parts import Family

__all__ = ["as_marked", "carried_from", "draw_parts", "part_with", "work_parts"]

#: A job has more that has to fit than a single question.
TRIES = 1000
#: Seeds of the parts' own choices (which options, in which order) are apart by this.
MOST_PARTS = 8
KEPT = 2048
SIXTEENTHS = 16

Numbers = Mapping[str, float | str]
#: What a family settles with given numbers; `trainer.problems.draw.settle`.
Settle = Callable[..., Drawn]


@lru_cache(maxsize=KEPT)
def draw_parts(job: Job, seed: int, edition: str, settle: Settle) -> tuple[Drawn, ...]:
    """
    All parts of a job with the numbers of a seed, each with the true answers of those before it.

    Raises:
        DrawError: When nothing fits: an error of the job's file.
    """
    chance = random.Random(seed)
    reasons: Counter[str] = Counter()
    for _ in range(TRIES):
        numbers = dict(pair for parameter in job.parameters for pair in parameter.draw(chance))
        try:
            return work_parts(job, numbers, seed, edition, settle)
        except Misfit as misfit:
            reasons[str(misfit)] += 1
    raise DrawError(job.id, seed, dict(reasons.most_common()))


def work_parts(job: Job, numbers: Numbers, seed: int, edition: str, settle: Settle) -> tuple[Drawn, ...]:
    """
    All parts with the job's numbers, each with the true answers of those before it.

    Raises:
        Misfit: When a part does not fit.
    """
    found: list[Drawn] = []
    for at in range(len(job.parts)):
        try:
            found.append(part_with(job, at, {**numbers, **carried_from(job, at, found)}, seed, edition, settle))
        except Misfit as misfit:
            raise Misfit(f"{job.parts[at].id}: {misfit}") from None
    return tuple(found)


def part_with(
    job: Job, at: int, numbers: Numbers, seed: int, edition: str, settle: Settle, *, own: bool = False
) -> Drawn:
    """
    One part with given numbers, the carried ones among them.

    Args:
        job: The job.
        at: Place of the part, from 0.
        numbers: Shared and carried.
        seed: Of the job; it decides about the order of options.
        edition: Of the rules.
        settle: What settles a family.
        own: Whether a learner's own numbers are carried: then a known mistake that can't be told from the right answer
            is left out, where a draw would be thrown out.

    Raises:
        Misfit: When the part can't be worked with these numbers.
    """
    chance = random.Random(seed * MOST_PARTS + at)
    return settle(job.parts[at], chance, numbers, edition, own=own)


def carried_from(job: Job, at: int, found: Sequence[Drawn]) -> dict[str, float]:
    """What a part takes over from the parts before it, as they come to."""
    before = {name: (job.parts[place], found[place]) for name, place in job.carries[at].items()}
    return {name: as_marked(family, float(drawn.keys[0].value)) for name, (family, drawn) in before.items()}  # type: ignore[arg-type]


def as_marked(family: Family, value: float) -> float:
    """
    An answer as the trade would write it down and go on with: a length to the sixteenth, another number to the hundredth.

    Args:
        family: The part that was asked.
        value: Its answer, unrounded.
    """
    if family.kind is AnswerKind.LENGTH:
        return round(value * SIXTEENTHS) / SIXTEENTHS
    return round(value, 2)
