"""
Measure the skill model, the proof run, the choice of the next problem and the alarm of a key against their aims.

    python tests/benchmarks/skill_model.py [--quick] [--repeats N] [ONLY ...]

Learners are simulated: their true skill is known and follows other formulas than the model's (skill_truths.py says
which). All that is measured is done by the program's own functions. Every figure of a simulation is the median of
repeats with seeds 1 to N, with the least and the most beside it; chances of proof runs are exact; times are of the
processor. ONLY picks parts: fit, exact, proof, turns, alarm, speed. An aim that is missed is said so; nothing here is
a test. tests/progress/test_skill_model.py holds a small share of it with wide margins.

Known mistakes told apart on every drawn problem: see content.py. Replay of whole records, bit by bit: `trainer replay`
and tests/progress/test_replay.py; here it is the fold alone.
"""

from __future__ import annotations

import argparse
import sys
from collections import defaultdict
from collections.abc import Iterator
from statistics import median
from typing import NamedTuple

from proof_chances import POOL, TYPICAL, ever_ready, one_run, wald_answers
from skill_alarm import false_alarms, wrong_key
from skill_fit import fit
from skill_learners import months
from skill_proof import figures, lives
from skill_speed import same_bits, seconds_of_choice, seconds_of_lapse, seconds_of_update
from skill_truths import Gradual, Sudden
from skill_turns import turns

from trainer.progress.points import LINES, UPPER_LEVEL, Line, rule_for

KINDS = {"gradual": Gradual, "sudden": Sudden}
LOWER_LEVEL = LINES[Line.STRICT].lower_level
WIDTHS = (72, 12, 10, 22)


class Sizes(NamedTuple):
    """How many people a part simulates, and how many wrong keys."""

    fit: int
    proof: int
    turns: int
    keys: int


WHOLE, QUICK = Sizes(200, 800, 100, 1000), Sizes(60, 200, 20, 300)


class Figure(NamedTuple):
    """One measured value, and its aim: at most or at least so much, or none."""

    name: str
    value: float
    at_most: float | None = None
    at_least: float | None = None

    @property
    def aim(self):
        if self.at_most is not None:
            return f"<= {self.at_most:g}"
        return "" if self.at_least is None else f">= {self.at_least:g}"

    def met(self, value):
        """In words, nothing where there is no aim."""
        if not self.aim:
            return ""
        over = self.at_most is not None and value > self.at_most
        under = self.at_least is not None and value < self.at_least
        return "missed" if over or under else "met"


def fit_figures(seed, sizes) -> Iterator[Figure]:
    """Aims 1 and 2, and the false alarms of 6 on the same answers."""
    raised = keys = 0
    for name, kind in KINDS.items():
        answers = months(sizes.fit, kind, seed)
        found = fit(answers)
        yield Figure(f"1 calibration error, {name}", found["calibration"], at_most=0.015)
        yield Figure(f"1 the same after two numbers fitted to months before, {name}", found["recalibrated"], 0.010)
        yield Figure(f"2 log-loss above the regression's, {name}", found["log-loss"] - found["regression"], 0.001)
        yield Figure(f"2 log-loss above a constant guess's, {name}", found["log-loss"] - found["constant"])
        yield Figure(f"  mean of expected less mean of right, {name}", found["lead"])
        more, of = false_alarms(answers)
        raised, keys = raised + more, keys + of
    yield Figure(f"6 good keys in doubt, of {keys}", raised / keys, at_most=0.002)


def exact_figures() -> Iterator[Figure]:
    """The first half of aim 3, and aim 4, without a draw."""
    first = rule_for(Line.STRICT)
    for name, pool in (("families that differ", POOL), ("typical questions", TYPICAL)):
        low, high = one_run(first, LOWER_LEVEL, pool), one_run(first, UPPER_LEVEL, pool)
        wald = wald_answers(low.ready, 1 - high.ready, pool)
        yield Figure(f"3 ever ready at .70, {name}", ever_ready(Line.STRICT, LOWER_LEVEL, pool=pool), 0.05)
        yield Figure(f"4 answers at .90 over Wald's {wald:.1f}, {name}", high.answers / wald, at_most=1.10)
        yield Figure(f"  ready in the first run at .90, {name}", high.ready)


