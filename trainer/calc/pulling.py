"""
Pulling tension and sidewall pressure along a run, both ways. Pounds-force, feet in the steps.

Engineering practice, not the code's: an estimate, with the weight of the conductors in a bend left out.
"""

from __future__ import annotations

import math

from msgspec import Struct

from trainer.calc import raceways
from trainer.calc.calculation import Calculation, Output
from trainer.calc.conductors import ConductorGroup
from trainer.calc.inputs import Input, Kind
from trainer.calc.message import Message, Quantity
from trainer.calc.pulling_limits import max_tension_of
from trainer.calc.pulling_sections import Section
from trainer.calc.pulling_weight import (
    CONDUCTORS,
    RACEWAY,
    TRADE_SIZE,
    WEIGHT_CORRECTION,
    Correction,
    Lay,
    correction_for,
)
from trainer.calc.raceways import raceway_of
from trainer.calc.tables import table
from trainer.calc.trace import note, steps
from trainer.calc.trig import cos, pi, sin

__all__ = ["PULLING_TENSION", "PullingTension", "pulling_tension"]

_TABLE = table("pulling")
_MOST_PRESSURE: float = _TABLE["sidewall"]["most"]

SECTIONS = Input("sections", Kind.SECTIONS, "200 ft, 90 bend r 2 ft, 50 ft up")
FRICTION = Input("friction", Kind.NUMBER, "0.35", "", above=0, most=1)
WEIGHT = Input("weight", Kind.NUMBER, "2.4 lb/ft", "lb/ft", above=0, most=100)
MATERIAL = Input("material", Kind.CHOICE, "copper", optional=True, choices=("copper", "aluminum"))
FEED_TENSION = Input("feed_tension", Kind.NUMBER, "10 lb", "lbf", optional=True, least=0, most=10_000)
GRIP = Input("grip", Kind.CHOICE, "basket", optional=True, choices=("eye", "basket"))
MAX_SIDEWALL = Input("max_sidewall", Kind.NUMBER, "500 lb/ft", "lbf/ft", optional=True, above=0, most=3000)


class PullingTension(Struct, frozen=True):
    """
    What a pull takes, as given and the other way round.

    Args:
        tension: At the end of the pull [lbf].
        sidewall_pressure: In the bend that presses most [lbf/ft of radius]; 0 without a bend.
        tension_reversed: At the end, pulled the other way [lbf].
        sidewall_pressure_reversed: Likewise [lbf/ft].
        better_direction: "as-given", "reversed" or "either", by the tension.
        tensions: After each section, as given [lbf].
        weight_correction: The factor on the weight.
        max_tension: What the conductors stand [lbf].
        within_limits: Whether the pull as given stays within that and the limit of sidewall pressure.
    """

    tension: float
    sidewall_pressure: float
    tension_reversed: float
    sidewall_pressure_reversed: float
    better_direction: str
    tensions: tuple[float, ...]
    weight_correction: float
    max_tension: float
    within_limits: bool


class _Pull(Struct, frozen=True):
    """What holds for every section."""

    friction: float
    weight: float
    correction: Correction
    feed_tension: float
    default_radius: float | None


class _Course(Struct, frozen=True):
    """Tension after each section and pressure in each bend."""

    tensions: tuple[float, ...]
    pressures: tuple[float, ...]

    @property
    def most_pressure(self) -> float:
        return max(self.pressures, default=0.0)


@steps()
def pulling_tension(
    sections: tuple[Section, ...],
    friction: float,
    weight: float,
    conductors: tuple[ConductorGroup, ...],
    *,
    raceway: str = "emt",
    trade_size: str | None = None,
    weight_correction: float | None = None,
    material: str = "copper",
    feed_tension: float = 0.0,
    grip: str = "eye",
    max_sidewall: float = _MOST_PRESSURE,
) -> PullingTension:
    """
    Tension and sidewall pressure of a pull.

    Args:
        sections: Straight pieces and bends from the feed end to the pulling end.
        friction: Coefficient between conductors and raceway: dry 0.5, lubricated 0.35.
        weight: Of all conductors together [lb/ft].
        conductors: What is pulled, for its limit and its lay.
        raceway: "emt", "rmc" or "imc".
        trade_size: Of the raceway, for the weight correction of three equal conductors and radii that are not given.
        weight_correction: A factor of one's own on the weight.
        material: Of the conductors: "copper" or "aluminum".
        feed_tension: At the feed end [lbf].
        grip: "eye" on the metal, or "basket" over the insulation.
        max_sidewall: The most sidewall pressure [lbf/ft], from the conductor maker.

    Raises:
        InputError: When a value lies outside its range, a bend has no radius, or the lay of the conductors has no
            factor here.

    Source: published cable-pulling literature; see tables/pulling.toml for what was checked.

    >>> from trainer.calc.pulling_sections import read_sections
    >>> from trainer.calc.wire_lists import read_conductors
    >>> round(pulling_tension(read_sections("200 ft"), 0.5, 1.2, read_conductors("1 #4/0 THHN")).tension, 6)
    120.0
    """
    values = (sections, friction, weight, conductors, raceway, trade_size, weight_correction, material)
    for given, value in zip(PULLING_TENSION.inputs, (*values, feed_tension, grip, max_sidewall), strict=True):
        given.check(value)
    correction = correction_for(conductors, raceway, trade_size, weight_correction)
    radius = None if trade_size is None else raceway_of(raceway, trade_size).least_radius
    pull = _Pull(friction, weight, correction, feed_tension, radius)
    course = _course(sections, pull)
    tension, sidewall_pressure = course.tensions[-1], course.most_pressure
    note("sidewall_pressure", "pulling.most-pressure", "pressure", pressure=Quantity(sidewall_pressure, "lbf/ft"))
    other = _other_way(sections, pull)
    tension_reversed, sidewall_reversed = other.tensions[-1], other.most_pressure
    params = {"tension": Quantity(tension_reversed, "lbf"), "pressure": Quantity(sidewall_reversed, "lbf/ft")}
    note("tension_reversed", "pulling.other-way", **params)
    max_tension = max_tension_of(conductors, material, grip)
    within = tension <= max_tension and sidewall_pressure <= max_sidewall
    limits = {"tension": Quantity(max_tension, "lbf"), "pressure": Quantity(max_sidewall, "lbf/ft")}
    decisive = ("tension", "sidewall_pressure", "max_tension")
    note("within_limits", "pulling.within" if within else "pulling.not-within", *decisive, **limits)
    return PullingTension(
        tension,
        sidewall_pressure,
        tension_reversed,
        sidewall_reversed,
        _better(tension, tension_reversed),
        course.tensions,
        correction.factor,
        max_tension,
        within,
    )


