"""
Read a million seeded strings as lengths: good ones in every spelling, good ones with a sign changed, and mere noise.

    python tests/benchmarks/fuzz_lengths.py [COUNT] [--seed SEED]

Nothing but the reader's own error may come out; a good string is read as the length that it was made of, metric ones to
the millimetre; what was read, written down and read again is the same sixteenth. The exit status is 1 when one string
breaks this, and the first of them are printed. `tests/calc/test_length_fuzz.py` runs a smaller share.
"""

from __future__ import annotations

import argparse
import sys
import time
from dataclasses import dataclass, field
from fractions import Fraction
from random import Random

from trainer.calc.length import nearest, read_length, write_length
from trainer.calc.message import InputError

LIKELY = "0123456789 ./-'\"½⅛¼ftinmc,eE+_²×()°%"
UNLIKELY = "\x00\n\t\u00a0\u200b\u202e𝟙٤Ⅳé£$<>{}\\|;:#@~^&*=?!ßИ漢🔧"
MOST_INCHES = 40_000
GLYPHS = {Fraction(1, 2): "½", Fraction(1, 4): "¼", Fraction(3, 4): "¾", Fraction(1, 8): "⅛", Fraction(5, 8): "⅝"}


@dataclass
class Fuzzed:
    """What came of many strings."""

    read: int = 0
    refused: int = 0
    wrong: list[str] = field(default_factory=list)


def fraction_text(part, random):
    if part in GLYPHS and random.random() < 0.3:
        return random.choice(("", " ", "-")) + GLYPHS[part]
    return f"{random.choice((' ', '-', ' - '))}{part.numerator}/{part.denominator}"


def inches_text(inches, random):
    """Inches without their unit: whole, with a fraction, or in decimals."""
    whole, part = divmod(inches, 1)
    if not part:
        return random.choice((f"{whole}", f"{whole}.0", f"{whole}."))
    if random.random() < 0.3:
        return f"{float(inches):.6f}".rstrip("0")
    return f"{whole}{fraction_text(part, random)}" if whole else f"{part.numerator}/{part.denominator}"


def in_inches(random):
    inches = Fraction(random.randrange(16 * MOST_INCHES), 16)
    unit = random.choice(("", '"', " in", "in", " inches", "''", "″", " IN."))
    return inches_text(inches, random) + unit, inches


def in_feet_and_inches(random):
    feet, inches = random.randrange(3000), Fraction(random.randrange(12 * 16), 16)
    foot = random.choice(("'", " ft", "ft", " feet", "′", " ft. "))
    inch = random.choice(("", '"', " in", "″", " inches"))
    return f"{feet}{foot}{random.choice(('', ' '))}{inches_text(inches, random)}{inch}", 12 * feet + inches


def in_metric(random):
    millimetres = random.randrange(1_000_000)
    text = random.choice(
        (f"{millimetres} mm", f"{millimetres}mm", f"{millimetres / 10:.1f} cm", f"{millimetres / 1000:.3f} m")
    )
    return text, Fraction(millimetres * 10, 254)


GOOD = (in_inches, in_feet_and_inches, in_metric)


def spoilt(text, random):
    """A good string with one to three signs put in, taken out or changed."""
    signs = list(text)
    for _ in range(random.randrange(1, 4)):
        at = random.randrange(len(signs) + 1)
        signs[at : at + random.randrange(2)] = random.choice(("", *LIKELY, *UNLIKELY))
    return "".join(signs)


def noise(random):
    signs = random.choice((LIKELY, LIKELY + UNLIKELY, "0123456789/ ", "".join(map(chr, range(1, 600)))))
    return "".join(random.choices(signs, k=int(random.expovariate(0.08))))


def drawn(random):
    """A string, and the inches that it says; None where nobody knows."""
    kind = random.random()
    if kind < 0.4:
        return random.choice(GOOD)(random)
    if kind < 0.7:
        return spoilt(random.choice(GOOD)(random)[0], random), None
    return noise(random), None


def trial(text, meant, fuzzed):
    try:
        inches = read_length(text).inches
    except InputError as error:
        fuzzed.refused += 1
        if meant is not None or error.given != text or not read_length(error.example):
            fuzzed.wrong.append(f"refused {text!r}, which is {meant}")
        return
    fuzzed.read += 1
    if inches < 0 or (meant is not None and inches != meant):
        fuzzed.wrong.append(f"read {text!r} as {inches}, not {meant}")
    if text.endswith("mm") and meant is not None and round(inches * Fraction(254, 10)) != int(text.rstrip(" m")):
        fuzzed.wrong.append(f"read {text!r} as another millimetre")
    if inches < 10 * MOST_INCHES:
        trial_of_writing(inches, fuzzed)


def trial_of_writing(inches, fuzzed):
    """Written and read again it is the same sixteenth, in inches and in feet and inches."""
    for feet in (False, True):
        written = write_length(inches, feet=feet)
        if read_length(written).inches != nearest(inches):
            fuzzed.wrong.append(f"wrote {inches} as {written!r}")


def fuzz(count, seed):
    """Try so many strings."""
    random, fuzzed = Random(seed), Fuzzed()
    for _ in range(count):
        text, meant = drawn(random)
        try:
            trial(text, meant, fuzzed)
        except Exception as error:  # noqa: BLE001 - any other exception is what is looked for
            fuzzed.wrong.append(f"{text!r} raised {error!r}")
    return fuzzed


def main():
    reader = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    reader.add_argument("count", nargs="?", type=int, default=1_000_000, help="strings to try")
    reader.add_argument("--seed", type=int, default=1)
    wanted = reader.parse_args()
    begun = time.perf_counter()
    fuzzed = fuzz(wanted.count, wanted.seed)
    seconds = time.perf_counter() - begun
    sys.stdout.write(f"{wanted.count} strings in {seconds:.0f} s: {fuzzed.read} read, {fuzzed.refused} refused, ")
    sys.stdout.write(f"{len(fuzzed.wrong)} wrong\n" + "".join(f"  {line}\n" for line in fuzzed.wrong[:20]))
    return 1 if fuzzed.wrong else 0


if __name__ == "__main__":
    sys.exit(main())
