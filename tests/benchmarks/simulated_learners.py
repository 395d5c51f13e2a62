"""
Let learners make slips that people in the trade know of, and count how often they are told what they did.

    python tests/benchmarks/simulated_learners.py [--learners N] [FAMILY ...]

The slips stand in slips_*.py by calculation and answer, so that a new family is tried with no more ado, or by family
where a calculation serves for anything, as a sum does; they were written without the question files' mistakes. A learner draws a problem, makes one slip that can be made there, on the bender's
figures or the exact ones, and types what comes out as people type it. He is *told* when the verdict names one known
mistake that stands for the slip: one whose value is the slip's wherever both can be; of a slip with the unit, when it
says that the number is right in another unit. *Collides*: it is named together
with others. *Not told*: else. A slip that comes out right, or nearer to right than the tape reads, is none. Families
whose answer has no slips are listed. Exit status 1 when fewer than 80 of 100 are told.
"""

from __future__ import annotations

import argparse
import re
import sys
from collections import Counter, defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field
from random import Random

from slips_bends import BENDS
from slips_counts import COUNTS
from slips_curves import CURVES
from slips_cuts import CUTS
from slips_job import Job
from slips_loads import LOADS
from slips_outside import OUTSIDE
from slips_tape import TAPE
from slips_wire import WIRE

from trainer.calc.length import write_length
from trainer.calc.message import InputError
from trainer.problems.check import check
from trainer.problems.draw import draw
from trainer.problems.model import CHOOSING, AnswerKind, VerdictKind
from trainer.problems.shelf import content_root, load_families

SLIPS = {**BENDS, **COUNTS, **CURVES, **CUTS, **LOADS, **OUTSIDE, **TAPE, **WIRE}
AIM = 0.8
#: Words that say nothing about which slip it is.
COMMON = {"the", "and", "for", "took", "gave", "left", "out", "once", "all", "one"}
#: Slips whose number would be right in another unit, which the verdict says without any known mistake.
OF_UNITS = {"left the length in feet", "took the length in inches"}
#: Problems on which it is looked up which known mistake stands for a slip, and share of them in which the two agree.
LOOKED_AT, AGREE = 30, 0.9
#: A value nearer to a right one than this many tolerances is a matter of reading, not of a slip.
TOO_NEAR = 2.0
#: Below zero or beyond this many times the right answer nobody writes it down.
BELIEVED = 16


@dataclass
class Told:
    """What became of a family's learners, and which slips were not told."""

    told: int = 0
    collides: int = 0
    missed: int = 0
    untold: Counter = field(default_factory=Counter)

    @property
    def tried(self):
        return self.told + self.collides + self.missed

    @property
    def share(self):
        return self.told / self.tried if self.tried else 0.0


def slips_of(family):
    """Slips by their words; none where nobody has listed any, None for a family of choices."""
    if family.kind in CHOOSING:
        return None
    return SLIPS.get(family.id) or SLIPS.get((family.calculation.name, family.shape.ask.answer), {})


def values_of(family, problem, slip):
    """What the slip leads to in a problem: wrong values that somebody would type; none where it cannot be made."""
    try:
        found = slip(Job(family, problem))
        values = list(found) if isinstance(found, Iterable) else [found]
    except (InputError, ArithmeticError, ValueError, TypeError, AttributeError, LookupError, StopIteration):
        return []
    return [float(value) for value in values if value is not None and is_a_slip(problem, float(value))]


def is_a_slip(problem, value):
    keys = [key.value for key in problem.keys]
    near = max(TOO_NEAR * problem.tolerance, 0.5 if problem.kind is AnswerKind.COUNT else 0)
    believed = 0 < value <= max(keys) * BELIEVED
    return believed and all(abs(value - key) > near - 1e-9 for key in keys)


def as_typed(problem, value):
    if problem.kind is AnswerKind.LENGTH:
        return write_length(value)
    return f"{value:.0f}" if problem.kind is AnswerKind.COUNT else f"{value:.3f}"