def _better(tension: float, tension_reversed: float) -> str:
    if math.isclose(tension, tension_reversed, rel_tol=1e-9, abs_tol=1e-9):
        return "either"
    return "as-given" if tension < tension_reversed else "reversed"


def _other_way(sections: tuple[Section, ...], pull: _Pull) -> _Course:
    """Without steps of its own: those that are shown are of the pull as given."""
    return _course(tuple(section.reversed() for section in sections[::-1]), pull)


@steps()
def _course(sections: tuple[Section, ...], pull: _Pull) -> _Course:
    tension = pull.feed_tension
    tensions: list[float] = []
    pressures: list[float] = []
    for number, section in enumerate(sections, start=1):
        note("tension", "pulling.section", number=number, section=section.message())
        if section.is_bend:
            tension = _round_bend(tension, section.angle, pull)
            pressures.append(_pressure(tension, _radius_of(section, pull), pull))
        else:
            tension = _along(tension, section, pull)
        tensions.append(tension)
    return _Course(tuple(tensions), tuple(pressures))


@steps(tension="lbf")
def _along(tension: float, section: Section, pull: _Pull) -> float:
    """A straight piece; below 0 the conductors would run by themselves, and nothing is left to pull."""
    feet, slope = section.length / 12, section.slope
    friction, weight, weight_correction = pull.friction, pull.weight, pull.correction.factor
    if not slope:
        tension = tension + feet * weight * friction * weight_correction
    else:
        tension = max(0, tension + feet * weight * (sin(slope) + friction * weight_correction * cos(slope)))
    return tension


@steps(radians="", tension="lbf")
def _round_bend(tension: float, angle: float, pull: _Pull) -> float:
    e, friction, weight_correction = math.e, pull.friction, pull.correction.factor
    radians = pi * angle / 180
    tension = tension * e ** (friction * weight_correction * radians)
    return tension  # noqa: RET504 - the assignment is the step


def _radius_of(section: Section, pull: _Pull) -> float:
    radius = section.radius or pull.default_radius
    if radius is None:
        raise SECTIONS.refuse(Message("pulling.no-radius", {"bend": str(section)}), str(section))
    return radius


@steps(pressure="lbf/ft")
def _pressure(tension: float, radius: float, pull: _Pull) -> float:
    """What the conductors press on the wall for each foot of the bend's radius; all on one where the lay is not known."""
    radius_in_feet, weight_correction = radius / 12, pull.correction.factor
    note("radius_in_feet", "pulling.radius", radius=Quantity(radius, "in"))
    if pull.correction.lay == Lay.CRADLE:
        pressure = (3 * weight_correction - 2) * tension / (3 * radius_in_feet)
    elif pull.correction.lay == Lay.TRIANGLE:
        pressure = weight_correction * tension / (2 * radius_in_feet)
    else:
        pressure = tension / radius_in_feet
    return pressure


PULLING_TENSION = Calculation(
    name="pulling_tension",
    function=pulling_tension,
    inputs=(
        SECTIONS,
        FRICTION,
        WEIGHT,
        CONDUCTORS,
        RACEWAY,
        TRADE_SIZE,
        WEIGHT_CORRECTION,
        MATERIAL,
        FEED_TENSION,
        GRIP,
        MAX_SIDEWALL,
    ),
    outputs=(
        Output("tension", "lbf"),
        Output("sidewall_pressure", "lbf/ft"),
        Output("tension_reversed", "lbf"),
        Output("sidewall_pressure_reversed", "lbf/ft"),
        Output("better_direction"),
        Output("tensions", "lbf"),
        Output("weight_correction", ""),
        Output("max_tension", "lbf"),
        Output("within_limits"),
    ),
    sources=(
        _TABLE["bend"]["source"],
        f"sidewall pressure: {_TABLE['sidewall']['source']}",
        f"tension: {_TABLE['tension']['source']}",
        f"weight correction: {_TABLE['weight_correction']['source']}, from memory",
        f"friction: {_TABLE['friction']['source']}",
        raceways.SOURCES[0],
    ),
    area="pulling",
    example_inputs={
        "sections": "100 ft, 90 bend r 2 ft, 50 ft, 90 bend r 2 ft, 20 ft up",
        "friction": "0.35",
        "weight": "2.4 lb/ft",
        "conductors": "3 #4/0 THHN",
        "trade_size": "2-1/2",
    },
)
