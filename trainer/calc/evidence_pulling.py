"""The tension of a pull added up over small steps along the run: no closed form, no formula of the calculation."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import partial
from math import cos, radians, sin

from trainer.calc.evidence_check import Check, Values
from trainer.calc.message import Message
from trainer.calc.pulling import PullingTension
from trainer.calc.pulling_sections import Section

__all__ = ["tension_by_steps"]

_STEPS = 400


def tension_by_steps(values: Values, result: PullingTension) -> Iterator[Check]:
    """Both ways, step by step."""
    friction = values["friction"] * result.weight_correction
    feed, weight = values.get("feed_tension") or 0.0, values["weight"]
    sections: Sequence[Section] = values["sections"]
    other_way = [section.reversed() for section in sections[::-1]]
    for name, core, way in (
        ("tension", result.tension, sections),
        ("tension_reversed", result.tension_reversed, other_way),
    ):
        by_steps = _along(way, friction, weight, feed)
        yield Check(Message("evidence.method.steps"), name, "lbf", core, by_steps, 1e-6 * max(1.0, abs(core)))


def _along(sections: Sequence[Section], friction: float, weight: float, tension: float) -> float:
    for section in sections:
        if section.is_bend:
            tension = _added_up(lambda pull: friction * pull, tension, radians(section.angle))
        else:
            tension = max(0.0, _added_up(partial(_gain, section, friction, weight), tension, section.length / 12))
    return tension


def _gain(section: Section, friction: float, weight: float, _: float) -> float:
    """For each foot: what has to be lifted, and what rubs."""
    slope = radians(section.slope)
    return weight * (sin(slope) + friction * cos(slope))


def _added_up(rate: Callable[[float], float], value: float, over: float) -> float:
    """Fourth-order steps of d(value) / d(place) = rate(value)."""
    step = over / _STEPS
    for _ in range(_STEPS):
        first = rate(value)
        second = rate(value + step / 2 * first)
        third = rate(value + step / 2 * second)
        fourth = rate(value + step * third)
        value += step / 6 * (first + 2 * second + 2 * third + fourth)
    return value
