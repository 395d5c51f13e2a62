"""
Reads conductors as the trade writes them: `3 #12 THHN, 1 #10 THHN`, `(3) 12 AWG THHN`, `3x12 THHN`, `3-12 THHN`.

How many comes first, then size and insulation in either order. In a box only count and size matter: `8 #12, 2 #14`.
"""

from __future__ import annotations

import re
from difflib import get_close_matches

from trainer.calc.conductors import BARE, BARE_SOLID, INSULATIONS, SIZES, ConductorGroup
from trainer.calc.message import InputError, Message
from trainer.calc.number import Refusal

__all__ = ["MOST_CONDUCTORS", "read_conductors", "read_insulation", "read_size", "read_sizes"]

#: Conductors in one list, and characters that it may have.
MOST_CONDUCTORS = 2000
LONGEST_LIST = 400

_MEANT = str.maketrans({**dict.fromkeys("‐‑‒–—−", "-"), **dict.fromkeys("×*@", "x"), "⁄": "/", "№": "#"})

_COUNT = r"(?:\( ?([0-9]{1,4}) ?\) ?(?:[x-] ?)?|([0-9]{1,4})(?: ?[x-] ?| |(?=#)))"
_SIZE = r"(?:# ?|no\.? ?)?([1-4]/0|0{1,4}|[1-9][0-9]{0,3}) ?-?(awg|kcmil|mcm)?"
_TYPE = r"([a-z][a-z0-9+/ -]*)"

_SIZE_FIRST = re.compile(rf"{_COUNT}{_SIZE}(?:[ -]*{_TYPE})?")
_TYPE_FIRST = re.compile(rf"{_COUNT}{_TYPE} (?=[#n0-9]){_SIZE}")
_NO_COUNT = re.compile(rf"{_SIZE}(?:[ -]*{_TYPE})?")
_NO_SIZE = re.compile(rf"{_COUNT}{_TYPE}")
_ONLY_SIZE = re.compile(_SIZE)

#: Older ways to write the four largest gauges.
_ZEROS = {"0" * zeros: f"{zeros}/0" for zeros in range(1, 5)}

#: Words that say nothing about size or fill.
_IDLE = {"wire", "wires", "conductor", "conductors", "copper", "cu", "stranded"}

_BARE = {frozenset({"bare"}): BARE, frozenset({"bare", "solid"}): BARE_SOLID}

_TYPES = {frozenset(name.split("/")): name for name in INSULATIONS}

_CONDUCTORS = ("conductors.accepted.list", "3 #12 THHN, 1 #10 THHN")
_SIZES = ("conductors.accepted.sizes", "8 #12, 2 #14")
_ONE_SIZE = ("conductors.accepted.size", "12 AWG")


def read_conductors(text: str) -> tuple[ConductorGroup, ...]:
    """
    Read insulated or bare conductors with how many there are of each.

    Args:
        text: As typed, items with commas, semicolons, plus signs or lines between them, at most 400 characters.

    Raises:
        InputError: With the item that can't be read and the reason.

    >>> read_conductors("(3) 12 AWG THHN, 1-10 bare")
    (ConductorGroup(count=3, size='12', insulation='THHN'), ConductorGroup(count=1, size='10', insulation='bare'))
    """
    groups = _read_list(text, _refusal(text, _CONDUCTORS))
    for group in groups:
        if not group.insulation:
            raise _refusal(text, _CONDUCTORS).because("conductors.no-insulation", item=f"{group.count} #{group.size}")
    return groups


def read_sizes(text: str) -> tuple[ConductorGroup, ...]:
    """
    Read how many conductors there are of each size; `none` or 0 is an empty list.

    Raises:
        InputError: With the item that can't be read and the reason.

    >>> read_sizes("8 #12, 2x14 THHN")
    (ConductorGroup(count=8, size='12', insulation=''), ConductorGroup(count=2, size='14', insulation=''))
    """
    if text.strip().lower() in {"0", "none", "no"}:
        return ()
    return tuple(ConductorGroup(group.count, group.size) for group in _read_list(text, _refusal(text, _SIZES)))


def read_size(text: str) -> str:
    """
    Read one size.

    Raises:
        InputError: When there is no such size.

    >>> read_size("#12"), read_size("250 kcmil"), read_size("00 AWG")
    ('12', '250', '2/0')
    """
    refusal = _refusal(text, _ONE_SIZE)
    match = _ONLY_SIZE.fullmatch(_plain(text, refusal))
    if not match:
        raise refusal.because("conductors.no-such-size", size=text.strip())
    return _size(match[1], match[2], refusal)


def read_insulation(text: str) -> str:
    """
    Read one type of insulation; a wire with two markings is written with a slash.

    Raises:
        InputError: When the type is not known here, with the nearest one.

    >>> read_insulation("thwn2/thhn")
    'THHN/THWN-2'
    """
    refusal = Refusal(text, Message("conductors.accepted.insulation", {"types": ", ".join(INSULATIONS)}), "THHN")
    return _insulation(_plain(text, refusal).rstrip("*"), refusal, covered="*" not in text)


def _refusal(text: str, what: tuple[str, str]) -> Refusal:
    accepted, example = what
    return Refusal(text, Message(accepted), example)


def _plain(text: str, refusal: Refusal) -> str:
    """Small letters, plain dashes and crosses, single spaces."""
    if len(text) > LONGEST_LIST:
        raise refusal.because("input.list-too-long", limit=LONGEST_LIST)
    return " ".join(text.replace("*", "").translate(_MEANT).lower().split())
