"""Slips with the tape, the saw and the cut list: by calculation and answer, or by family, each from the job's numbers."""

from __future__ import annotations

from fractions import Fraction
from math import floor

from trainer.calc.raceways import raceway_of
from trainer.calc.shoes import DEFAULT_SHOES
from trainer.calc.trig import round_down, round_up, sin, tan
from trainer.problems.facts import fact

STICK = fact("cutting.stick.length")
NEAR = 1 / 16
#: Sizes that stand beside each other in the questions; somebody takes the wrong one.
SIZES = ("1/2", "3/4", "1", "1-1/4", "1-1/2", "2", "3", "4")


def across(size):
    return raceway_of("emt", size).outside_diameter


def by_name(size):
    """The size as if it were inches."""
    return float(sum(Fraction(part) for part in size.split("-")))


def has(job, name):
    return name in job.given or name in job.drawn


#: What connectors at the ends of a straight or a bent piece lead to; what stands out is taken off, what goes in is added.
def ends(job):
    number = job.given.get("fitted_ends", 2 if job.calculation.name == "cut_length" else 0)
    return number, job.given.get("stands_out", 0.0), job.given.get("goes_in", 0.0)


def of_ends(change):
    """A slip with the connectors: so much longer or shorter than right; none where there are none."""

    def cut(job):
        number, out, into = ends(job)
        right = job.last_piece if job.family.shape.ask.answer == "last_piece" else job.tube
        return right + change(number, out, into) if number else None

    return cut


WITH_CONNECTORS = {
    "left the connectors out": of_ends(lambda number, out, into: number * (out - into)),
    "took the connector off at one end only": of_ends(lambda number, out, into: number / 2 * (out - into)),
    "forgot what goes in": of_ends(lambda number, _, into: -number * into),
    "forgot what stands out": of_ends(lambda number, out, _: number * out),
    "took off what goes in": of_ends(lambda number, _, into: -2 * number * into),
    "turned it round": of_ends(lambda number, out, into: 2 * number * (out - into)),
}

STRAIGHT = {
    **WITH_CONNECTORS,
    "cut it from center to center": lambda job: job.tube + half_boxes(job),
    "took both boxes off whole": lambda job: job.tube - half_boxes(job),
    "took one half box off only": lambda job: [job.tube + job.first_box / 2, job.tube + job.second_box / 2],
    "took one box for both": lambda job: [job.tube + half_boxes(job) - box for box in (job.first_box, job.second_box)],
}


def half_boxes(job):
    return (job.first_box + job.second_box) / 2


LAST_PIECE = {
    **WITH_CONNECTORS,
    "forgot the gaps in the couplings": lambda job: job.last_piece + job.couplings * job.coupling_gap,
    "took the gaps the wrong way": lambda job: job.last_piece + 2 * job.couplings * job.coupling_gap,
    "took ten inches for a foot": lambda job: job.last_piece - 2,
    "gave the whole length": lambda job: job.tube,
}


def take_up(job):
    return job.take_up if has(job, "take_up") else DEFAULT_SHOES[job.trade_size].take_up


BENT = {
    **WITH_CONNECTORS,
    "left the gain out": lambda job: job.tube + job.all_gain,
    "added the gain": lambda job: job.tube + 2 * job.all_gain if job.all_gain else None,
    "took the gain off once for both bends": lambda job: job.tube + job.gain if job.bends == 2 else None,
    "took the gain off at both ends": lambda job: job.tube - job.gain if job.bends == 1 else None,
    "took the take-up for the gain": lambda job: job.tube + job.all_gain - job.bends * take_up(job),
    "left the last leg out": lambda job: job.tube - job.legs[-1] if job.bends else None,
    "took the inside for the back": lambda job: job.tube - 2 * job.bends * job.outside_diameter,
    "added the diameter once": lambda job: job.tube - job.bends * job.outside_diameter,
    "took the diameter off": lambda job: job.tube - 4 * job.bends * job.outside_diameter,
    "left the shrink out": lambda job: job.tube - job.shrink if job.shrink else None,
    "took the shrink off": lambda job: job.tube - 2 * job.shrink if job.shrink else None,
    "took the shrink for each bend": lambda job: job.tube + job.shrink if job.shrink else None,
    "added the depth": lambda job: job.tube - job.shrink + job.offset_depth if job.shrink else None,
    "did not multiply the shrink by the depth": lambda job: (
        job.tube - job.shrink + job.shrink_per_inch if job.shrink else None
    ),
    "took a gain off for the offset": lambda job: job.tube - job.gain if job.shrink else None,
}

