"""
What a calculation takes: the kinds of input, how each is read from typed text, and its range.

A range stands once, here in the `Input`: the function checks its arguments with `Input.check`, and readers, listings and
question files ask the same object.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from difflib import get_close_matches
from enum import StrEnum
from fractions import Fraction
from typing import Any

from msgspec import Struct

from trainer.calc.boxes_named import read_box
from trainer.calc.length import read_length, write_length
from trainer.calc.message import InputError, Message, Quantity
from trainer.calc.pull_boxes_entries import read_entries
from trainer.calc.pulling_sections import read_sections
from trainer.calc.reading import read_count, read_number
from trainer.calc.runs import read_run
from trainer.calc.shoes import DEFAULT_SHOES
from trainer.calc.shoes_named import read_shoe
from trainer.calc.step import write_number
from trainer.calc.stretches import read_stretches
from trainer.calc.temperature import read_rating, read_temperature, read_temperature_change
from trainer.calc.ways import read_ways
from trainer.calc.wire_lists import read_conductors, read_insulation, read_size, read_sizes

__all__ = ["Input", "Kind"]

LONGEST_LIST = 400
MOST_ITEMS = 500


class Kind(StrEnum):
    """What sort of thing an input is; in brackets the type of its value."""

    LENGTH = "length"  # float, inches
    ANGLE = "angle"  # float, degrees
    NUMBER = "number"  # float, in the input's unit
    COUNT = "count"  # int
    CHOICE = "choice"  # str, one of the choices
    TRADE_SIZE = "trade size"  # str, one of the choices
    SHOE = "shoe"  # Shoe
    LENGTHS = "list of lengths"  # tuple of float, inches
    ANGLES = "list of angles"  # tuple of float, degrees
    RUN = "run"  # tuple of Legs
    STRETCHES = "list of stretches"  # tuple of Stretch, inches
    WAYS = "list of legs with directions"  # tuple of Way, inches
    YES_NO = "yes or no"  # bool
    CONDUCTORS = "list of conductors"  # tuple of ConductorGroup
    CONDUCTOR_SIZE = "conductor size"  # str, one of the choices
    INSULATION = "insulation"  # str, one of the choices
    SIZES = "list of sizes"  # tuple of ConductorGroup without insulation
    BOX = "box"  # Box
    ENTRIES = "list of entries"  # tuple of Entry
    SECTIONS = "list of sections"  # tuple of Section
    TEMPERATURE = "temperature"  # float, C
    TEMPERATURE_CHANGE = "temperature change"  # float, F
    RATING = "temperature rating"  # float, C
    CONTINUOUS = "continuous load"  # float, A, or bool
    PRESENT = "count or yes"  # int; yes is 1, no is 0


class Input(Struct, frozen=True):
    """
    One input of a calculation.

    Args:
        name: Its name, also the function's argument.
        kind: What sort of thing it is.
        example: One text that is taken.
        unit: Unit of the value, and of a number typed without one.
        optional: Whether it may be left out.
        above: The value, or each of a list, lies above this.
        least: It is at least this.
        below: It lies below this.
        most: It is at most this.
        choices: What can be chosen, for a choice or a trade size.
    """

    name: str
    kind: Kind
    example: str
    unit: str = ""
    optional: bool = False
    above: float | None = None
    least: float | None = None
    below: float | None = None
    most: float | None = None
    choices: tuple[str, ...] = ()

    def read(self, text: str) -> object:
        """
        The value of a typed text.

        Raises:
            InputError: With `field` set, when it can't be read or lies outside the range.
        """
        try:
            value = _READERS[self.kind](self, text)
        except InputError as error:
            raise self.refuse(error.reason, error.given, error.accepted) from None
        self.check(value, given=text)
        return value

    def value(self, given: object) -> object:
        """A value as it is, or read when it is text: what question files and forms hand over."""
        if isinstance(given, str):
            return self.read(given)
        self.check(given)
        return given

    def check(self, value: object, *, given: str = "") -> None:
        """
        Refuse a number outside the range, or a word that is no choice; None is an input left out.

        Args:
            value: The value, or a tuple of them.
            given: The text that it was read from, when there is one.

        Raises:
            InputError: With `field` set.
        """
        for part in value if isinstance(value, tuple) else (value,):
            if type(part) in _NUMBERS:
                self._check_number(part, given)
            elif isinstance(part, str) and self.choices and part not in self.choices:
                raise self.refuse(Message("input.no-choice"), given or part)

    def refuse(self, reason: Message, given: str, accepted: Message | None = None, example: str = "") -> InputError:
        """An error that belongs to this input."""
        accepted = accepted or self.accepted()
        return InputError(reason, given=given, accepted=accepted, example=example or self.example, field=self.name)

    def accepted(self) -> Message:
        """What is taken, with its range or choices."""
        if self.kind == Kind.SHOE:
            return Message("shoe.accepted", {"choices": ", ".join(DEFAULT_SHOES)})
        if self.kind in _CHOSEN:
            choices = self.choices or tuple(DEFAULT_SHOES)
            return Message("input.one-of", {"choices": ", ".join(choices)})
        what = Message(f"input.kind.{self.kind.replace(' ', '-')}")
        bounds = {} if self.kind == Kind.RATING else self._bounds()  # Its sentence names the three that there are.
        params = {side: self._bound_said(bound) for side, bound in bounds.items()}
        return Message(f"input.range.{'-'.join(bounds) or 'any'}", {"what": what, **params})

    def written(self, value: object) -> str:
        """A value as text that `read` takes, to the precision of a tape."""
        if isinstance(value, tuple):
            return ", ".join(self.written(part) for part in value)
        if isinstance(value, bool):
            return "yes" if value else "no"
        if isinstance(value, int | float):
            return write_length(value) if self.unit == "in" else f"{write_number(value)} {self.unit}".strip()
        return str(value)

    def _bounds(self) -> dict[str, float]:
        sides = {"above": self.above, "least": self.least, "below": self.below, "most": self.most}
        return {side: bound for side, bound in sides.items() if bound is not None}

    def _bound_said(self, bound: float) -> Quantity | str:
        """A bound as people say it: a long length in feet."""
        if self.unit == "in" and bound >= _SAID_IN_FEET:
            return write_length(bound, feet=True)
        return Quantity(bound, self.unit)

    def _check_number(self, number: Any, given: str) -> None:
        if (
            (self.above is None or number > self.above)
            and (self.least is None or number >= self.least)
            and (self.below is None or number < self.below)
            and (self.most is None or number <= self.most)
        ):
            return  # Quickly, because every function checks every argument; which bound it was matters only below.
        for side, bound in self._bounds().items():
            if not _HOLDS[side](number, bound):
                reason = Message(f"input.not-{side}", {"bound": self._bound_said(bound)})
                raise self.refuse(reason, given or self.written(number))


#: Length of a bound from which on it is said in feet [in].
_SAID_IN_FEET = 120.0

#: Types of a number; yes or no is none.
_NUMBERS = frozenset({int, float})

_HOLDS: Mapping[str, Callable[[float, float], bool]] = {
    "above": lambda number, bound: number > bound,
    "least": lambda number, bound: number >= bound,
    "below": lambda number, bound: number < bound,
    "most": lambda number, bound: number <= bound,
}

#: How often, then what: "8x47 in", "(3) 22.5".
_REPEATED = re.compile(r"\(?([0-9]{1,4})(?:\) ?| ?[x×*@] ?)(.*)")


def _read_list(given: Input, text: str) -> tuple[float, ...]:
    """`8x47 in, 3x70 in` or `90, 90, 30`: separated by commas, semicolons or lines."""
    if len(text) > LONGEST_LIST:
        raise given.refuse(Message("input.list-too-long", {"limit": LONGEST_LIST}), text[:40])
    values: list[float] = []
    for item in re.split(r"[,;\n]", text):
        match = _REPEATED.fullmatch(" ".join(item.split()))
        times, one = (int(match[1]), match[2]) if match else (1, item)
        if len(values) + times > MOST_ITEMS:
            raise given.refuse(Message("input.too-many-items", {"limit": MOST_ITEMS}), text)
        if times == 0:
            raise given.refuse(Message("input.no-times", {"item": item.strip()}), text)
        values += [read_number(one, given.unit).value] * times
    return tuple(values)


#: Other words for a choice.
_SAME = {"aluminium": "aluminum", "al": "aluminum", "cu": "copper"}


def _read_choice(given: Input, text: str) -> str:
    """One of the choices; spaces, dashes, underlines and capitals don't matter."""
    wanted = re.sub(r"[\s_-]+", "-", text.strip().lower())
    wanted = _SAME.get(wanted, wanted)
    if wanted in given.choices:
        return wanted
    near = get_close_matches(wanted[:60], given.choices, n=1)
    reason = Message("input.did-you-mean", {"near": near[0]}) if near else Message("input.no-choice")
    raise given.refuse(reason, text)