def stand_for(family, slips):
    """By slip, the known mistakes that are this slip: each value of the slip is theirs wherever both are possible."""
    both, agree = defaultdict(Counter), defaultdict(Counter)
    for seed in range(LOOKED_AT):
        problem = draw(family, seed)
        theirs = defaultdict(list)
        for mistake in problem.mistakes:
            theirs[mistake.id].append(mistake.value)
        for words, slip in slips.items():
            if values := values_of(family, problem, slip):
                for name, known in theirs.items():
                    both[words][name] += 1
                    agree[words][name] += any(same(problem, one, other) for one in values for other in known)
    standing = {
        words: {name for name, times in counts.items() if agree[words][name] >= AGREE * times}
        for words, counts in both.items()
    }
    return {
        words: {name for name in names if is_meant(family, name, words, standing)} for words, names in standing.items()
    }


def is_meant(family, name, words, standing):
    """Whether a known mistake says this slip, and not another that always leads to the same: by the words of both."""
    shape = next(one for one in family.shape.mistakes if one.id == name)
    said = set(re.findall(r"[a-z]{3,}", f"{name} {shape.did or ''}")) - COMMON
    shared = {
        other: len(said & set(re.findall(r"[a-z]{3,}", other))) for other, names in standing.items() if name in names
    }
    return shared[words] == max(shared.values())


def same(problem, value, other):
    return abs(value - other) <= max(problem.tolerance / 4, 1e-6)


def learn(family, learners, random):
    """So many learners at a family, each with one slip that can be made with his problem's numbers."""
    slips, report = slips_of(family), Told()
    standing = stand_for(family, slips)
    for _ in range(learners):
        problem = draw(family, random.randrange(10**6))
        possible = {words: values for words, slip in slips.items() if (values := values_of(family, problem, slip))}
        if not possible:
            continue
        words = random.choice(sorted(possible))
        verdict = check(problem, as_typed(problem, random.choice(possible[words])))
        named = set(verdict.mistakes) & standing.get(words, set())
        of_unit = verdict.kind is VerdictKind.UNIT and words in OF_UNITS
        if of_unit or (verdict.kind is VerdictKind.MISTAKE and named and len(verdict.mistakes) == 1):
            report.told += 1
        elif named:
            report.collides += 1
            report.untold[words] += 1
        else:
            report.missed += 1
            report.untold[words] += 1
    return report


def simulate(families, learners, seed=1):
    """What became of the learners, by family; families without slips are left out."""
    return {
        family.id: learn(family, learners, Random(f"{family.id} {seed}")) for family in families if slips_of(family)
    }


def without_slips(families):
    """Ids of numeric families whose answer nobody has listed slips for."""
    return [family.id for family in families if slips_of(family) == {}]


def share_told(reports):
    """Of all families alike, however many learners each had."""
    shares = [report.share for report in reports.values() if report.tried]
    return sum(shares) / len(shares)


def line(*cells):
    sys.stdout.write(f"{cells[0]:34}" + "".join(f"{cell:>10}" for cell in cells[1:5]) + f"   {cells[5]}\n")


def main():
    reader = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    reader.add_argument("families", nargs="*")
    reader.add_argument("--learners", type=int, default=1000, help="learners of each family")
    wanted = reader.parse_args()
    families = load_families(content_root() / "questions").values()
    chosen = [family for family in families if not wanted.families or family.id in wanted.families]
    line("family", "told", "collides", "not told", "told %", "most often not told")
    reports = {}
    for family in chosen:
        for name, report in simulate([family], wanted.learners).items():
            reports[name] = report
            most = ", ".join(f"{words} ({times})" for words, times in report.untold.most_common(4))
            line(name, report.told, report.collides, report.missed, f"{100 * report.share:.0f}", most)
    told = share_told(reports)
    line(
        "all families alike",
        *[sum(getattr(one, key) for one in reports.values()) for key in ("told", "collides", "missed")],
        f"{100 * told:.1f}",
        "",
    )
    sys.stdout.write(f"no slips are listed for: {', '.join(without_slips(chosen)) or 'none'}\n")
    return 0 if told >= AIM else 1


if __name__ == "__main__":
    sys.exit(main())
