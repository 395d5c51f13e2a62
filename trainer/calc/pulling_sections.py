"""
Reads the sections of a pull, from the feed end on: `200 ft, 90 bend r 2 ft, 50 ft up, 30 ft down 20 deg`.

Inches and degrees.
"""

from __future__ import annotations

import re

from msgspec import Struct
from msgspec.structs import replace

from trainer.calc.length import read_length, write_length
from trainer.calc.message import InputError, Message, Quantity
from trainer.calc.number import Refusal
from trainer.calc.reading import read_number
from trainer.calc.step import write_number

__all__ = ["Section", "read_sections"]

LONGEST_LIST = 400
MOST_INCHES = 600_000

_EXAMPLE = "200 ft, 90 bend r 2 ft, 50 ft up"
_BEND = re.compile(
    r"([0-9][0-9./ -]*?) ?(°|º|degrees|degree|degs|deg)?\.? ?(bend|elbow)?(?:,? ?(?:radius|r|at) ?=? ?(.+))?"
)
_STRAIGHT = re.compile(r"(?:straight |level )?(.+?)(?: (up|down|level)(?: (.+))?)?")


class Section(Struct, frozen=True):
    """
    A straight piece or a bend of the run.

    Args:
        length: Of a straight piece [in]; 0 for a bend.
        slope: Of a straight piece in the direction of the pull [deg]: above 0 up, below 0 down.
        angle: Of a bend [deg]; 0 for a straight piece.
        radius: Of a bend [in]; None where the raceway's least is meant.
    """

    length: float = 0.0
    slope: float = 0.0
    angle: float = 0.0
    radius: float | None = None

    @property
    def is_bend(self) -> bool:
        """Whether it turns."""
        return self.angle > 0

    def reversed(self) -> Section:
        """The same section pulled the other way."""
        return replace(self, slope=-self.slope)

    def message(self) -> Message:
        """The section as a sentence."""
        if self.is_bend:
            return Message("pulling.bend", {"angle": Quantity(self.angle, "deg")})
        way = "level" if not self.slope else "up" if self.slope > 0 else "down"
        params = {"length": write_length(self.length, feet=True), "slope": Quantity(abs(self.slope), "deg")}
        return Message(f"pulling.{way}", params)

    def __str__(self) -> str:
        """As it can be typed."""
        if self.is_bend:
            radius = "" if self.radius is None else f" r {write_length(self.radius)}"
            return f"{write_number(self.angle)} bend{radius}"
        way = f" {'up' if self.slope > 0 else 'down'} {write_number(abs(self.slope))} deg" if self.slope else ""
        return f"{write_length(self.length)}{way}"


def read_sections(text: str) -> tuple[Section, ...]:
    """
    Read the sections of a pull in the order in which the conductors go through them.

    Args:
        text: As typed, sections with commas, semicolons or lines between them, at most 400 characters. A straight
            piece is a length, `up` and `down` alone are vertical; a bend is an angle with `bend` or a degree sign.

    Raises:
        InputError: With the section that can't be read.

    >>> [str(section) for section in read_sections("20 ft, 90° r 2 ft, 10 ft up")]
    ['240 in', '90 bend r 24 in', '120 in up 90 deg']
    """
    refusal = Refusal(text, Message("pulling.accepted"), _EXAMPLE)
    if len(text) > LONGEST_LIST:
        raise refusal.because("input.list-too-long", limit=LONGEST_LIST)
    return tuple(_section(" ".join(item.split()), refusal) for item in re.split(r"[,;\n]", text.lower()))


def _section(item: str, refusal: Refusal) -> Section:
    try:
        bend = _BEND.fullmatch(item)
        section = _bend(bend) if bend and (bend[2] or bend[3]) else _straight(item)
    except InputError as error:
        raise refusal.because("pulling.not-understood", item=item, problem=error.reason) from None
    if not (section.is_bend or 0 < section.length <= MOST_INCHES) or section.angle > 180 or abs(section.slope) > 90:
        raise refusal.because("pulling.out-of-range", item=item)
    if section.radius is not None and not 1 <= section.radius <= 6000:
        raise refusal.because("pulling.radius-out-of-range", item=item)
    return section


def _bend(match: re.Match[str]) -> Section:
    radius = None if match[4] is None else float(read_length(match[4]).inches)
    return Section(angle=read_number(match[1], "deg").value, radius=radius)


def _straight(item: str) -> Section:
    match = _STRAIGHT.fullmatch(item)
    length, way, slope = match.groups() if match else (item, None, None)
    angle = 0.0 if way in {None, "level"} else 90.0 if slope is None else read_number(slope, "deg").value
    return Section(float(read_length(length).inches), -angle if way == "down" else angle)