RIDGE = {
    "took the diameters and not the areas": lambda job: 100 * (1 - job.bore_left / job.bore),
    "took the ridge off once": lambda job: 100 * (1 - ((job.bore - job.ridge) / job.bore) ** 2),
    "took it once, and not squared": lambda job: 100 * job.ridge / job.bore,
    "gave what stays open": lambda job: job.open_percent,
    "took the trade size for the bore": lambda job: (
        100 * (1 - ((by_name(job.trade_size) - 2 * job.ridge) / by_name(job.trade_size)) ** 2)
    ),
}

SLANT = {
    "took the trade size for the diameter": lambda job: by_name(job.trade_size) * tan(job.slant),
    "took half the diameter": lambda job: job.out_of_square / 2,
    "took the sine": lambda job: across(job.trade_size) * sin(job.slant),
    "took another size": lambda job: [across(size) * tan(job.slant) for size in SIZES[4:]],
    "took the degrees for percent": lambda job: across(job.trade_size) * job.slant / 100,
}

STEP = {
    "forgot half the tube": lambda job: job.step + job.tube_centre - job.tube_spacer,
    "took the whole diameter": lambda job: job.step - (job.tube_centre - job.tube_spacer),
    "left the spacer of the tube out": lambda job: job.step + job.tube_spacer,
    "left the spacer of the box out": lambda job: job.step - job.box_spacer,
    "added the spacer of the tube": lambda job: job.step + 2 * job.tube_spacer,
    "took another size": lambda job: [
        job.step + (across(job.trade_size) - across(size)) / 2 for size in SIZES[:3] if size != job.trade_size
    ],
    "took the trade size for the diameter": lambda job: (
        job.step + (across(job.trade_size) - by_name(job.trade_size)) / 2
    ),
}

SPACER = {
    "forgot half the tube": lambda job: job.knockout_centre,
    "took the whole diameter": lambda job: job.knockout_centre - across(job.trade_size),
    "left the spacer of the box out": lambda job: job.spacer_needed - job.box_spacer,
    "took the spacer of the box off": lambda job: job.spacer_needed - 2 * job.box_spacer,
    "added half the tube": lambda job: job.knockout_centre + across(job.trade_size) / 2,
    "took another size": lambda job: [
        job.knockout_centre - across(size) / 2 for size in SIZES[:3] if size != job.trade_size
    ],
    "took the trade size for the diameter": lambda job: job.knockout_centre - by_name(job.trade_size) / 2,
}


def stretches(job):
    return [getattr(leg, "length", None) or sum(leg.lengths) for leg in job.run]


COUPLINGS = {
    "took all stretches as one run": lambda job: round_up(sum(stretches(job)) / STICK) - 1,
    "took one for each stick": lambda job: sum(round_up(length / STICK) for length in stretches(job)),
    "joined the whole sticks only": lambda job: sum(round_down(length / STICK) - 1 for length in stretches(job)),
    "counted stretches that are alike once": lambda job: sum(
        round_up(length / STICK) - 1 for length in set(stretches(job))
    ),
    "put one at each end too": lambda job: job.couplings + 2 * len(stretches(job)),
    "put one where the stretches meet": lambda job: job.couplings + len(stretches(job)) - 1,
}

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


CUTS = {
    ("cut_length", "tube"): STRAIGHT,
    ("cut_length", "last_piece"): LAST_PIECE,
    ("bent_cut_length", "tube"): BENT,
    ("cut_end", "lost_percent"): RIDGE,
    ("cut_end", "out_of_square"): SLANT,
    ("knockout_step", "step"): STEP,
    ("knockout_step", "spacer_needed"): SPACER,
    ("material_list", "couplings"): COUPLINGS,
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
        "carried at ten inches": lambda job: (
            job.total + 2 if sum(length % 12 for length in job.lengths) >= 12 else None
        ),
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
