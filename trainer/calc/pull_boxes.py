"""
The least size of a pull box for conductors of 4 AWG and larger. Inches.

Width lies between left and right, height between top and bottom, depth between back and cover.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

from msgspec import Struct

from trainer.calc.calculation import Calculation, Output
from trainer.calc.conductors import SIZES, is_smaller, size_name
from trainer.calc.inputs import Input, Kind
from trainer.calc.message import Message, Quantity
from trainer.calc.pull_boxes_entries import Entry, Wall
from trainer.calc.tables import table
from trainer.calc.trace import note, steps

__all__ = ["PULL_BOX", "Dimension", "PullBox", "Spacing", "pull_box"]

_TABLE = table("pull_boxes")
_RULE = _TABLE["rule"]

ENTRIES = Input("entries", Kind.ENTRIES, "3 left to 3 right, 2 left to 2 top")
CONDUCTOR_SIZE = Input("conductor_size", Kind.CONDUCTOR_SIZE, "4/0", optional=True, choices=SIZES)

_OPPOSITE = {Wall.LEFT: Wall.RIGHT, Wall.RIGHT: Wall.LEFT, Wall.TOP: Wall.BOTTOM, Wall.BOTTOM: Wall.TOP}


class Dimension(Struct, frozen=True):
    """
    One dimension of the box and why.

    Args:
        name: "width", "height" or "depth".
        required: The least [in]; None where nothing is asked for.
        why: What asks for it.
    """

    name: str
    required: float | None
    why: Message

    def message(self) -> Message:
        """The dimension with its reason as a sentence."""
        params = {"name": Message(f"pull_boxes.{self.name}"), "why": self.why}
        if self.required is None:
            return Message("pull_boxes.not-asked", params)
        return Message("pull_boxes.asked", {**params, "required": Quantity(self.required, "in")})


class Spacing(Struct, frozen=True):
    """
    How far apart two entries of the same conductors are.

    Args:
        first: One entry.
        second: The other.
        required: The least, from edge to edge [in].
    """

    first: Entry
    second: Entry
    required: float

    def message(self) -> Message:
        """As a sentence."""
        params = {"first": self.first.message(), "second": self.second.message()}
        return Message("pull_boxes.apart", {**params, "required": Quantity(self.required, "in")})


class PullBox(Struct, frozen=True):
    """
    The least size of a pull box.

    Args:
        applies: Whether the rule holds for these conductors.
        width: Left to right [in]; None where no pull asks for one.
        height: Top to bottom [in]; likewise.
        depth: Back to cover [in]; likewise.
        spacing: The most that two entries of the same conductors have to be apart [in]; None where none have to.
        why: Each dimension with its reason.
        spacings: Each pair of entries that has to be apart.
    """

    applies: bool
    width: float | None
    height: float | None
    depth: float | None
    spacing: float | None
    why: tuple[Dimension, ...]
    spacings: tuple[Spacing, ...]


class _Need(Struct, frozen=True):
    """A distance that something asks for, and what it is."""

    distance: float
    why: Message


@steps()
def pull_box(entries: tuple[Entry, ...], conductor_size: str | None = None) -> PullBox:
    """
    The least dimensions of a pull box by its entries and what goes where.

    Args:
        entries: Every raceway entry with wall, row, trade size, and the pulls that go through it.
        conductor_size: Of the largest conductor; 4 AWG or larger is meant where it is left out. With it an entry in
            the back goes by the exception for a wall opposite a removable cover.

    Raises:
        InputError: When the conductors are too large for the table that the exception goes by.

    Source: NFPA 70-2023 314.28(A); Table 312.6(A).

    >>> from trainer.calc.pull_boxes_entries import read_entries
    >>> found = pull_box(read_entries("2 left to 2 right"))
    >>> found.width, found.height
    (16.0, None)
    """
    CONDUCTOR_SIZE.check(conductor_size)
    if conductor_size is not None and is_smaller(conductor_size, than=_RULE["from_size"]):
        note("applies", "pull_boxes.too-small", size=size_name(conductor_size))
        return _does_not_apply(conductor_size)
    turning = _turning(entries)
    width = _dimension("width", entries, turning, Wall.LEFT)
    height = _dimension("height", entries, turning, Wall.TOP)
    depth = _depth(entries, conductor_size)
    for dimension in (width, height, depth):
        note(dimension.name, "pull_boxes.dimension", "distance", dimension=dimension.message())
        if (dimension.required or 0) > _RULE["racked_above"]:
            note(dimension.name, "pull_boxes.racked", most=Quantity(_RULE["racked_above"], "in"))
    spacings = _spacings(entries)
    spacing = max((each.required for each in spacings), default=None)
    if spacing is not None:
        note("spacing", "pull_boxes.most-apart", "apart", spacing=Quantity(spacing, "in"))
    why = (width, height, depth)
    return PullBox(True, width.required, height.required, depth.required, spacing, why, spacings)


def _does_not_apply(conductor_size: str) -> PullBox:
    reason = Message("pull_boxes.too-small", {"size": size_name(conductor_size)})
    why = tuple(Dimension(name, None, reason) for name in ("width", "height", "depth"))
    return PullBox(applies=False, width=None, height=None, depth=None, spacing=None, why=why, spacings=())


def _pulls(entries: Sequence[Entry]) -> list[tuple[int, int]]:
    """Places in the list of the two entries of each pull."""
    places = range(len(entries))
    return [(one, other) for one, other in combinations(places, 2) if {*entries[one].pulls} & {*entries[other].pulls}]


def _is_straight(one: Entry, other: Entry) -> bool:
    return _OPPOSITE.get(one.wall) == other.wall


def _turning(entries: Sequence[Entry]) -> set[int]:
    """Places of the entries with an angle or U pull, or a splice."""
    turning = {place for place, entry in enumerate(entries) if not entry.pulls}
    for one, other in _pulls(entries):
        if not _is_straight(entries[one], entries[other]):
            turning |= {one, other}
    return turning


@steps()
def _dimension(name: str, entries: tuple[Entry, ...], turning: set[int], wall: Wall) -> Dimension:
    """The most that a straight pull between two walls, or a row on either of them, asks for."""
    straight = _straight(entries, wall)
    near = _from_wall(entries, turning, wall)
    far = _from_wall(entries, turning, _OPPOSITE[wall])
    return _largest(name, [*straight, *near, *far])


def _largest(name: str, needs: Sequence[_Need]) -> Dimension:
    if not needs:
        return Dimension(name, None, Message("pull_boxes.no-pull"))
    need = max(needs, key=lambda each: each.distance)
    return Dimension(name, need.distance, need.why)


@steps(distance="in")
def _straight(entries: tuple[Entry, ...], wall: Wall) -> list[_Need]:
    """Eight times the largest raceway of the straight pulls between this wall and the opposite one; the others don't add."""
    through = [pair for pair in _pulls(entries) if {entries[place].wall for place in pair} == {wall, _OPPOSITE[wall]}]
    if not through:
        return []
    deciding = max((entries[place] for pair in through for place in pair), key=lambda entry: entry.inches)
    times, largest = _RULE["straight"], deciding.inches
    why = Message("pull_boxes.straight", {"times": times, "largest": deciding.trade_size})
    note("distance", "pull_boxes.why", why=why)
    distance = times * largest
    return [_Need(distance, why)]


