# ruff: noqa: RET504, SIM108 - in a traced function the assignment is the step
from __future__ import annotations

import pytest

from trainer.calc.catalogue import CATALOGUE
from trainer.calc.message import InputError, Message
from trainer.calc.offset import offset
from trainer.calc.step import Step, write_number
from trainer.calc.trace import note, retrace, steps, steps_towards, trace
from trainer.calc.trig import round_up, sin


@steps(length="in", rest="in", count="pieces")
def pieces_of(stick: float, piece: float, kerf: float = 0.125) -> int:
    length = piece + kerf
    note("kerf", "test.kerf", kerf=kerf)
    if length > stick:
        rest = stick
    else:
        rest = stick - length
    count = round_up(rest / length)
    doubled = 2 * count  # Not declared, so no step.
    return doubled


@steps(total="in")
def with_sum(lengths: tuple[float, ...], more: float) -> float:
    total = more - sum(lengths) + 2 * sum(lengths)
    return total


@steps(angled="in")
def outer(depth: float) -> float:
    inner = _inner(depth)
    angled = inner / sin(30)
    return angled


@steps(inner="in")
def _inner(depth: float) -> float:
    if depth < 0:
        raise InputError(Message("test.negative"), given=str(depth), accepted=Message("test.any"), example="1")
    inner = depth - -1
    return inner


@steps(nothing="in", five="in", left_out="in")
def without_arithmetic(depth: float) -> float:
    nothing = None
    five = 5.0
    left_out = None if depth else depth  # noqa: F841
    return nothing or five


@steps(scaled="in")
def by_a_small_number(depth: float, divisor: float) -> float:
    scaled = depth / divisor
    return scaled


def test_each_assignment_that_is_declared_is_a_step_in_the_order_of_running():
    result, lines = trace(pieces_of, stick=120.0, piece=47.0)

    assert result == pieces_of(120, 47)
    assert lines == [
        Step("length", "piece + kerf", "47 + 0.125", 47.125, "in"),
        Step("kerf", "", "", None, "", Message("test.kerf", {"kerf": 0.125})),
        Step("rest", "stick - length", "120 - 47.125", 72.875, "in"),
        Step("count", "round_up(rest / length)", "round_up(72.875 / 47.125)", 2.0, "pieces"),
    ]


def test_only_the_branch_that_runs_is_written_down():
    _, lines = trace(pieces_of, stick=40.0, piece=47.0)

    assert [line.formula for line in lines if line.name == "rest"] == ["stick"]


def test_the_plain_function_is_left_as_it_was():
    assert pieces_of.__name__ == "pieces_of"
    assert not hasattr(pieces_of, "__wrapped__")
    assert note("anything", "any.id", value=1) is None


def test_arguments_may_be_left_out_as_in_a_plain_call():
    assert trace(pieces_of, stick=120.0, piece=47.0, kerf=0.0)[0] == pieces_of(120, 47, 0)


def test_a_sum_is_written_out_with_brackets_where_it_needs_them():
    result, (line,) = trace(with_sum, lengths=(90.0, 90.0, 30.0), more=1.0)

    assert line.formula == "more - sum(lengths) + 2 * sum(lengths)"
    assert line.filled == "1 - (90 + 90 + 30) + 2 * (90 + 90 + 30)"
    assert line.value == result == 211


def test_many_equal_terms_are_written_as_a_product():
    _, (line,) = trace(with_sum, lengths=(47.0,) * 8 + (-3.0,), more=0.0)

    assert line.filled == "0 - (8 * 47 + (-3)) + 2 * (8 * 47 + (-3))"


@steps(loss="in")
def with_a_minus(lengths: tuple[float, ...], share: float) -> float:
    loss = -sum(lengths) + -share
    return loss


def test_a_minus_before_a_sum_takes_all_of_it():
    _, (line,) = trace(with_a_minus, lengths=(1.0, 2.0), share=3.0)

    assert (line.filled, line.value) == ("-(1 + 2) + -3", -6)


def test_an_empty_sum_is_nothing():
    assert trace(with_sum, lengths=(), more=1.0)[1][0].filled == "1 - 0 + 2 * 0"


def test_another_traced_function_writes_its_own_steps_in_place():
    result, lines = trace(outer, depth=3.0)

    assert [line.name for line in lines] == ["inner", "angled"]
    assert [line.filled for line in lines] == ["3 - -1", "4 / sin(30)"]
    assert result == outer(3)


def test_a_number_below_zero_stands_in_brackets():
    _, lines = trace(pieces_of, stick=120.0, piece=47.0, kerf=-0.5)

    assert lines[0].filled == "47 + (-0.5)"


def test_refusals_come_through():
    with pytest.raises(InputError):
        trace(outer, depth=-1.0)


def test_what_a_calculation_does_not_work_out_is_no_step():
    assert trace(by_a_small_number, depth=1.0, divisor=4.0)[1][0].filled == "1 / 4"
    with pytest.raises(TypeError, match="no plain arithmetic"):
        trace(without_arithmetic, depth=1.0)


