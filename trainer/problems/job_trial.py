"""
A part of a job tried with the wrong answers of the parts before it: each known mistake there has to lead on.

Right is then what follows from the learner's own number. A known mistake that the part can't be worked with at all is one
that the part before should not draw: every learner who made it would be sent on with another number than his own.
"""

from __future__ import annotations

from collections.abc import Iterator

from trainer.problems.check import check
from trainer.problems.draw import settle
from trainer.problems.drawn import dress
from trainer.problems.job_draw import Run, as_marked, draw_parts, part_with
from trainer.problems.misfit import Misfit
from trainer.problems.model import Problem, VerdictKind
from trainer.problems.parts import Family

__all__ = ["carried_wrong"]

Finding = tuple[tuple[str | int, ...], str, str]


def carried_wrong(family: Family, problem: Problem) -> Iterator[Finding]:
    """
    What is wrong with a part when one of the numbers that it takes over is a known mistake of the part before.

    Args:
        family: A part; any other family has nothing to find.
        problem: What was drawn of it.
    """
    if family.job is None:
        return
    job, at = family.job.job, family.job.at
    run = Run(job, problem.seed, problem.edition, settle)
    drawn = draw_parts(run)
    for name, place in job.carries[at].items():
        for mistake, value in drawn[place].mistakes:
            if isinstance(value, int | float):
                carried = as_marked(job.parts[place], value)
                made = f"{job.titles[place]}, {mistake}"
                yield from _worked_with(run, at, problem, {name: carried}, made)


def _worked_with(run: Run, at: int, problem: Problem, carried: dict[str, float], made: str) -> Iterator[Finding]:
    """The part worked with one wrong number: it has a key, and the key is judged right."""
    path = ("carry", *carried)
    told = f"{made}: {', '.join(f'{value:g}' for value in carried.values())} with seed {problem.seed}"
    try:
        drawn = part_with(run, at, {**problem.numbers, **carried}, own=True)
    except Misfit as misfit:
        yield path, f"{told} ({misfit})", "a number that the part can be worked with; draw others, or loosen its keep"
        return
    own = dress(run.job.parts[at], run.seed, run.edition, drawn)
    typed = [f"{key.value:.4f}" for key in own.keys if isinstance(key.value, int | float)]
    if any(check(own, text).kind is not VerdictKind.RIGHT for text in typed):
        yield path, told, "a part whose right answer is judged right"
