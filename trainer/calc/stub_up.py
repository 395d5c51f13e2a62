"""The stub-up: one 90 degree bend with its short leg at a wanted height. Inches."""

from __future__ import annotations

from msgspec import Struct

from trainer.calc.calculation import Calculation, Output
from trainer.calc.inputs import Input, Kind
from trainer.calc.marks import End, Mark, Reference
from trainer.calc.message import Message, Quantity
from trainer.calc.shoes import DEFAULT_SHOES, HOOK_NEEDS
from trainer.calc.trace import note, steps

__all__ = ["STUB_UP", "StubUp", "stub_up"]

STUB_HEIGHT = Input("stub_height", Kind.LENGTH, "12 in", "in", above=0)
TRADE_SIZE = Input("trade_size", Kind.TRADE_SIZE, "1/2", optional=True, choices=tuple(DEFAULT_SHOES))
TAKE_UP = Input("take_up", Kind.LENGTH, "5 in", "in", optional=True, above=0)


class StubUp(Struct, frozen=True):
    """
    A stub-up.

    Args:
        mark: From the end of the stub [in].
        take_up: What was taken off the stub height [in].
        marks: The mark as a full instruction.
    """

    mark: float
    take_up: float
    marks: tuple[Mark, ...]


@steps(mark="in")
def stub_up(stub_height: float, trade_size: str | None = None, take_up: float | None = None) -> StubUp:
    """
    Where the take-up mark of the bender goes for a stub of this height.

    Args:
        stub_height: From the end of the stub to the back of the bend [in], above 0.
        trade_size: Size of the tubing, for the usual take-up of a hand bender.
        take_up: The take-up read from the tool in hand [in]; goes before the usual one.

    Raises:
        InputError: When neither size nor take-up is given, or the stub is too short to leave room for the hook.

    Source: trade practice; take-ups in tables/bends.toml.

    >>> stub_up(10, "1/2").mark
    5.0
    """
    STUB_HEIGHT.check(stub_height)
    TRADE_SIZE.check(trade_size)
    TAKE_UP.check(take_up)
    take_up = _take_up(trade_size) if take_up is None else take_up
    note("take_up", "stub_up.take-up", take_up=Quantity(take_up, "in"), size=_said(trade_size))
    mark = stub_height - take_up
    _check_room(mark, stub_height, take_up)
    end = End.MEASURED
    return StubUp(mark, take_up, (Mark(mark, end, Reference.TAKE_UP, end, 90.0, 0.0, False, 1),))


def _take_up(trade_size: str | None) -> float:
    if trade_size is None:
        raise TRADE_SIZE.refuse(Message("stub_up.size-or-take-up"), "")
    return DEFAULT_SHOES[trade_size].take_up


def _said(trade_size: str | None) -> Message:
    """Which bender the take-up belongs to."""
    if trade_size is None:
        return Message("stub_up.own-tool")
    return Message("stub_up.size", {"size": trade_size})


def _check_room(mark: float, stub_height: float, take_up: float) -> None:
    if mark < HOOK_NEEDS:
        params = {"mark": Quantity(mark, "in"), "hook": Quantity(HOOK_NEEDS, "in")}
        least = Message("stub_up.least", {"least": Quantity(take_up + HOOK_NEEDS, "in")})
        raise STUB_HEIGHT.refuse(Message("stub_up.too-short", params), STUB_HEIGHT.written(stub_height), least)


STUB_UP = Calculation(
    name="stub_up",
    function=stub_up,
    inputs=(STUB_HEIGHT, TRADE_SIZE, TAKE_UP),
    outputs=(Output("mark", "in"), Output("take_up", "in"), Output("marks")),
    sources=("take-up: published textbook, bender instruction sheet and a US Navy training manual agree",),
    area="bending",
    example_inputs={"stub_height": "12 in", "trade_size": "1/2"},
)
