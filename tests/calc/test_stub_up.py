from __future__ import annotations

import pytest

from trainer.calc.marks import End
from trainer.calc.shoes import HOOK_NEEDS
from trainer.calc.stub_up import stub_up


@pytest.mark.parametrize(("size", "take_up"), [("1/2", 5), ("3/4", 6), ("1", 8), ("1-1/4", 11)])
def test_the_mark_is_the_stub_less_the_take_up(size, take_up):
    result = stub_up(18, size)

    assert (result.mark, result.take_up) == (18 - take_up, take_up)


def test_the_take_up_of_the_tool_in_hand_goes_first():
    assert stub_up(12, "1/2", take_up=5.25).mark == 6.75
    assert stub_up(12, take_up=5.25).mark == 6.75


def test_the_mark_is_a_full_instruction():
    (mark,) = stub_up(12, "1/2").marks

    assert (mark.position, mark.angle, mark.order, mark.roll) == (7, 90, 1, 0)
    assert mark.measured_from is mark.hook_toward is End.MEASURED


def test_a_stub_too_short_for_the_hook_is_refused_with_the_least(refused):
    error = refused(stub_up, 6.9, "1/2")

    assert (error.field, error.accepted.params["least"].value) == ("stub_height", 5 + HOOK_NEEDS)
    assert stub_up(7, "1/2").mark == HOOK_NEEDS


@pytest.mark.parametrize(
    ("values", "field"),
    [
        ({"stub_height": 12}, "trade_size"),
        ({"stub_height": 12, "trade_size": "2"}, "trade_size"),
        ({"stub_height": 12, "take_up": 0}, "take_up"),
        ({"stub_height": 0, "trade_size": "1/2"}, "stub_height"),
    ],
)
def test_what_is_missing_or_impossible_is_refused(values, field, refused):
    assert refused(stub_up, **values).field == field
