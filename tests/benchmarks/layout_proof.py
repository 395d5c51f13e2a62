"""
Bend 100,000 drawn inputs of every bend calculation by their own marks, and measure what comes out.

    python tests/benchmarks/layout_proof.py [COUNT] [--seed SEED]

The first table holds the arc basis to half a sixteenth of an inch; the exit status is 1 when one tube misses it. The
others say by how much sharp corners and handbook constants miss on usual shoes.
"""

from __future__ import annotations

import argparse
import sys
import time

from trainer.calc.layout_proof import NEAR_ENOUGH, misfit, provable, prove
from trainer.calc.message import InputError
from trainer.calc.shoes import DEFAULT_SHOES

ANGLES = (10.0, 15.0, 22.5, 30.0, 45.0, 60.0)
DEPTHS = (3.0, 6.0, 12.0)


def line(*cells, widths=(16, 20, 10, 10, 12, 8)):
    sys.stdout.write("  ".join(f"{cell:<{width}}" for cell, width in zip(cells, widths, strict=False)).rstrip() + "\n")


def proofs(count, seed):
    """One row for each measure; whether all hold."""
    line("calculation", "measure", "bent", "refused", "worst miss", "seconds")
    holds = True
    for name in provable():
        begun = time.perf_counter()
        proof = prove(name, count, seed)
        seconds = time.perf_counter() - begun
        for measure, (miss, _) in proof.worst.items():
            line(name, measure, proof.held, proof.refused, f"{miss:.2e}", f"{seconds:.1f}")
        holds = holds and proof.holds
    line(f"within {NEAR_ENOUGH} in each: {'yes' if holds else 'NO'}", widths=(60,))
    return holds


def offset_misfits():
    """How much deeper, and how much further on, an offset comes out than asked [in]."""
    line("Offset, usual shoe 1/2, hook toward the far end: what it comes out too large by [in]", widths=(90,))
    widths = (8, 8, 10, 10, 10, 10)
    line("angle", "depth", "sharp-corner", "", "handbook", "", widths=widths)
    line("", "", "depth", "distance", "depth", "distance", widths=widths)
    for angle in ANGLES:
        for depth in DEPTHS:
            values = {"depth": depth, "angle": angle, "distance": 90.0}
            line(f"{angle:g}", f"{depth:g}", *missed("offset", values), widths=widths)


def saddle_misfits():
    """How much higher, and how much further on, a three-point saddle comes out than asked [in]."""
    line("Three-point saddle, middle bend 45: what it comes out too large by [in]", widths=(90,))
    widths = (8, 8, 10, 10, 10, 10)
    line("shoe", "height", "sharp-corner", "", "handbook", "", widths=widths)
    line("", "", "height", "distance", "height", "distance", widths=widths)
    for size, shoe in DEFAULT_SHOES.items():
        for height in (2.0, 3.0, 4.5):
            values = {"height": height, "centre_angle": 45.0, "distance": 90.0, "shoe": shoe}
            line(size, f"{height:g}", *missed("three_point_saddle", values), widths=widths)


def kick_misfits():
    """How much higher a kick comes out than asked [in]."""
    line("Kick of an end, usual shoe 1/2: what its rise comes out too large by [in]", widths=(90,))
    widths = (8, 8, 14, 12, 10)
    line("angle", "rise", "hook", "sharp-corner", "handbook", widths=widths)
    for angle in ANGLES:
        for hook in ("far-end", "measured-end"):
            values = {"rise": 6.0, "angle": angle, "hook": hook}
            line(f"{angle:g}", "6", hook, *missed("kick", values, ("rise",)), widths=widths)


def missed(name, values, shown=("depth", "height", "distance")):
    """By how much the marks of the two rougher conventions miss."""
    cells = []
    for basis in ("sharp-corner", "handbook"):
        try:
            cells += [f"{one.miss:+.3f}" for one in misfit(name, values, basis) if one.name in shown]
        except InputError:
            cells += ["arcs meet", ""]
    return cells


def main():
    reader = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    reader.add_argument("count", nargs="?", type=int, default=100_000, help="inputs to bend, for each calculation")
    reader.add_argument("--seed", type=int, default=1)
    wanted = reader.parse_args()
    holds = proofs(wanted.count, wanted.seed)
    for table in (offset_misfits, saddle_misfits, kick_misfits):
        sys.stdout.write("\n")
        table()
    return 0 if holds else 1


if __name__ == "__main__":
    sys.exit(main())
