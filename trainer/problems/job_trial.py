"""
A part of a job tried with the wrong answers of the parts before it: each known mistake there has to lead on.

Right is then what follows from the learner's own number. Where a part can't be worked with a known mistake, its learner is sent
on with another number than his own; that may happen now and then, and not as a rule.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from trainer.problems.check import check
from trainer.problems.draw import settle
from trainer.problems.drawn import dress
from trainer.problems.job_draw import Run, as_marked, draw_parts, part_with
from trainer.problems.misfit import Misfit
from trainer.problems.model import Problem, VerdictKind
from trainer.problems.parts import Family

__all__ = ["CarriedWrong"]

#: Of the draws in which a known mistake is possible, the largest share in which it can't be carried on.
MOST_SET_ASIDE = 1 / 4

Finding = tuple[tuple[str | int, ...], str, str]
#: A carried name, and where its number comes from: the part before and its known mistake, in words.
Made = tuple[str, str]


class CarriedWrong:
    """
    What becomes of the known mistakes that a part takes over.

    Args:
        family: A part of a job; any other family takes nothing over.
    """

    def __init__(self, family: Family) -> None:
        self.place = family.job
        self.tried: Counter[Made] = Counter()
        self.set_aside: Counter[Made] = Counter()
        self.examples: dict[Made, str] = {}
        self.misjudged: dict[Made, str] = {}

    def take(self, problem: Problem) -> None:
        """Try a problem of the part with each known mistake of the parts before it."""
        if self.place is None:
            return
        run = Run(self.place.job, problem.seed, problem.edition, settle)
        drawn = draw_parts(run)
        for name, before in run.job.carries[self.place.at].items():
            for mistake, value in drawn[before].mistakes:
                if isinstance(value, int | float):
                    made = name, f"{run.job.titles[before]}, {mistake}"
                    self._worked_with(run, self.place.at, problem, made, as_marked(run.job.parts[before], value))

    def findings(self) -> Iterator[Finding]:
        """What is amiss: a mistake that is set aside too often, and a right answer that is not judged right."""
        for made, count in self.set_aside.items():
            if count > MOST_SET_ASIDE * self.tried[made]:
                often = f"{made[1]} can't be carried on in {count} of {self.tried[made]} draws: {self.examples[made]}"
                yield (
                    ("carry", made[0]),
                    often,
                    "numbers that the part can be worked with; draw others, or loosen its keep",
                )
        for made, told in self.misjudged.items():
            yield ("carry", made[0]), f"{made[1]}: {told}", "a part whose right answer is judged right"

    def _worked_with(self, run: Run, at: int, problem: Problem, made: Made, value: float) -> None:
        """The part worked with one wrong number: it has a key, and the key is judged right."""
        self.tried[made] += 1
        told = f"{value:g} with seed {problem.seed}"
        try:
            drawn = part_with(run, at, {**problem.numbers, made[0]: value}, own=True)
        except Misfit as misfit:
            self.set_aside[made] += 1
            self.examples.setdefault(made, f"{told} ({misfit})")
            return
        own = dress(run.job.parts[at], run.seed, run.edition, drawn)
        typed = [f"{key.value:.4f}" for key in own.keys if isinstance(key.value, int | float)]
        if any(check(own, text).kind is not VerdictKind.RIGHT for text in typed):
            self.misjudged.setdefault(made, told)
