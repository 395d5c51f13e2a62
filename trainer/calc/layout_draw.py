"""
Inputs drawn at random for a proof: what comes up on the job, and some way beyond it. Inches and degrees.

A shoe is drawn near the usual one of a trade size, as hand benders differ: its radius by up to 15 percent, and its
take-up mark from 1/2 in inside the arc to 1-1/2 in outside.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from random import Random
from types import MappingProxyType

from msgspec.structs import replace

from trainer.calc.layout_change import bent
from trainer.calc.layout_measure import stub_height
from trainer.calc.marks import Datum, End, Mark, Reference
from trainer.calc.shoes import DEFAULT_SHOES, Shoe
from trainer.calc.ways import Direction, Way

__all__ = ["DRAWS", "draw_shoe"]

#: To each direction, those that lie on its line.
_AXES = {
    one: pair
    for pair in ((Direction.AHEAD, Direction.BACK), (Direction.LEFT, Direction.RIGHT), (Direction.UP, Direction.DOWN))
    for one in pair
}


def draw_shoe(random: Random) -> Shoe:
    """A shoe near a usual one."""
    usual = random.choice(tuple(DEFAULT_SHOES.values()))
    radius = usual.radius * random.uniform(0.85, 1.15)
    take_up = radius + usual.outside_diameter / 2 + random.uniform(-0.5, 1.5)
    return Shoe(usual.trade_size, take_up, radius, usual.outside_diameter)


def draw_offset(random: Random) -> dict[str, object]:
    """Inputs of `offset`; some have no room, and some no straight tube between the arcs."""
    return {
        "depth": random.uniform(0.5, 30),
        "angle": random.choice((10, 15, 22.5, 30, 45, 60, random.uniform(3, 80))),
        "distance": random.uniform(15, 110),
        "shoe": draw_shoe(random),
        "hook": random.choice((End.FAR, End.MEASURED)),
    }


def draw_box_offset(random: Random) -> dict[str, object]:
    """Inputs of `box_offset`; some lie too low, and some leave the arcs no room."""
    return {
        "knockout": random.uniform(0.5, 3),
        "standoff": random.choice((0.0, 0.25, random.uniform(0, 1))),
        "angle": random.choice((5, 10, 15, random.uniform(3, 30))),
        "near_mark": random.uniform(2, 6),
        "shoe": draw_shoe(random),
    }


def draw_rolling_offset(random: Random) -> dict[str, object]:
    """Inputs of `rolling_offset`."""
    flat = draw_offset(random)
    del flat["depth"]
    return {"rise": random.uniform(0.5, 24), "roll": random.uniform(0.5, 24), **flat}


def draw_three_point_saddle(random: Random) -> dict[str, object]:
    """Inputs of `three_point_saddle`."""
    return {
        "height": random.uniform(0.5, 12),
        "centre_angle": random.choice((45, 60, random.uniform(5, 120))),
        "distance": random.uniform(20, 110),
        "shoe": draw_shoe(random),
    }


def draw_four_point_saddle(random: Random) -> dict[str, object]:
    """Inputs of `four_point_saddle`."""
    flat = draw_offset(random)
    height, beside = random.uniform(0.5, 18), random.uniform(0, 3)
    del flat["depth"]
    return {"height": height, "width": random.uniform(1, 48), "clearance": beside, **flat}


def draw_parallel_offset(random: Random) -> dict[str, object]:
    """Inputs of `parallel_offset` with the marks of a neighbour."""
    return {
        "centre_spacing": random.uniform(0.75, 12),
        "plane": random.choice(("in-rack", "in-rack", "away-from-rack")),
        "side": random.choice(("toward-turn", "from-turn")),
        "neighbour": random.randrange(1, 5),
        **draw_offset(random),
    }


def draw_kick(random: Random) -> dict[str, object]:
    """Inputs of `kick`, by its angle or by its length, from an end or from a 90."""
    rise = random.uniform(0.5, 30)
    by_angle = {"angle": random.choice((10, 15, 22.5, 30, 45, random.uniform(3, 80)))}
    return {
        "rise": rise,
        **random.choice((by_angle, {"length": rise * random.uniform(1.1, 8)})),
        "measured_from": random.choice((End.MEASURED, Datum.BACK)),
        "turn": random.choice(("clockwise", "counterclockwise", "none")),
        "shoe": draw_shoe(random),
        "hook": random.choice((End.FAR, End.MEASURED)),
    }


def draw_run_in_space(random: Random) -> dict[str, object]:
    """Inputs of `run_in_space`: two to seven legs, each at right angles to the one before."""
    legs: list[Way] = []
    for _ in range(random.randrange(2, 8)):
        taken = _AXES[legs[-1].direction] if legs else ()
        direction = random.choice([one for one in Direction if one not in taken])
        legs.append(Way(direction, random.uniform(24, 90)))
    return {"legs": tuple(legs), "shoe": draw_shoe(random)}


def draw_back_to_back(random: Random) -> dict[str, object]:
    """Inputs of `back_to_back`; one tool in three has its back-of-bend mark where it should not be."""
    shoe = draw_shoe(random)
    if random.random() < 1 / 3:
        shoe = replace(shoe, own_back_mark=shoe.back_mark + random.uniform(-0.5, 0.5))
    ways = ("by-back-mark", "by-take-up", "on-straight-stick")
    return {
        "distance": random.uniform(10, 100),
        "stub": random.uniform(6, 60),
        "shoe": shoe,
        "way": random.choice(ways),
    }


def draw_gain(random: Random) -> dict[str, object]:
    """Inputs of `gain`."""
    radius = random.uniform(2, 40)
    return {
        "radius": radius,
        "angle": random.uniform(1, 170),
        "outside_diameter": random.uniform(0.5, min(radius, 4.5)),
    }


def draw_segment_bend(random: Random) -> dict[str, object]:
    """Inputs of `segment_bend`, half of them for a neighbor around the same centre."""
    around = {"centre_spacing": random.uniform(1, 6), "neighbour": random.randrange(1, 5)}
    return {
        "radius": random.uniform(4, 60),
        "angle": random.choice((90, 45, random.uniform(10, 150))),
        "shots": random.randrange(2, 31),
        "distance": random.uniform(20, 200),
        "shoe": draw_shoe(random),
        **(around if random.random() < 0.5 else {}),
    }


def draw_measure_shoe(random: Random) -> dict[str, object]:
    """Readings of `measure_shoe`: a scrap bent on some shoe, and both legs taped."""
    shoe, stick, mark = draw_shoe(random), random.uniform(40, 60), random.uniform(2, 12)
    ninety = Mark(mark, End.MEASURED, Reference.TAKE_UP, End.MEASURED, 90.0, 0.0, False, 1)
    scrap = bent([ninety], shoe, stick)
    legs = (stub_height(way, shoe.outside_diameter) for way in (scrap, scrap.from_other_end()))
    readings = dict(zip(("stub", "other_leg"), legs, strict=True))
    return {"stick": stick, "mark": mark, "trade_size": shoe.trade_size, **readings}


def draw_stub_up(random: Random) -> dict[str, object]:
    """Inputs of `stub_up`, with the take-up of some tool."""
    shoe = draw_shoe(random)
    return {"stub_height": random.uniform(5, 60), "trade_size": shoe.trade_size, "take_up": shoe.take_up}


#: By calculation.
DRAWS: Mapping[str, Callable[[Random], dict[str, object]]] = MappingProxyType(
    {
        "offset": draw_offset,
        "box_offset": draw_box_offset,
        "rolling_offset": draw_rolling_offset,
        "three_point_saddle": draw_three_point_saddle,
        "four_point_saddle": draw_four_point_saddle,
        "parallel_offset": draw_parallel_offset,
        "kick": draw_kick,
        "run_in_space": draw_run_in_space,
        "back_to_back": draw_back_to_back,
        "gain": draw_gain,
        "segment_bend": draw_segment_bend,
        "measure_shoe": draw_measure_shoe,
        "stub_up": draw_stub_up,
    }
)
