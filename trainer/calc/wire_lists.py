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

_MEANT = str.maketrans({**dict.fromkeys("‐‑‒–—−", "-"), "×": "x", "⁄": "/", "№": "#"})

_COUNT = r"(?:\( ?([0-9]{1,4}) ?\) ?(?:[x*-] ?)?|([0-9]{1,4})(?: ?[x*@-] ?| |(?=#)))"
_SIZE = r"(?:# ?|no\.? ?)?([1-4]/0|0{1,4}|[1-9][0-9]{0,3}) ?-?(awg|kcmil|mcm)?"
_TYPE = r"([a-z][a-z0-9*/ -]*)"

_PARTED = re.compile(r"[,;\n+&]|\band\b")
_SIZE_FIRST = re.compile(rf"{_COUNT}{_SIZE}(?:[ -]*{_TYPE})?")
_TYPE_FIRST = re.compile(rf"{_COUNT}{_TYPE} (?=[#n0-9]){_SIZE}")
_ONE_NUMBER = re.compile(rf"(?:{_SIZE}|{_COUNT})(?:[ -]*{_TYPE})?")
_ONLY_SIZE = re.compile(_SIZE)

#: Older ways to write the four largest gauges.
_ZEROS = {"0" * zeros: f"{zeros}/0" for zeros in range(1, 5)}

#: Words that say nothing about size or fill.
_IDLE = {"wire", "wires", "conductor", "conductors", "copper", "cu", "stranded", "no"}

#: Types by the markings on the wire, in any order.
_TYPES = {
    **{frozenset(name.split("/")): name for name in INSULATIONS},
    frozenset({"BARE"}): BARE,
    frozenset({"BARE", "SOLID"}): BARE_SOLID,
}

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
    refusal = Refusal(text, Message("input.one-of", {"choices": ", ".join(INSULATIONS)}), "THHN")
    name = _insulation(_plain(text, refusal), refusal)
    if name in {BARE, BARE_SOLID, ""}:
        raise refusal.because("conductors.bare")
    return name


def _refusal(text: str, what: tuple[str, str]) -> Refusal:
    accepted, example = what
    return Refusal(text, Message(accepted), example)


def _plain(text: str, refusal: Refusal) -> str:
    """Small letters, plain dashes and crosses, single spaces."""
    if len(text) > LONGEST_LIST:
        raise refusal.because("input.list-too-long", limit=LONGEST_LIST)
    return " ".join(text.translate(_MEANT).lower().split(" ")).strip()


def _read_list(text: str, refusal: Refusal) -> tuple[ConductorGroup, ...]:
    items = _PARTED.split(_plain(text, refusal))
    groups = tuple(_group(" ".join(item.split()), refusal) for item in items)
    if sum(group.count for group in groups) > MOST_CONDUCTORS:
        raise refusal.because("input.too-many-items", limit=MOST_CONDUCTORS)
    return groups


def _group(item: str, refusal: Refusal) -> ConductorGroup:
    """One item: how many, size, type."""
    if match := _SIZE_FIRST.fullmatch(item):
        in_brackets, plain, size, unit, insulation = match.groups()
    elif match := _TYPE_FIRST.fullmatch(item):
        in_brackets, plain, insulation, size, unit = match.groups()
    else:
        raise _misread(item, refusal)
    count = int(in_brackets or plain)
    if count == 0:
        raise refusal.because("input.no-times", item=item)
    return ConductorGroup(count, _size(size, unit, refusal), _insulation(insulation or "", refusal))


def _misread(item: str, refusal: Refusal) -> InputError:
    """Say what is missing, where it can be told."""
    if _ONE_NUMBER.fullmatch(item):
        return refusal.because("conductors.one-number", item=item)
    return refusal.because("conductors.not-understood" if item else "conductors.empty-item", item=item)


def _size(written: str, unit: str | None, refusal: Refusal) -> str:
    size = _ZEROS.get(written, written)
    if size not in SIZES:
        raise refusal.because("conductors.no-such-size", size=written)
    if unit and (unit == "awg") != ("/" in size or int(size) < 250):
        raise refusal.because("conductors.other-unit", size=written, unit=unit)
    return size


def _insulation(written: str, refusal: Refusal) -> str:
    """The type's name from the markings as typed; "" for none."""
    words = [word for word in re.split(r"[/ ]+", written) if word and word not in _IDLE]
    if not words:
        return ""
    marks = [re.sub(r"(?<=[A-Z])-?2$", "-2", word.strip("-").upper()) for word in words]
    name = _TYPES.get(frozenset(marks)) if len(set(marks)) == len(marks) else None
    if name is None:
        near = get_close_matches("/".join(marks), INSULATIONS, n=1)
        raise refusal.because("conductors.near-type" if near else "conductors.no-such-type", type=written, near=near)
    return name
