"""Slips with the tape and with adding lengths: by answer, or by family where a sum serves for anything."""

from __future__ import annotations

from fractions import Fraction
from math import floor

NEAR = 1 / 16

TICKS = {
    "rounded down": lambda job: floor((job.reading - job.inch) * 16),
    "took tenths for sixteenths": lambda job: round((job.reading - job.inch) * 10),
    "took eighths": lambda job: round((job.reading - job.inch) * 8),
    "took thirty-seconds": lambda job: round((job.reading - job.inch) * 32),
    "took twelfths, as of a foot": lambda job: round((job.reading - job.inch) * 12),
}


def misread(job):
    """The tape itself read wrongly: which line, and in what the lines part the inch."""
    return {
        "line": [job.reading - NEAR, job.reading + NEAR],
        "eighths": job.inch + job.ticks / 8,
        "tenths": job.inch + job.ticks / 10,
        "thirty-seconds": job.inch + job.ticks / 32,
        "next inch": job.reading + 1,
        "backward": job.inch + 1 - (job.reading - job.inch),
    }


ON_TAPE = {
    "miscounted a line": lambda job: misread(job)["line"],
    "took the lines for eighths": lambda job: misread(job)["eighths"] if job.ticks < 8 else None,
    "took the lines for tenths": lambda job: misread(job)["tenths"] if job.ticks < 10 else None,
    "took the lines for thirty-seconds": lambda job: misread(job)["thirty-seconds"],
    "took the next inch": lambda job: misread(job)["next inch"],
    "counted back from the next inch": lambda job: misread(job)["backward"],
    "left the fraction out": lambda job: job.inch,
}

BURNT_INCH = {
    "forgot where it was held": lambda job: job.reading,
    "added where it was held": lambda job: job.reading + job.begun_at,
    "miscounted a line": lambda job: [value - job.begun_at for value in misread(job)["line"]],
    "took the lines for tenths": lambda job: misread(job)["tenths"] - job.begun_at if job.ticks < 10 else None,
    "took the next inch": lambda job: misread(job)["next inch"] - job.begun_at,
    "left the fraction out": lambda job: job.inch - job.begun_at,
}


def tops_and_bottoms(job):
    """Three quarters and one half as four sixths."""
    parts = [Fraction(length).limit_denominator(64) for length in (job.first, job.second)]
    whole = sum(floor(part) for part in parts)
    fractions = [part - floor(part) for part in parts]
    if not all(fractions):
        return None
    return float(whole + Fraction(sum(one.numerator for one in fractions), sum(one.denominator for one in fractions)))


def carries(job):
    return job.first % 12 + job.second % 12 >= 12


MIDDLE = {
    "gave the middle": lambda job: job.added / 2,
    "added half the box": lambda job: job.added / 2 + job.off / 2,
    "did not halve": lambda job: job.total,
    "took the whole box off the half": lambda job: job.added / 2 - job.off,
    "halved the box only": lambda job: job.added - job.off / 2,
}


def left_of_a_stick(piece):
    return {
        "forgot the saw cut": lambda job: job.total + kerf(job),
        "added the saw cut": lambda job: job.total + 2 * kerf(job),
        "took the saw cut off twice": lambda job: job.total - kerf(job),
        "took ten inches for a foot": lambda job: [job.total - 2, job.total + 2],
        "gave the piece": piece,
    }


def kerf(job):
    return job.taken_off[-1]


#: Marks that lie so far back from one that is there.
def back_from(mark, between):
    return {
        "measured outward": lambda job: getattr(job, mark) + getattr(job, between),
        "gave the mark that is there": lambda job: getattr(job, mark),
        "gave the spacing": lambda job: getattr(job, between),
    }


TAPE = {
    ("tape_reading", "ticks"): TICKS,
    ("tape_reading", "on_tape"): ON_TAPE,
    ("tape_reading", "length"): BURNT_INCH,
    ("length_sum", "each"): MIDDLE,
    "feet-and-inches-added": {
        "forgot to carry the foot": lambda job: job.total - 12 if carries(job) else None,
        "carried at ten inches": lambda job: job.total + 2 if carries(job) else None,
        "left the fractions out": lambda job: floor(job.first) + floor(job.second),
        "added tops and bottoms of the fractions": tops_and_bottoms,
        "took one off the other": lambda job: abs(job.first - job.second),
    },
    "what-is-left-of-it": left_of_a_stick(lambda job: job.piece),
    "two-drops-from-a-slab.left-over": {
        **left_of_a_stick(lambda job: job.piece),
        "took the legs for the piece": lambda job: job.total + job.piece - job.up - job.across - job.down,
    },
    "branch-run-of-a-garage.length": {
        "gave one stretch": lambda job: [job.there, job.more],
        "took one off the other": lambda job: abs(job.there - job.more),
        "counted there and back": lambda job: 2 * job.total,
    },
    "run-along-a-roof-edge.length": {
        "forgot a stretch": lambda job: [job.total - length for length in job.lengths],
        "forgot to carry a foot": lambda job: (
            job.total - 12 if sum(length % 12 for length in job.lengths) >= 12 else None
        ),
        "carried at ten inches": lambda job: job.total + 2 * (sum(length % 12 for length in job.lengths) // 10),
        "took the feet only": lambda job: sum(length // 12 * 12 for length in job.lengths),
    },
    "long-circuit-to-a-pump.one-way": {
        "counted there and back": lambda job: 2 * job.total,
        "left up and down out": lambda job: job.level,
        "left out the way up or the way down": lambda job: [job.total - job.rise, job.total - job.fall],
        "took the way down off": lambda job: job.total - 2 * job.fall,
    },
    "rolling-offset-out-of-a-rack.near-mark": {
        **back_from("corner", "between"),
        "left the shrink out": lambda job: job.clear - job.between,
        "took the depth for the spacing": lambda job: job.corner - job.deep,
    },
    "step-to-a-box.far-mark": {
        "left the shrink out": lambda job: job.reach,
        "took the shrink off": lambda job: job.reach - job.eaten,
        "added the spacing": lambda job: job.reach + job.between,
        "added the depth": lambda job: job.reach + job.depth,
        "took the shrink for each bend": lambda job: job.reach + 2 * job.eaten,
    },
    "step-to-a-box.near-mark": {
        **back_from("corner", "between"),
        "left the shrink out": lambda job: job.reach - job.between,
        "took the depth for the spacing": lambda job: job.corner - job.depth,
    },
    "step-to-a-box.cut-length": {
        "left the shrink out": lambda job: job.reach + job.beyond,
        "took the shrink off": lambda job: job.reach + job.beyond - job.eaten,
        "took the shrink for each bend": lambda job: job.total + job.eaten,
        "added the spacing": lambda job: job.reach + job.beyond + job.between,
        "added the depth": lambda job: job.reach + job.beyond + job.depth,
        "forgot what lies beyond": lambda job: job.reach + job.eaten,
    },
    "saddle-over-a-drain.height": {
        "went by the pipe's name": lambda job: job.nominal + job.gap,
        "left the clearance out": lambda job: job.thick,
        "kept clear on both sides": lambda job: job.thick + 2 * job.gap,
        "took half the pipe": lambda job: job.thick / 2 + job.gap,
    },
    "saddle-over-a-drain.near-mark": {
        **back_from("middle", "apart"),
        "left the shrink out": lambda job: job.reach - job.apart,
        "took the height for the spacing": lambda job: job.middle - job.height,
        "went back by both spacings": lambda job: job.middle - 2 * job.apart,
    },
}
