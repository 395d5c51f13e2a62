"""
Compile and work out a million seeded formulas: likely ones, hostile ones, and mere noise.

    python tests/benchmarks/fuzz_expressions.py [COUNT] [--seed SEED]

Nothing but the compiler's own error may come out; a value is a finite float or a yes or no; and nothing takes long: what
Python executes for one formula is counted, not timed, and stays below a bound that follows from the limits of a formula.
The exit status is 1 when one formula breaks this, and the first of them are printed.
`tests/security/test_expressions.py` runs a smaller share.
"""

from __future__ import annotations

import argparse
import math
import sys
import time
from dataclasses import dataclass, field
from random import Random

from trainer.calc.expression import LONGEST, MOST_NODES, ExpressionError, compile_expression
from trainer.calc.trig import FUNCTIONS

VALUES = {"depth": 6.0, "angle": 30.0, "count": 1e300, "none": 0.0, "small": 1e-300}
ATOMS = [*VALUES, "0", "1", "2", "3", "999999999999999", "0.000000000000001", ".5", "90", "180"]
OPERATORS = ["+", "-", "*", "/", "//", "%", "**"]
COMPARISONS = ["<", "<=", ">", ">=", "==", "!="]
HOSTILE = [
    "__import__", "__class__", ".real", "[0]", "'a'", '"a"', "f'{depth}'", "lambda: 1", "for x in depth", ":=", "**9",
    "<<", ">>", "&", "|", "^", "~", "@", "not", "and", "or", "is", "in", "await", "yield", "async", "1e999", "1e9",
    "0x1", "1_0", "9j", "True", "None", "...", "*depth", "**depth", "key=1", "eval", "open", "range", "import os", ";",
    "\n", "\\\n", "#", "\x00", "９", "ｄepth", "\ud800", "\u202e", "{", "}", "[", "]", "((((((((((", "))))))))))", "del",
    "999999999999999**3", "((9**3)**3)**3", "round_up(count)", "round_up(count)*round_up(count)",
]  # fmt: skip
NOISE = "abcxyz_0123456789.+-*/%()<>=! ,\t\n\"'[]{}:;\\@#$&|~^`é漢\x00\u200b"
#: Events of the interpreter: calls made for one formula once it is compiled, one for each node at the most.
MOST_CALLS = 4 * MOST_NODES


@dataclass
class Fuzzed:
    """What came of many formulas."""

    worked_out: int = 0
    refused: int = 0
    wrong: list[str] = field(default_factory=list)


def likely(random, depth=4):
    """A formula as a file could hold it."""
    if depth == 0 or random.random() < 0.2:
        return random.choice(ATOMS)
    inner = [likely(random, depth - 1) for _ in range(3)]
    return random.choice(
        (
            f"({inner[0]} {random.choice(OPERATORS)} {inner[1]})",
            f"({inner[0]}) ** {random.choice('2223')}",
            f"{random.choice([*FUNCTIONS])}({', '.join(inner[: random.choice((1, 1, 1, 2, 3))])})",
            f"({inner[0]} if {inner[1]} {random.choice(COMPARISONS)} {inner[2]} else {inner[1]})",
            f"-{inner[0]}",
        )
    )


def hostile(random):
    """A likely formula with something in it that has no place there."""
    text = likely(random, 3)
    for _ in range(random.choice((1, 1, 2, 3))):
        at = random.randrange(len(text) + 1)
        text = text[:at] + random.choice(HOSTILE) + text[at + random.choice((0, 0, 1, 3)) :]
    return text


def noise(random):
    return "".join(random.choice(NOISE) for _ in range(random.randrange(80)))


def long_one(random):
    """As long, as deep or as repeated as it goes."""
    once = random.choice(("(", "-", "1+", "sin(", "9*", "2**", "depth//", "round_up(count)*", "[", "1 if 1<2 else "))
    return once * random.randrange(2 * LONGEST // len(once)) + "depth" + ")" * random.randrange(60)


MAKERS = (likely, likely, hostile, hostile, noise, long_one)


def one(text, found):
    """Compile one and work it out, counting what the interpreter is made to call."""
    calls = 0

    def count(_frame, event, _argument):
        nonlocal calls
        calls += event in {"call", "c_call"}

    try:
        formula = compile_expression(text, VALUES)
        sys.setprofile(count)
        try:
            value = formula(VALUES)
        finally:
            sys.setprofile(None)
    except ExpressionError:
        found.refused += 1
    except Exception as error:  # noqa: BLE001 - whatever it is, it is what is looked for
        found.wrong.append(f"{text!r}: {error!r}")
    else:
        found.worked_out += 1
        if not isinstance(value, bool) and not (type(value) is float and math.isfinite(value)):
            found.wrong.append(f"{text!r}: came to {value!r}")
    if calls > MOST_CALLS:
        found.wrong.append(f"{text!r}: {calls} calls")


def fuzz(count, seed):
    """Formulas of every kind from one seed."""
    random, found = Random(seed), Fuzzed()
    for _ in range(count):
        one(random.choice(MAKERS)(random), found)
    return found


def main():
    arguments = argparse.ArgumentParser(description=__doc__.splitlines()[1])
    arguments.add_argument("count", nargs="?", type=int, default=1_000_000)
    arguments.add_argument("--seed", type=int, default=1)
    asked = arguments.parse_args()
    begun = time.perf_counter()
    found = fuzz(asked.count, asked.seed)
    took = time.perf_counter() - begun
    sys.stdout.write(
        f"{asked.count:,} formulas in {took:.0f} s: {found.worked_out:,} worked out, {found.refused:,} refused, "
    )
    sys.stdout.write(f"{len(found.wrong)} wrong\n" + "".join(f"  {line[:300]}\n" for line in found.wrong[:20]))
    return 1 if found.wrong else 0


if __name__ == "__main__":
    sys.exit(main())