def _read_trade_size(given: Input, text: str) -> str:
    """A trade size in any way of writing a mixed number: `1-1/4`, `1 1/4"`, `1.25`."""
    inches = read_length(text).inches
    for size in given.choices or tuple(DEFAULT_SHOES):
        if sum(map(Fraction, size.split("-"))) == inches:
            return size
    raise given.refuse(Message("input.no-choice"), text)


def _read_yes_no(given: Input, text: str) -> bool:
    word = text.strip().lower()
    if word in {"yes", "y", "true", "1", "no", "n", "false", "0"}:
        return word in {"yes", "y", "true", "1"}
    raise given.refuse(Message("input.no-choice"), text)


def _read_continuous(given: Input, text: str) -> float | bool:
    """A load in amperes, or whether all of the load is continuous."""
    word = text.strip().lower()
    return word == "yes" if word in {"yes", "no"} else read_number(text, given.unit).value


def _read_present(given: Input, text: str) -> int:
    """How many there are; yes is one, no is none."""
    counted = {"yes": 1, "no": 0, "none": 0}.get(text.strip().lower())
    return int(read_count(text, given.unit).value) if counted is None else counted


#: Kinds of which a few named ones are taken.
_CHOSEN = {Kind.CHOICE, Kind.TRADE_SIZE, Kind.CONDUCTOR_SIZE, Kind.INSULATION}

