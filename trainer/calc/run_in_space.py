"""
A run of legs and 90s that leaves its plane: how the tube is rolled between bends, and where its end comes out.

Legs are measured from corner to corner, along the tube's middle. Inches and degrees. Rolls are counted as `layout` counts
them: clockwise as seen from the measured end, with the bend before upward.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from msgspec import Struct

from trainer.calc.arcs import arc_and_gain
from trainer.calc.calculation import Calculation, Output
from trainer.calc.inputs import Input, Kind
from trainer.calc.message import Message, Quantity
from trainer.calc.offset import OFFSET
from trainer.calc.shoes import DEFAULT_SHOE, Shoe
from trainer.calc.trace import note, steps
from trainer.calc.ways import STEPS, Direction, Step, Way

__all__ = ["RUN_IN_SPACE", "RunInSpace", "run_in_space"]

LEGS = Input("legs", Kind.WAYS, "30 in ahead, 20 in up, 16 in left")
SHOE = OFFSET.input("shoe")


class RunInSpace(Struct, frozen=True):
    """
    A run of 90s.

    Args:
        bends: How many.
        total: All of them together [deg].
        ahead: From the start to the end, ahead; below 0 back [in].
        left: The same to the left; below 0 to the right [in].
        up: The same upward; below 0 downward [in].
        rolls: How far the tube is rolled before each bend, from the one before; 0 before the first [deg].
        last_roll: The last of them [deg].
        gain: What each 90 takes less than its sharp corner [in].
        tube: Length of the straight tube that it takes [in].
    """

    bends: int
    total: float
    ahead: float
    left: float
    up: float
    rolls: tuple[float, ...]
    last_roll: float
    gain: float
    tube: float


@steps(bends="count", total="deg", ahead="in", left="in", up="in", tube="in")
def run_in_space(legs: tuple[Way, ...], shoe: Shoe = DEFAULT_SHOE) -> RunInSpace:
    """
    Where a run of 90s comes out, and how the tube is rolled for it.

    Args:
        legs: The legs with their directions, each at right angles to the one before; two at least.
        shoe: The bender's shoe, for the arcs.

    Raises:
        InputError: When two legs are not at right angles, a leg is too short for its arcs, or there is only one leg.

    Source: geometry.

    >>> from trainer.calc.ways import read_ways
    >>> result = run_in_space(read_ways("30 ahead, 20 up, 16 left"))
    >>> result.ahead, result.left, result.up, result.rolls
    (30.0, 16.0, 20.0, (0.0, 90.0))
    """
    _check(legs, shoe)
    lengths = tuple(leg.length for leg in legs)
    legs_ahead, legs_back = _along(legs, Direction.AHEAD), _along(legs, Direction.BACK)
    legs_left, legs_right = _along(legs, Direction.LEFT), _along(legs, Direction.RIGHT)
    legs_up, legs_down = _along(legs, Direction.UP), _along(legs, Direction.DOWN)
    leg_count = len(legs)
    bends = leg_count - 1
    total = 90 * bends
    ahead = sum(legs_ahead) - sum(legs_back)
    left = sum(legs_left) - sum(legs_right)
    up = sum(legs_up) - sum(legs_down)
    rolls = _rolls([leg.direction for leg in legs])
    for number, (one, other) in enumerate(pairwise(legs), start=1):
        told = {"bend": number, "one": one.message(), "other": other.message()}
        note(
            "last_roll", f"run_in_space.roll.{round(rolls[number - 1])}" if number > 1 else "run_in_space.first", **told
        )
    _, gain = arc_and_gain(shoe.radius, 90)
    tube = sum(lengths) - bends * gain
    return RunInSpace(bends, total, ahead, left, up, rolls, rolls[-1], gain, tube)


def _along(legs: Sequence[Way], direction: Direction) -> tuple[float, ...]:
    """Lengths of the legs that run this way; a single 0 where none does."""
    return tuple(leg.length for leg in legs if leg.direction == direction) or (0.0,)


def _rolls(directions: Sequence[Direction]) -> tuple[float, ...]:
    """
    Before each bend, from the one before. After a bend the shoe's side of the tube looks back along the leg before;
    its left side is the cross product of that and the leg between.
    """
    ways = [STEPS[direction] for direction in directions]
    rolls = [0.0]
    for before, between, after in zip(ways, ways[1:], ways[2:], strict=False):
        up: Step = (-before[0], -before[1], -before[2])
        sides = {up: 0.0, before: 180.0, _cross(up, between): 90.0, _cross(between, up): -90.0}
        rolls.append(sides[after])
    return tuple(rolls)


def _cross(one: Step, other: Step) -> Step:
    (a, b, c), (x, y, z) = one, other
    return b * z - c * y, c * x - a * z, a * y - b * x


def _check(legs: Sequence[Way], shoe: Shoe) -> None:
    if len(legs) < 2:
        raise LEGS.refuse(Message("run_in_space.one-leg"), LEGS.written(tuple(legs)))
    for one, other in pairwise(legs):
        if any(a * b for a, b in zip(STEPS[one.direction], STEPS[other.direction], strict=True)):
            reason = Message("run_in_space.no-corner", {"one": one.message(), "other": other.message()})
            raise LEGS.refuse(reason, str(other), Message("run_in_space.right-angles"))
    for number, leg in enumerate(legs):
        least = shoe.radius * (1 if number in {0, len(legs) - 1} else 2)
        if leg.length < least:
            sizes = {"leg": leg.message(), "least": Quantity(least, "in")}
            raise LEGS.refuse(Message("run_in_space.short", sizes), str(leg), Message("run_in_space.longer", sizes))


RUN_IN_SPACE = Calculation(
    name="run_in_space",
    function=run_in_space,
    inputs=(LEGS, SHOE),
    outputs=(
        Output("bends", "count"),
        Output("total", "deg"),
        Output("ahead", "in"),
        Output("left", "in"),
        Output("up", "in"),
        Output("rolls", "deg"),
        Output("last_roll", "deg"),
        Output("gain", "in", "arc"),
        Output("tube", "in", "arc"),
    ),
    sources=(
        "geometry of legs at right angles",
        "shoe: trade practice; radius computed from the handbook gain",
    ),
    area="bending",
    example_inputs={"legs": "30 in ahead, 20 in up, 16 in left"},
)
