"""Slips with long pulls and with heat and cold outdoors: by calculation and answer, each from the job's numbers."""

from __future__ import annotations

from trainer.calc.trig import round_down, round_up
from trainer.problems.facts import fact

OF = {name: fact(f"expansion.coefficients.{name}") for name in ("steel", "aluminum", "pvc")}
FOOT = 12
GRIP = 1000.0
MILS = {"6": 26240, "4": 41740, "2": 66360, "1/0": 105600}
POUNDS = 0.008


PRESSURE = {
    "divided by inches": lambda job: job.tension / job.bend_radius,
    "took the tension before the bend": lambda job: job.feed_tension / (job.bend_radius / FOOT),
    "took the middle of both tensions": lambda job: job.sidewall_pressure / 2 * (1 + job.feed_tension / job.tension),
    "took the difference of both tensions": lambda job: job.sidewall_pressure * (1 - job.feed_tension / job.tension),
    "added both tensions": lambda job: job.sidewall_pressure * (1 + job.feed_tension / job.tension),
    "multiplied by the radius": lambda job: job.tension * job.bend_radius / FOOT,
    "gave the tension": lambda job: job.tension,
    "took the diameter": lambda job: job.sidewall_pressure / 2,
}

STRAIGHT_PULL = {
    "left the correction out": lambda job: job.tension / job.weight_correction,
    "left the friction out": lambda job: job.tension / job.friction,
    "took the weight for each conductor": lambda job: 3 * job.tension,
    "divided by the correction": lambda job: job.tension / job.weight_correction**2,
    "gave the weight": lambda job: job.tension / job.friction / job.weight_correction,
    "took the length in inches": lambda job: FOOT * job.tension,
}


def through(job, quarters):
    return job.feed_tension * job.growth**quarters


BENDS = {
    "multiplied by one bend only": lambda job: through(job, 1) if job.quarters > 1 else None,
    "forgot a bend": lambda job: through(job, job.quarters - 1) if job.quarters > 1 else None,
    "took a bend too many": lambda job: through(job, job.quarters + 1),
    "added the bends instead of multiplying": lambda job: job.feed_tension * job.growth * job.quarters,
    "added the growth of each bend": lambda job: job.feed_tension * (1 + job.quarters * (job.growth - 1)),
    "gave the tension before the bends": lambda job: job.feed_tension,
    "gave what is added": lambda job: through(job, job.quarters) - job.feed_tension,
    "divided by the growth": lambda job: job.feed_tension / job.growth**job.quarters,
}


def uncapped(job):
    share = 0.8 if job.many > 3 else 1.0
    return share * job.many * MILS[job.awg] * POUNDS


STAND = {
    "left the eight tenths out": lambda job: job.many * MILS[job.awg] * POUNDS if job.many > 3 else None,
    "took eight tenths of three or fewer": lambda job: 0.8 * job.max_tension if job.many <= 3 else None,
    "counted one conductor only": lambda job: MILS[job.awg] * POUNDS,
    "left the grip out": uncapped,
    "gave the limit of the grip": lambda _: GRIP,
    "took the mils of another size": lambda job: [uncapped(job) * mils / MILS[job.awg] for mils in MILS.values()],
    "slipped a decimal place": lambda job: [10 * uncapped(job), uncapped(job) / 10],
}

FITTINGS = {
    "rounded down": lambda job: round_down(job.movement / job.travel),
    "took one for each hundred feet": lambda job: round_up(job.given["length"] / (100 * FOOT)),
    "took one more to be safe": lambda job: job.right.fittings + 1,
    "took another material": lambda job: [
        round_up(job.movement / job.travel * other / OF[job.material]) for other in OF.values()
    ],
    "took the hottest for the change": lambda job: round_up(job.movement / job.travel * job.high / job.swing),
}


def of_other_materials(value):
    return lambda job: [getattr(job, value) * other / OF[job.material] for other in OF.values()]


GROWTH = {
    "took the whole swing": lambda job: job.movement,
    "went by the cold end": lambda job: job.shrinkage,
    "took the other material": of_other_materials("growth"),
    "left the length in feet": lambda job: job.growth / FOOT,
    "took the hottest for the change": lambda job: job.growth * job.high / job.rise,
    "halved the swing": lambda job: job.movement / 2,
    "slipped a decimal place": lambda job: [10 * job.growth, job.growth / 10],
}


def ends_of(job):
    """Coldest and hottest as they were said, and the change between them."""
    cold, hot = (job.low, job.high) if "low" in job.drawn else (job.cold, job.hot)
    return cold, hot, hot - cold


def with_change(function):
    """A slip with the temperatures: the change that was taken instead, from the coldest and the hottest."""

    def taken(job):
        cold, hot, change = ends_of(job)
        return job.right.change * function(cold, hot) / change

    return taken


MOVEMENT = {
    "left the length in feet": lambda job: job.right.change / FOOT,
    "took another material": of_other_materials("change"),
    "took the hottest for the change": with_change(lambda _, hot: hot),
    "took the cold off though it is below zero": with_change(lambda cold, hot: abs(hot - abs(cold))),
    "slipped a decimal place": lambda job: [10 * job.right.change, job.right.change / 10],
    "took Celsius for Fahrenheit": lambda job: job.right.change / 1.8 if "span" in job.drawn else None,
    "added thirty-two to a difference": lambda job: (
        job.right.change * (1.8 * job.span + 32) / (1.8 * job.span) if "span" in job.drawn else None
    ),
    "divided by 1.8": lambda job: job.right.change / 1.8**2 if "span" in job.drawn else None,
}

#: Part of the movement of PVC that the question gives for each metal.
PART = {"steel": 0.2, "aluminum": 0.4}

BY_TABLE = {
    "gave the movement of PVC": lambda job: job.change_by_table / PART[job.material],
    "took the part of the other metal": lambda job: job.change_by_table * (sum(PART.values()) / PART[job.material] - 1),
    "left the degrees out": lambda job: job.change_by_table * 100 / job.temperature_change,
    "left the length out": lambda job: job.change_by_table * 100 * FOOT / job.given["length"],
    "took the part off instead": lambda job: job.change_by_table * (1 / PART[job.material] - 1),
    "slipped a decimal place": lambda job: [10 * job.change_by_table, job.change_by_table / 10],
}

OUTSIDE = {
    ("pulling_tension", "sidewall_pressure"): PRESSURE,
    ("pulling_tension", "tension"): BENDS,
    "straight-pull-tension": STRAIGHT_PULL,
    ("pulling_tension", "max_tension"): STAND,
    ("expansion_setting", "fittings"): FITTINGS,
    ("expansion_setting", "growth"): GROWTH,
    ("thermal_change", "change"): MOVEMENT,
    ("thermal_change", "change_by_table"): BY_TABLE,
}
