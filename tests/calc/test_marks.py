from __future__ import annotations

import pytest

from trainer.calc.marks import End, Mark, Reference


@pytest.mark.parametrize(
    ("roll", "end_for_end", "turn"),
    [(0.0, False, "mark.turn.none"), (180.0, False, "mark.turn.roll"), (180.0, True, "mark.turn.end-for-end")],
)
def test_an_instruction_says_how_the_tube_is_turned_before_the_bend(roll, end_for_end, turn):
    mark = Mark(40.5, End.MEASURED, Reference.TAKE_UP, End.FAR, 30.0, roll, end_for_end, 2)

    params = mark.message().params

    assert params["turn"].id == turn
    assert params["hook_toward"].id == "mark.far-end"
    assert (params["position"].value, params["order"]) == (40.5, 2)
