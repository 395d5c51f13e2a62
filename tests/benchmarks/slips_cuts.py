"""Slips with cut lengths, ends, steps and couplings: by calculation and answer, each from the job's numbers."""

from __future__ import annotations

from fractions import Fraction

from trainer.calc.raceways import raceway_of
from trainer.calc.trig import round_down, round_up, sin, tan
from trainer.problems.facts import fact

STICK = fact("cutting.stick.length")
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
    """As the page gives it; where it gives none, nobody takes it for the gain."""
    return job.take_up if has(job, "take_up") else job.takes


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

CUTS = {
    ("cut_length", "tube"): STRAIGHT,
    ("cut_length", "last_piece"): LAST_PIECE,
    ("bent_cut_length", "tube"): BENT,
    ("cut_end", "lost_percent"): RIDGE,
    ("cut_end", "out_of_square"): SLANT,
    ("knockout_step", "step"): STEP,
    ("knockout_step", "spacer_needed"): SPACER,
    ("material_list", "couplings"): COUPLINGS,
}