@steps()
def _from_wall(entries: tuple[Entry, ...], turning: set[int], wall: Wall) -> list[_Need]:
    """What each row on this wall asks for, where conductors turn or end."""
    rows = {entries[place].row for place in turning if entries[place].wall == wall}
    return [_from_row(entries, wall, row) for row in sorted(rows)]


@steps(distance="in")
def _from_row(entries: tuple[Entry, ...], wall: Wall, row: int) -> _Need:
    """Six times the largest raceway of the row and all others in it."""
    in_row = [entry for entry in entries if (entry.wall, entry.row) == (wall, row)]
    deciding, *others = sorted(in_row, key=lambda entry: entry.inches, reverse=True)
    times, largest, others_in_row = _RULE["angle"], deciding.inches, tuple(entry.inches for entry in others)
    params = {"wall": Message(f"pull_boxes.wall.{wall}"), "row": row, "times": times, "largest": deciding.trade_size}
    sizes = [entry.trade_size for entry in others]
    why = Message("pull_boxes.row" if others else "pull_boxes.row-of-one", {**params, "others": sizes})
    note("distance", "pull_boxes.why", why=why)
    distance = times * largest + sum(others_in_row)
    return _Need(distance, why)


@steps()
def _depth(entries: tuple[Entry, ...], conductor_size: str | None) -> Dimension:
    """Back to cover, where raceways enter the back."""
    turning = {place for place, entry in enumerate(entries) if entry.wall == Wall.BACK}
    if not turning or conductor_size is None:
        return _largest("depth", _from_wall(entries, turning, Wall.BACK))
    for up_to, distance in _TABLE["back"]["rows"]:
        if not is_smaller(up_to, than=conductor_size):
            why = Message("pull_boxes.back", {"size": size_name(conductor_size)})
            return Dimension("depth", distance, why)
    reason = Message("pull_boxes.back-too-large", {"size": size_name(conductor_size)})
    raise CONDUCTOR_SIZE.refuse(reason, conductor_size)


@steps()
def _spacings(entries: tuple[Entry, ...]) -> tuple[Spacing, ...]:
    """Entries of the same conductors, where these turn."""
    pairs = [(entries[one], entries[other]) for one, other in _pulls(entries)]
    return tuple(_apart(one, other) for one, other in pairs if not _is_straight(one, other))


@steps(apart="in")
def _apart(one: Entry, other: Entry) -> Spacing:
    times, larger = _RULE["spacing"], max(one.inches, other.inches)
    note("spacing", "pull_boxes.same-conductors", first=one.message(), second=other.message(), times=times)
    apart = times * larger
    return Spacing(one, other, apart)


PULL_BOX = Calculation(
    name="pull_box",
    function=pull_box,
    inputs=(ENTRIES, CONDUCTOR_SIZE),
    outputs=(
        Output("applies"),
        Output("width", "in", optional=True),
        Output("height", "in", optional=True),
        Output("depth", "in", optional=True),
        Output("spacing", "in", optional=True),
        Output("why"),
        Output("spacings"),
    ),
    sources=(
        _RULE["source"],
        f"a row with straight and angle entries: {_TABLE['row_with_both']['source']}",
        f"entry in the back: {_TABLE['back']['source']}, from memory",
    ),
    area="pull_boxes",
    example_inputs={"entries": "3 left to 3 right, 2 left to 2 top, 2 left to 2 bottom", "conductor_size": "4/0"},
)
