"""A run with places where straps could go: its ends and places by name, and what straps at some of them leave wrong. Inches."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from msgspec import Struct
from msgspec.structs import fields

from trainer.calc.length import write_length
from trainer.calc.message import Message, Quantity
from trainer.calc.strap_check import Violation, violations_of
from trainer.calc.stretches import Stretch
from trainer.calc.tables import table

__all__ = ["SLIPS", "StrapRun", "letter"]

_RULE = table("support")["emt"]
_FORGIVEN = 1e-6

#: What a set of straps can show, besides being wrong: see `StrapRun.slips`.
SLIPS = (
    "end-left-out",
    "ends-left-out",
    "too-far-apart",
    "as-many-as-gaps",
    "on-bend",
    "bare-stretch",
    "only-at-couplings",
    "couplings-as-ends",
    "more-than-needed",
)


def letter(place: int) -> str:
    """
    The letter of a place, from 0.

    >>> letter(2)
    'C'
    """
    return chr(ord("A") + place)


class StrapRun(Struct, frozen=True):
    """
    A run from a panel to a junction box.

    Args:
        run_length: Along the tube from termination to termination [in].
        places: Where straps could go, from the panel [in], in their order; the first is A.
        straps: Straps that are there already [in].
        terminations: Boxes and conduit bodies between the two ends [in].
        bends: Where the tube is bent [in].
        couplings: Where couplings are [in]; the rule does not ask about them.
        max_spacing: The most between two straps [in].
        max_from_end: The most from a termination to its strap [in].
    """

    run_length: float
    places: tuple[float, ...]
    straps: tuple[float, ...] = ()
    terminations: tuple[float, ...] = ()
    bends: tuple[Stretch, ...] = ()
    couplings: tuple[float, ...] = ()
    max_spacing: float = _RULE["max_spacing"]
    max_from_end: float = _RULE["max_from_end"]

    @classmethod
    def of(cls, values: Mapping[str, Any]) -> StrapRun:
        """The run of the inputs of `strap_places`, as it takes them."""
        names = {field.name for field in fields(cls)}
        given = {name: value for name, value in values.items() if name in names and value is not None}
        return cls(**{**given, "places": tuple(sorted(set(given["places"])))})

    @property
    def ends(self) -> tuple[float, ...]:
        """All terminations, the two ends with them [in]."""
        return tuple(sorted({0.0, *self.terminations, self.run_length}))

    def positions(self, letters: Iterable[str]) -> tuple[float, ...]:
        """Where the places of these letters are, small or capital [in]."""
        return tuple(self.places[ord(one.upper()) - ord("A")] for one in sorted(letters))

    def faults(self, chosen: Sequence[float], *, ends: Sequence[float] | None = None) -> tuple[Violation, ...]:
        """
        What is wrong with straps at the chosen places and those that are there already.

        Args:
            chosen: From the panel [in].
            ends: Terminations instead of the run's own [in].

        Source: see `trainer.calc.strap_check`.
        """
        reach = dict.fromkeys(ends or self.ends, self.max_from_end)
        return tuple(violations_of((*chosen, *self.straps), reach, self.bends, self.max_spacing))

    def name(self, position: float) -> Message:
        """What stands there: a place by its letter, the panel, a box, or a strap that was there before."""
        for at, place in enumerate(self.places):
            if abs(place - position) < _FORGIVEN:
                return Message("strap_places.letter", {"letter": letter(at)})
        if position < _FORGIVEN:
            return Message("strap_places.panel")
        if abs(position - self.run_length) < _FORGIVEN:
            return Message("strap_places.box")
        is_box = any(abs(position - end) < _FORGIVEN for end in self.terminations)
        which = "strap_places.box-between" if is_box else "strap_places.strap-there"
        return Message(which, {"place": write_length(position, feet=True)})

    def told(self, fault: Violation) -> Message:
        """A fault with the names of this run: "From C to E it is 11 ft; at most 10 ft is allowed."."""
        params = {
            "start": self.name(fault.start),
            "end": self.name(fault.end),
            "length": write_length(fault.end - fault.start, feet=True),
            "limit": write_length(fault.limit, feet=True),
        }
        return Message(f"strap_places.{fault.kind}", params)

    def judged(self, chosen: Sequence[float], fewest: int) -> Message:
        """All that is wrong with a choice in sentences, or that it holds with more straps than `fewest`."""
        found = self.faults(chosen)
        if found:
            return _joined([self.told(fault) for fault in found])
        params = {"straps": Quantity(len(chosen), "straps"), "fewest": Quantity(fewest, "straps")}
        return Message("strap_places.holds", params)

    def slips(self, chosen: Sequence[float], fewest: int) -> tuple[str, ...]:
        """
        What a choice shows, in words of `SLIPS`; () for one that holds with the fewest straps.

        Args:
            chosen: From the panel [in].
            fewest: Straps that the run takes at the least.
        """
        found = self.faults(chosen)
        kinds = [fault.kind for fault in found]
        if not found:
            return (self._spare(chosen),) if len(chosen) > fewest else ()
        shown = []
        at_ends = sum(kind in {"first", "last"} for kind in kinds)
        if at_ends:
            shown.append("end-left-out" if at_ends == 1 else "ends-left-out")
        shown += [
            slip
            for slip, kind in (("too-far-apart", "apart"), ("on-bend", "on-bend"), ("bare-stretch", "no-strap"))
            if kind in kinds
        ]
        if len(chosen) == fewest - 1:
            shown.append("as-many-as-gaps")
        if self.couplings and set(chosen) == set(self.beside_couplings):
            shown.append("only-at-couplings")
        return tuple(shown)

    @property
    def beside_couplings(self) -> tuple[float, ...]:
        """The place nearest to each coupling [in]."""
        return tuple(min(self.places, key=lambda place: abs(place - coupling)) for coupling in self.couplings)

    def _spare(self, chosen: Sequence[float]) -> str:
        """Why a choice that holds has more straps than it takes: each coupling held like a box, or just so."""
        held = self.couplings and not self.faults(chosen, ends=sorted({*self.ends, *self.couplings}))
        return "couplings-as-ends" if held else "more-than-needed"


def _joined(lines: Sequence[Message]) -> Message:
    """Sentences one after the other, as one message."""
    joined = lines[0]
    for line in lines[1:]:
        joined = Message("strap_places.and", {"one": joined, "other": line})
    return joined
