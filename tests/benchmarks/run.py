"""
Measure what the program should be quick at, and print it as tables.

    python tests/benchmarks/run.py [--quick] [--repeats N]

Times are of the processor, not of the wall. A calculation is timed beside its own arithmetic in bare floats and in pint (see arithmetic.py), turn by turn in one run;
what is printed are medians of the ratios, so that a busy machine matters little. Aims: a result within 10 times bare
floats and at least 5 times faster than pint, a problem with everything about it under 1 ms, a cut plan of 60 pieces
under 1 s. An aim that is missed is marked with a star. --quick leaves out the proof of 100,000 bends, the million
lengths and the skill model's learners, which take minutes. Nothing here is a test.
"""

from __future__ import annotations

import argparse
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from random import Random
from statistics import median

from arithmetic import bare_of, pint_of

from trainer.calc.catalogue import CATALOGUE
from trainer.problems.draw import draw
from trainer.problems.shelf import content_root, load_families
from trainer.problems.worked import drawing, worked

HERE = Path(__file__).parent
FOLD = 10
PINT_FOLD = 5
PROBLEM_SECONDS = 1e-3
PLAN_SECONDS = 1.0


def line(*cells, widths):
    text = "  ".join(
        f"{cell:<{width}}" if at == 0 else f"{cell:>{width}}"
        for at, (cell, width) in enumerate(zip(cells, widths, strict=True))
    )
    sys.stdout.write(text.rstrip() + "\n")


def seconds(call: Callable[[], object], at_least: float = 4e-3) -> float:
    """Of one call, as often as fills a little while."""
    times = 1
    while True:
        begun = time.process_time()
        for _ in range(times):
            call()
        passed = time.process_time() - begun
        if passed >= at_least:
            return passed / times
        times = max(2 * times, int(times * at_least / max(passed, 1e-9)))


def starred(text: str, holds: bool) -> str:
    return f"{text} " if holds else f"{text}*"


CALCULATION_WIDTHS = (20, 9, 9, 10, 10, 10, 12)


def calculations(repeats: int) -> None:
    line("calculation", "bare [µs]", "pint", "result", "with steps", "result", "with steps", widths=CALCULATION_WIDTHS)
    line("", "", "x bare", "x bare", "x bare", "pint / it", "pint / it", widths=CALCULATION_WIDTHS)
    for name in CATALOGUE:
        line(*calculation(name, repeats), widths=CALCULATION_WIDTHS)


def calculation(name: str, repeats: int) -> list[str]:
    entry = CATALOGUE[name]
    values = entry.read(entry.example_inputs)
    _, steps = entry.trace(values)
    bare, quantities = bare_of(steps), pint_of(steps)
    alone, traced = (lambda: entry.function(**values)), (lambda: entry.trace(values))
    if bare is None:
        return [name, "-", "-", f"{1e6 * seconds(alone):.0f} µs", f"{1e6 * seconds(traced):.0f} µs", "-", "-"]
    turns = [tuple(map(seconds, (bare, quantities, alone, traced))) for _ in range(repeats)]
    of_bare = [median(turn[at] / turn[0] for turn in turns) for at in range(4)]
    of_pint = [median(turn[1] / turn[at] for turn in turns) for at in range(4)]
    return [
        name,
        f"{1e6 * median(turn[0] for turn in turns):.2f}",
        f"{of_bare[1]:.0f}",
        starred(f"{of_bare[2]:.1f}", of_bare[2] <= FOLD),
        f"{of_bare[3]:.0f}",
        starred(f"{of_pint[2]:.1f}", of_pint[2] >= PINT_FOLD),
        f"{of_pint[3]:.2f}",
    ]


def problems(repeats: int) -> None:
    families = load_families(content_root() / "questions")
    widths = (34, 10, 10, 10, 12)
    line("problem family", "draw [ms]", "steps", "figure", "in all [ms]", widths=widths)
    totals = []
    for name, family in families.items():
        times = [problem(family, seed) for seed in range(repeats)]
        each = [median(time[at] for time in times) for at in range(3)]
        totals.append(sum(each))
        line(
            name,
            *(f"{1e3 * part:.2f}" for part in each),
            starred(f"{1e3 * sum(each):.2f}", sum(each) < PROBLEM_SECONDS),
            widths=widths,
        )
    line("median of families", "", "", "", f"{1e3 * median(totals):.2f}", widths=widths)


def problem(family, seed):
    """Numbers, key and mistakes; then steps; then the figure."""
    begun = time.process_time()
    drawn = draw(family, seed)
    with_key = time.process_time()
    worked(family, drawn)
    with_steps = time.process_time()
    drawing(family, drawn, solved=True)
    return with_key - begun, with_steps - with_key, time.process_time() - with_steps


def plans(repeats: int) -> None:
    widths = (34, 10, 10, 12)
    line("cut plan of 60 pieces", "sticks", "at least", "seconds", widths=widths)
    for about, kerf, sizes in (
        ("sixteenths from 8 to 118 in", 1 / 16, lambda rng: rng.randrange(8 * 16, 118 * 16) / 16),
        ("a third to a half of a stick", 1 / 16, lambda rng: rng.randrange(40 * 16, 60 * 16) / 16),
        ("five lengths", 0.05, lambda rng: rng.choice((17.5, 23.25, 31.0, 44.75, 58.5))),
    ):
        slowest, plan = 0.0, None
        for seed in range(repeats):
            rng = Random(seed)
            pieces = tuple(sizes(rng) for _ in range(60))
            begun = time.process_time()
            plan = CATALOGUE["cut_plan"].function(pieces, kerf=kerf)
            slowest = max(slowest, time.process_time() - begun)
        line(about, plan.sticks, plan.lower_bound, starred(f"{slowest:.3f}", slowest < PLAN_SECONDS), widths=widths)


def main() -> int:
    reader = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    reader.add_argument("--quick", action="store_true", help="leave out what takes minutes")
    reader.add_argument("--repeats", type=int, default=9, help="turns of each measurement")
    wanted = reader.parse_args()
    for part in (calculations, problems, plans):
        part(wanted.repeats)
        sys.stdout.write("\n")
        sys.stdout.flush()
    long_ones = () if wanted.quick else ("layout_proof.py", "fuzz_lengths.py", "skill_model.py")
    return max([subprocess.run([sys.executable, HERE / name], check=False).returncode for name in long_ones], default=0)


if __name__ == "__main__":
    sys.exit(main())
