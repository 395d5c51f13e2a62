"""Things that an inspector looks over one by one: which of them breaks a rule, by the rule's words or by its number."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

from msgspec import Struct

from trainer.calc.calculation import Calculation, Output
from trainer.calc.inputs import Input, Kind
from trainer.calc.message import Message, Quantity
from trainer.calc.tables import table
from trainer.calc.trace import note, steps

__all__ = ["LOOK_OVER", "THINGS", "LookOver", "Thing", "look_over", "said", "why"]

_WET, _BOXES, _REACH = table("wet"), table("boxes"), table("support")["emt"]["max_from_end"]
_FORGIVEN = 1e-9
#: The box that is counted, and the size of what is in it.
_BOX_SIZE, _IN_BOX = ["4", "1-1/2"], "12"
_VOLUME: float = next(
    row["volume"] for row in _BOXES["boxes"]["rows"] if (row["shape"], row["size"]) == ("square", _BOX_SIZE)
)


class Thing(Struct, frozen=True):
    """
    Something that can be seen.

    Args:
        scene: What it belongs to: "ends", "joints", "wet" or "box".
        breaks: Whether it breaks a rule; of what is measured the rule's number decides.
        measured: What is measured, a key of `_LIMITS`; "" for nothing.
        value: How much it is, in inches or a count.
    """

    scene: str
    breaks: bool = False
    measured: str = ""
    value: float = 0.0

    @property
    def is_fault(self) -> bool:
        """Whether it breaks a rule."""
        return _LIMITS[self.measured](self.value) if self.measured else self.breaks


#: Whether a measured value breaks its rule.
_LIMITS: Mapping[str, Callable[[float], bool]] = MappingProxyType(
    {
        "air": lambda inches: inches < _WET["air_space"]["least"] - _FORGIVEN,
        "drain": lambda inches: not _WET["drain"]["least"] - _FORGIVEN <= inches <= _WET["drain"]["most"] + _FORGIVEN,
        "depth": lambda inches: inches < _BOXES["depth"]["sizes"][_IN_BOX] - _FORGIVEN,
        "count": lambda count: count * _BOXES["allowance"]["sizes"][_IN_BOX] > _VOLUME + _FORGIVEN,
        "strap": lambda inches: inches > _REACH + _FORGIVEN,
    }
)


def _ends() -> dict[str, Thing]:
    good = ("wheel-reamed", "saw-filed", "saw-reamed", "hidden-reamed", "thread-works", "scratched")
    bad = ("wheel-ridge", "wheel-half", "saw-burrs", "saw-outside", "saw-taped", "saw-folded", "hidden-ridge", "thread-field")  # fmt: skip
    return {**{name: Thing("ends") for name in good}, **{name: Thing("ends", breaks=True) for name in bad}}


def _joints() -> dict[str, Thing]:
    good = ("screw-both", "nuts-tight", "change-fitting", "rain-listed", "locknut-tight")
    bad = ("screw-loose", "screw-missing", "nuts-hand", "ring-missing", "rigid-thread", "rain-plain", "rain-screw", "locknut-loose", "locknut-none")  # fmt: skip
    return {**{name: Thing("joints") for name in good}, **{name: Thing("joints", breaks=True) for name in bad}}


def _wet() -> dict[str, Thing]:
    air = {"air-eighth": 1 / 8, "air-quarter": 1 / 4, "air-half": 1 / 2}
    drain = {"drain-sixteenth": 1 / 16, "drain-fit": 3 / 16, "drain-wide": 3 / 8}
    words = {
        "entry-listed": False, "entry-plain": True, "entry-screw": True, "wall-ring": False, "wall-bare": True,
        "tube-off": False, "tube-tight": True, "screws-coated": False, "screws-plain": True,
    }  # fmt: skip
    return {
        **{name: Thing("wet", measured="air", value=value) for name, value in air.items()},
        **{name: Thing("wet", measured="drain", value=value) for name, value in drain.items()},
        **{name: Thing("wet", breaks=breaks) for name, breaks in words.items()},
    }


def _box() -> dict[str, Thing]:
    measured: dict[str, dict[str, float]] = {
        "depth": {"depth-shallow": 1.0, "depth-enough": 1.25, "depth-deep": 1.5},
        "count": {"count-eight": 8, "count-nine": 9, "count-ten": 10},
        "strap": {"strap-near": 30.0, "strap-limit": 36.0, "strap-far": 42.0},
    }
    words = {
        "box-screwed": False, "box-carried": True, "nut-tight": False, "nut-loose": True, "edge-small": False,
        "edge-bushing": False, "edge-bare": True,
    }  # fmt: skip
    found = {
        name: Thing("box", measured=kind, value=value)
        for kind, values in measured.items()
        for name, value in values.items()
    }
    return {**found, **{name: Thing("box", breaks=breaks) for name, breaks in words.items()}}


#: Everything that can be seen, by its name.
THINGS: Mapping[str, Thing] = MappingProxyType({**_ends(), **_joints(), **_wet(), **_box()})


def said(name: str, form: str = "") -> Message:
    """What a thing is, as a sentence; with "short" in a few words, with "why" whether it is as it should be."""
    thing = THINGS[name]
    value = Quantity(thing.value, "count" if thing.measured == "count" else "in")
    limits = {
        "air": Quantity(_WET["air_space"]["least"], "in"),
        "least": Quantity(_WET["drain"]["least"], "in"),
        "most": Quantity(_WET["drain"]["most"], "in"),
        "depth": Quantity(_BOXES["depth"]["sizes"][_IN_BOX], "in"),
        "room": Quantity(_VOLUME, "cu in"),
        "taken": Quantity(thing.value * _BOXES["allowance"]["sizes"][_IN_BOX], "cu in"),
        "reach": Quantity(_REACH / 12, "ft"),
    }
    return Message(f"look.{name}.{form}" if form else f"look.{name}", {"value": value, **limits})


def why(name: str) -> Message:
    """Whether a thing is as it should be, and by what."""
    return said(name, "why")


_INPUTS = tuple(
    Input(name, Kind.CHOICE, example, optional=nth > 1, choices=tuple(THINGS))
    for nth, (name, example) in enumerate(
        zip(
            ("first", "second", "third", "fourth", "fifth", "sixth"),
            ("wheel-ridge", "saw-filed", "thread-field", "saw-reamed", "scratched", "saw-taped"),
            strict=True,
        )
    )
)


class LookOver(Struct, frozen=True):
    """
    What is found.

    Args:
        fault_count: How many things break a rule.
        first_breaks: Whether the first does; likewise the others, False for what is not there.
        second_breaks: The second.
        third_breaks: The third.
        fourth_breaks: The fourth.
        fifth_breaks: The fifth.
        sixth_breaks: The sixth.
    """

    fault_count: int
    first_breaks: bool
    second_breaks: bool
    third_breaks: bool
    fourth_breaks: bool
    fifth_breaks: bool
    sixth_breaks: bool


@steps()
def look_over(
    first: str,
    second: str,
    third: str | None = None,
    fourth: str | None = None,
    fifth: str | None = None,
    *,
    sixth: str | None = None,
) -> LookOver:
    """
    Look at several things of one scene and say of each whether it breaks a rule.

    Args:
        first: What is seen first.
        second: What is seen next, of the same scene.
        third: The third thing.
        fourth: The fourth.
        fifth: The fifth.
        sixth: The sixth.

    Raises:
        InputError: When a word is no choice, or belongs to another scene.

    Source: NFPA 70-2023 358.28(A) and (B), 358.42, 300.6(D), 312.2, 314.15, 314.16, 314.24, 314.23(E), 300.4(G), 358.30(A).

    >>> look_over("wheel-ridge", "saw-filed", "thread-field").fault_count
    2
    """
    seen = (first, second, third, fourth, fifth, sixth)
    for one, name in zip(_INPUTS, seen, strict=True):
        one.check(name)
        if name is not None and THINGS[name].scene != THINGS[first].scene:
            raise one.refuse(Message("look.other-scene"), name)
    for name in seen:
        if name is not None:
            note("fault_count", "look.found", thing=said(name), why=why(name))
    breaks = tuple(name is not None and THINGS[name].is_fault for name in seen)
    return LookOver(sum(breaks), *breaks)


LOOK_OVER = Calculation(
    name="look_over",
    function=look_over,
    inputs=_INPUTS,
    outputs=(
        Output("fault_count", "count"),
        *(Output(f"{one.name}_breaks") for one in _INPUTS),
    ),
    sources=(
        "cut ends: NFPA 70-2023 358.28(A), (B)",
        "joints: NFPA 70-2023 358.42, 358.28(B); listing and instructions: 110.3(B)",
        "wet places: NFPA 70-2023 300.6, 300.6(D), 312.2, 314.15, 358.42",
        "boxes: NFPA 70-2023 314.16, 314.24, 314.23(E), 358.12, 300.4(G), 300.11, 358.30(A)",
    ),
    area="support",
    example_inputs={"first": "wheel-ridge", "second": "saw-filed", "third": "thread-field"},
)