def proof_figures(seed, sizes) -> Iterator[Figure]:
    """The second halves of aims 3 and 4."""
    for name, kind in KINDS.items():
        found = figures(lives(sizes.proof, kind, seed))
        yield Figure(f"3 true skill below .80, of those found ready, {name}", found["below"], at_most=0.05)
        yield Figure(f"4 not found ready in 180 answers, of the able, {name}", found["not marked"], at_most=0.01)


def turn_figures(seed, sizes) -> Iterator[Figure]:
    """Aim 5; a loss of the mean is one that shows in the third decimal."""
    for name, kind in KINDS.items():
        for skills in (6, 12, 20):
            found = turns(sizes.turns, kind, seed, skills)
            mean, weakest = found["chooser"]
            for other in ("by turns", "at random"):
                about = f"{other}, {skills} skills, {name}"
                aims = (0.025, -0.0005) if other == "by turns" else (None, None)
                yield Figure(f"5 weakest skill above {about}", weakest - found[other][1], at_least=aims[0])
                yield Figure(f"5 mean skill above {about}", mean - found[other][0], at_least=aims[1])


def alarm_figures(seed, sizes) -> Iterator[Figure]:
    """The first half of aim 6."""
    for name, kind in KINDS.items():
        for way, learning in (("as the program runs", True), ("difficulty held", False)):
            soon, tries = wrong_key(kind, seed, sizes.keys, learning=learning)
            yield Figure(f"6 wrong key found within 10 first tries, {way}, {name}", soon, at_least=0.80)
            yield Figure(f"  median of those tries, {way}, {name}", tries)


def speed_figures() -> Iterator[Figure]:
    """Aim 7."""
    yield Figure("7 one update [µs]", 1e6 * seconds_of_update(), at_most=5)
    yield Figure("  whether it lapsed, beside it [µs]", 1e6 * seconds_of_lapse())
    yield Figure("7 next problem at 100 skills [ms]", 1e3 * seconds_of_choice(), at_most=1)
    yield Figure("7 the same history gives the same bits", float(same_bits()), at_least=1)


ONCE = {"exact": exact_figures}
REPEATED = {"fit": fit_figures, "proof": proof_figures, "turns": turn_figures, "alarm": alarm_figures}
TIMED = {"speed": speed_figures}


def line(*cells):
    sys.stdout.write(
        "".join(f"{cell:<{width}}" for cell, width in zip(cells, (*WIDTHS, 1), strict=True)).rstrip() + "\n"
    )
    sys.stdout.flush()


def tell(rounds: list[list[Figure]]) -> None:
    """Print the medians of some rounds of the same figures."""
    values = defaultdict(list)
    for figure in (figure for one in rounds for figure in one):
        values[figure.name].append(figure.value)
    for figure in rounds[0]:
        of_it = values[figure.name]
        middle = median(of_it)
        spread = f"{min(of_it):.4f} to {max(of_it):.4f}" if len(of_it) > 1 else ""
        line(figure.name, figure.aim, f"{middle:.4f}", spread, figure.met(middle))


def main():
    reader = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parts = [*ONCE, *REPEATED, *TIMED]
    reader.add_argument("only", nargs="*", metavar="ONLY", help=f"of {', '.join(parts)}")
    reader.add_argument("--quick", action="store_true", help="fewer people, one repeat")
    reader.add_argument("--repeats", type=int, default=3)
    wanted = reader.parse_args()
    if unknown := set(wanted.only) - set(parts):
        reader.error(f"no part is called {', '.join(sorted(unknown))}; parts are {', '.join(parts)}")
    sizes, repeats = (QUICK, 1) if wanted.quick else (WHOLE, wanted.repeats)
    line("measured", "aim", "median", "least to most", "")
    for part in wanted.only or parts:
        if part in REPEATED:
            tell([list(REPEATED[part](seed, sizes)) for seed in range(1, repeats + 1)])
        else:
            tell([list({**ONCE, **TIMED}[part]()) for _ in range(repeats if part in TIMED else 1)])
    return 0


if __name__ == "__main__":
    sys.exit(main())
