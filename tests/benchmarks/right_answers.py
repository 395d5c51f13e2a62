"""
Type every right answer in every way in which people write it down, and see that none is called wrong.

    python tests/benchmarks/right_answers.py [DRAWS] [FAMILY ...]

For each draw and each accepted basis: lengths to the sixteenth, the eighth and the quarter, in feet and inches, in
decimals of an inch and of a foot, in millimetres, centimetres and metres; numbers with three, two, one and no decimals,
bare and in every unit that can be converted; choices by id and by letter in any order, orders of work by id, letter and
number. Every form that lies within the tolerance has to be *right*. The learner who rounds to the sixteenth after every
step has to be *right*, or *rounded too far* where his number is the answer on a coarser mark. Exit status 1 when one is
not.
"""

from __future__ import annotations

import argparse
import sys
import time
from dataclasses import dataclass, field
from itertools import permutations
from random import Random

from trainer.calc.length import nearest, write_length
from trainer.calc.message import InputError
from trainer.calc.units import UNITS, convert
from trainer.problems.check import check
from trainer.problems.draw import draw
from trainer.problems.given import calculation_values
from trainer.problems.model import AnswerKind, VerdictKind
from trainer.problems.shelf import content_root, load_families

EDITIONS = ("2023", "2020", "2017")
FORGIVEN = 1e-9
#: Of many orders of the same choice, so many are typed.
ORDERS = 4


@dataclass
class Typed:
    """What was typed, and which answers were called something that they are not."""

    forms: int = 0
    wrong: list[str] = field(default_factory=list)


def feet_and_inches(value):
    feet, inches = divmod(nearest(value), 12)
    return f"{feet}' {write_length(inches).removesuffix(' in')}\"" if feet else write_length(value)


def lengths(value):
    """Texts for a length, each with the inches that it says."""
    for denominator in (32, 16, 8, 4):
        yield write_length(value, denominator=denominator), float(nearest(value, denominator))
    yield write_length(value).removesuffix(" in"), float(nearest(value))
    yield write_length(value, feet=True), float(nearest(value))
    yield feet_and_inches(value), float(nearest(value))
    for places in (3, 2, 1):
        yield f"{value:.{places}f}", round(value, places)
        yield f"{value / 12:.{places}f} ft", round(value / 12, places) * 12
    for unit, places in (("mm", 1), ("mm", 0), ("cm", 2), ("cm", 1), ("m", 3)):
        metric = f"{convert(value, 'in', unit):.{places}f}"
        yield f"{metric} {unit}", convert(float(metric), unit, "in")


def numbers(value, unit):
    """Texts for another number, each with what it says in the problem's unit."""
    spelling = next(iter(UNITS[unit].spellings), "")
    for places in (3, 2, 1, 0):
        yield f"{value:.{places}f}", round(value, places)
        yield f"{value:.{places}f} {spelling}".strip(), round(value, places)
    for other in UNITS.values():
        if other.quantity == UNITS[unit].quantity and other.id != unit and other.spellings:
            converted = f"{convert(value, unit, other.id):.6f}"
            yield f"{converted} {other.spellings[0]}", convert(float(converted), other.id, unit)


def counts(value, unit):
    yield from ((f"{value:.0f}{spelling}", value) for spelling in ("", *(f" {name}" for name in UNITS[unit].spellings)))


def forms(problem, value):
    if problem.kind is AnswerKind.LENGTH:
        return lengths(value)
    return counts(value, problem.unit) if problem.kind is AnswerKind.COUNT else numbers(value, problem.unit)


def rounded_at_every_step(family, problem):
    """What comes out for whoever reads every length off a tape, to the sixteenth, before he goes on with it."""
    if problem.kind is not AnswerKind.LENGTH:
        return

    def read_off(formula, operands, value):
        del operands
        return float(nearest(value)) if formula.unit == "in" else value

    values = calculation_values(family, problem.numbers, problem.edition)
    try:
        result = family.calculation.retrace(values, read_off)
    except InputError:
        return
    for _, output in family.answers:
        value = getattr(result, output)
        if value is not None:
            yield write_length(value), float(nearest(value))


def try_number(problem, key, text, accepted, typed):
    """One form of an accepted number, and what it may be judged."""
    verdict = check(problem, text)
    typed.forms += 1
    if verdict.kind not in accepted:
        typed.wrong.append(
            f"{problem.family_id}#{problem.seed}: {text!r} for {key:.4f} is judged {verdict.kind} {verdict.mistakes}"
        )


def try_typed(family, problem, typed):
    for key in problem.keys:
        for text, says in forms(problem, key.value):
            if says and abs(says - key.value) <= problem.tolerance + FORGIVEN / 2:
                try_number(problem, key.value, text, {VerdictKind.RIGHT}, typed)
    for text, says in rounded_at_every_step(family, problem):
        near = min((key.value for key in problem.keys), key=lambda value: abs(value - says))
        try_number(problem, near, text, {VerdictKind.RIGHT, VerdictKind.ROUNDED}, typed)


def letters_of(problem, ids):
    shown = [option.id for option in problem.options]
    return [chr(ord("a") + shown.index(one)) for one in ids]


def choices(problem, random):
    """What the page or a person sends for each right choice: a list, or a text with commas."""
    for key in problem.keys:
        ids = [key.value] if isinstance(key.value, str) else list(key.value)
        if problem.kind is AnswerKind.ORDER:
            placed = [f"{ids.index(option.id) + 1}:{option.id}" for option in problem.options]
            yield from (ids, ", ".join(letters_of(problem, ids)), placed, random.sample(placed, len(placed)))
            continue
        every = list(permutations(ids)) if len(ids) < 5 else [random.sample(ids, len(ids)) for _ in range(ORDERS)]
        for order in random.sample(every, min(ORDERS, len(every))):
            yield list(order)
            yield ",".join(letters_of(problem, order)).upper()


def try_choice(problem, random, typed):
    for sent in choices(problem, random):
        verdict = check(problem, sent)
        typed.forms += 1
        if verdict.kind is not VerdictKind.RIGHT:
            typed.wrong.append(f"{problem.family_id}#{problem.seed}: {sent!r} is judged {verdict.kind}")


def try_family(family, draws):
    """Every right answer of so many problems; the older editions get a share of them."""
    typed, random = Typed(), Random(family.id)
    for seed in range(draws):
        problem = draw(family, seed, edition=EDITIONS[seed % 10] if seed % 10 < len(EDITIONS) else EDITIONS[0])
        if problem.options:
            try_choice(problem, random, typed)
        else:
            try_typed(family, problem, typed)
    return typed


def main():
    reader = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    reader.add_argument("draws", nargs="?", type=int, default=1000, help="problems of each family")
    reader.add_argument("families", nargs="*")
    wanted = reader.parse_args()
    begun, wrong, forms_typed, tried = time.perf_counter(), 0, 0, 0
    for family in load_families(content_root() / "questions").values():
        if wanted.families and family.id not in wanted.families:
            continue
        typed = try_family(family, wanted.draws)
        tried += 1
        forms_typed += typed.forms
        wrong += len(typed.wrong)
        sys.stdout.write(f"{family.id:38}{typed.forms:>9} typed{len(typed.wrong):>7} called wrong\n")
        sys.stdout.write("".join(f"    {line}\n" for line in typed.wrong[:3]))
        sys.stdout.flush()
    seconds = time.perf_counter() - begun
    sys.stdout.write(
        f"{tried} families, {wanted.draws} draws of each, {forms_typed} answers, {wrong} called wrong, {seconds:.0f} s\n"
    )
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