@pytest.mark.parametrize("divisor", [0.00004, 1e-7, 0.33333333333])
def test_numbers_get_as_many_decimals_as_the_line_needs(divisor):
    _, (line,) = trace(by_a_small_number, depth=1.0, divisor=divisor)

    _, _, written = line.filled.partition(" / ")
    assert write_number(1 / float(written)) == write_number(line.value) == write_number(1 / divisor)


def test_what_cannot_be_traced_says_why():
    with pytest.raises(TypeError, match="no function with a source"):
        trace(max, a=1)
    with pytest.raises(TypeError, match="no plain function"):
        trace(not_plain, depth=1.0)
    with pytest.raises(TypeError, match="mark it with @steps"):
        trace(test_refusals_come_through)


@steps(total="in")
def added_in_place(depth: float) -> float:
    total = depth + 1
    total += depth
    return total


@steps(never="in", depth_again="in")
def misspelt(depth: float) -> float:
    depth_again = depth + 0
    return depth_again


@steps(total="in")
async def not_plain(depth: float) -> float:
    total = depth + 1
    return total


@steps(total="in")
def with_a_helper(depth: float) -> float:
    total = depth + len((depth,))
    return total


@pytest.mark.parametrize(
    ("function", "why"),
    [(added_in_place, "not \\+="), (misspelt, "never assigns: never"), (with_a_helper, "no plain arithmetic")],
)
def test_a_step_that_could_not_be_printed_honestly_is_refused(function, why):
    with pytest.raises(TypeError, match=why):
        trace(function, depth=1.0)


def test_the_steps_towards_one_quantity_leave_out_the_others():
    _, lines = trace(offset, depth=6.0, angle=30.0, distance=40.0)

    assert [line.name for line in steps_towards(lines, "shrink")] == ["shrink"]
    assert [line.name for line in steps_towards(lines, "second_mark")] == [
        "spacing",
        "shrink",
        "first_mark",
        "second_mark",
    ]
    assert [line.name for line in steps_towards(lines, "spacing_handbook")] == ["multiplier", "spacing_handbook"]
    assert steps_towards(lines, "moon") == []


@steps(left="in")
def with_a_word(stick: float, piece: float) -> bool:
    left = stick - piece
    note("unrelated", "test.unrelated")
    enough = left > 0
    note("enough", "test.enough", "left")
    return enough


def test_a_sentence_keeps_the_steps_that_it_rests_on():
    _, lines = trace(with_a_word, stick=120.0, piece=47.0)

    assert [line.name for line in steps_towards(lines, "enough")] == ["left", "enough"]


WORDS = [
    ("bend_total", "within_limit", ["total", "left"]),
    ("box_fill", "fits", ["conductor_volume", "volume_required", "volume_available", "left"]),
    ("raceway_fill", "fits", ["area", "percent"]),
    ("raceway_size", "trade_size", ["area", "percent"]),
    ("ground_size", "conductor_size", ["needed"]),
    ("jam_ratio", "risk", ["ratio", "ratio_with_ovality"]),
    ("ampacity", "carries", ["corrected", "ampacity", "load", "needed"]),
    ("pulling_tension", "within_limits", ["tension", "max_tension"]),
    ("cut_plan", "sticks", ["needed", "lower_bound"]),
    ("pull_box", "width", ["distance"]),
]


@pytest.mark.parametrize(("name", "output", "arithmetic"), WORDS)
def test_the_steps_towards_a_word_hold_its_arithmetic(name, output, arithmetic):
    calculation = CATALOGUE[name]
    _, lines = calculation.trace(calculation.example_inputs)

    leading = steps_towards(lines, output)

    assert leading[-1].name == output
    assert set(arithmetic) <= {line.name for line in leading if line.value is not None}


def test_a_turned_step_is_gone_on_with():
    values = {"depth": 6.0, "angle": 30.0, "distance": 40.0}

    def no_shrink(formula, operands, value):
        return operands["distance"] if formula.target == "first_mark" else value

    turned = retrace(offset, no_shrink, **values)

    assert turned.first_mark == 40.0
    assert turned.second_mark == pytest.approx(40.0 - turned.spacing)
    assert turned.spacing == offset(**values).spacing


def test_retracing_without_a_turn_is_the_plain_run():
    for calculation in CATALOGUE.values():
        values = calculation.read(calculation.example_inputs)
        assert calculation.retrace(values, lambda _formula, _operands, value: value) == calculation.solve(values)


def test_a_turned_count_stays_a_whole_number():
    def one_more(formula, operands, value):
        del operands
        return value + 0.9 if formula.target == "count" else value

    assert retrace(pieces_of, one_more, stick=10.0, piece=2.0) == 2 * (pieces_of(10.0, 2.0) // 2 + 1)