_READERS: Mapping[Kind, Callable[[Input, str], object]] = {
    Kind.LENGTH: lambda given, text: read_number(text, given.unit).value,
    Kind.ANGLE: lambda given, text: read_number(text, given.unit).value,
    Kind.NUMBER: lambda given, text: read_number(text, given.unit).value,
    Kind.COUNT: lambda given, text: int(read_count(text, given.unit).value),
    Kind.CHOICE: _read_choice,
    Kind.TRADE_SIZE: _read_trade_size,
    Kind.SHOE: lambda _, text: read_shoe(text),
    Kind.LENGTHS: _read_list,
    Kind.ANGLES: _read_list,
    Kind.RUN: lambda _, text: read_run(text),
    Kind.STRETCHES: lambda _, text: read_stretches(text),
    Kind.WAYS: lambda _, text: read_ways(text),
    Kind.YES_NO: _read_yes_no,
    Kind.CONDUCTORS: lambda _, text: read_conductors(text),
    Kind.CONDUCTOR_SIZE: lambda _, text: read_size(text),
    Kind.INSULATION: lambda _, text: read_insulation(text),
    Kind.SIZES: lambda _, text: read_sizes(text),
    Kind.BOX: lambda _, text: read_box(text),
    Kind.ENTRIES: lambda _, text: read_entries(text),
    Kind.SECTIONS: lambda _, text: read_sections(text),
    Kind.TEMPERATURE: lambda _, text: read_temperature(text),
    Kind.TEMPERATURE_CHANGE: lambda _, text: read_temperature_change(text),
    Kind.RATING: lambda _, text: read_rating(text),
    Kind.CONTINUOUS: _read_continuous,
    Kind.PRESENT: _read_present,
}
