from __future__ import annotations

import ast
import inspect
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.calc.layout import BendProgram, Move, lay_out
from trainer.calc.layout_space import START, Frame, Vector
from trainer.calc.message import InputError
from trainer.text.words import error_text

MOVES = st.builds(Move, st.floats(0, 40), st.floats(-180, 180), st.floats(0.5, 120), st.floats(0, 12))
PROGRAMS = st.builds(lambda moves, tail: BendProgram(tuple(moves), tail), st.lists(MOVES, max_size=6), st.floats(0, 40))
#: What a layout module may know: the tool, the marks and how to say something; no calculation and not its trigonometry.
KNOWN = {"length", "marks", "message", "shoes", "tables", "ways"}


def near(one, other, within=1e-9):
    return (one - other).length < within


def test_a_straight_tube_is_one_leg():
    tube = lay_out(BendProgram((), 40))

    assert [leg.length for leg in tube.legs] == [40]
    assert tube.bends == ()
    assert tube.end == Vector(40, 0, 0)


def test_two_bends_the_same_way_make_a_u():
    tube = lay_out(BendProgram((Move(10, 0, 90, 4), Move(12, 0, 90, 4)), 10))

    assert near(tube.end, Vector(0, 0, 20))


def test_two_bends_rolled_over_between_make_an_offset():
    tube = lay_out(BendProgram((Move(10, 0, 30, 4), Move(12, 180, 30, 4)), 10))

    assert near(tube.legs[2].along, Vector(1, 0, 0))


def test_a_bend_after_a_clockwise_roll_of_90_goes_left():
    tube = lay_out(BendProgram((Move(10, 0, 90, 4), Move(10, 90, 90, 4)), 10))

    assert near(tube.legs[2].along, Vector(0, 1, 0))


def test_a_tube_can_start_anywhere():
    start = Frame(Vector(1, 2, 3), Vector(0, 0, -1), Vector(1, 0, 0))
    tube = lay_out(BendProgram((Move(6, 0, 90, 4),), 10), start)

    assert near(tube.end, Vector(1 + 14, 2, 3 - 10))


@given(PROGRAMS)
def test_a_tube_is_as_long_as_its_program(program):
    tube = lay_out(program)

    assert tube.length == pytest.approx(program.length)
    assert sum(piece.length for piece in tube.pieces) == pytest.approx(program.length)


@given(PROGRAMS)
def test_each_piece_begins_where_the_one_before_ends_and_goes_on_straight(program):
    tube = lay_out(program)

    for leg, bend, behind in zip(tube.legs, tube.bends, tube.legs[1:], strict=False):
        assert near(leg.end, bend.start)
        assert near(bend.end, behind.start)
        assert near(leg.along, bend.along)
        assert leg.along.angle_to(behind.along) == pytest.approx(bend.angle, abs=1e-6)


@given(PROGRAMS)
def test_every_point_of_an_arc_is_a_radius_from_its_centre(program):
    for bend in lay_out(program).bends:
        for part in (0, 0.3, 0.7, 1):
            assert (bend.at(bend.length * part) - bend.centre).length == pytest.approx(bend.radius, abs=1e-9)


@given(PROGRAMS)
def test_seen_from_its_other_end_a_tube_lies_in_the_same_place(program):
    tube = lay_out(program)
    back = tube.from_other_end()

    for part in (0, 0.2, 0.5, 0.8, 1):
        assert near(back.at(tube.length * (1 - part)), tube.at(tube.length * part), 1e-7)
    for here, there in zip(tube.bends, reversed(back.bends), strict=True):
        assert near(here.centre, there.centre, 1e-7)


def test_beyond_its_ends_the_tube_is_thought_on_straight():
    tube = lay_out(BendProgram((Move(10, 0, 90, 4),), 10))

    assert near(tube.at(-2), Vector(-2, 0, 0))
    assert near(tube.at(tube.length + 1), Vector(14, 0, 15))


def test_points_for_a_drawing_lie_on_the_tube_no_further_apart_on_arcs_than_asked():
    tube = lay_out(BendProgram((Move(10, 0, 90, 4),), 10))
    points = list(tube.points(0.5))
    on_arc = [point for point in points if 10 <= point.x < 14 and point.z < 4]

    assert points[0] == tube.start
    assert near(points[-1], tube.end)
    assert len(on_arc) == 13
    assert all(abs((point - tube.bends[0].centre).length - 4) < 1e-9 for point in on_arc)


def test_total_angle_and_length_of_a_program():
    program = BendProgram((Move(10, 0, 90, 4), Move(2, 90, 45, 4)), 10)

    assert program.total_angle == 135
    assert program.length == pytest.approx(10 + 2 + 10 + 4 * 1.5 * 1.5707963267948966)


def test_arcs_that_touch_are_bent_whatever_the_last_bit_says():
    shots = tuple(Move(-1e-13 if turn else 5, 0, 6, 20) for turn in range(15))
    tube = lay_out(BendProgram(shots, -1e-13))

    assert tube.legs[3].length == 0
    assert near(tube.legs[-1].along, Vector(0, 0, 1))


@pytest.mark.parametrize(
    ("program", "reason"),
    [
        (BendProgram((Move(-0.1, 0, 90, 4),), 5), "layout.before-end"),
        (BendProgram((Move(5, 0, 90, 4), Move(-0.1, 0, 90, 4)), 5), "layout.arcs-overlap"),
        (BendProgram((Move(5, 0, 90, 4),), -0.1), "layout.past-end"),
        (BendProgram((Move(5, 0, 0, 4),), 5), "layout.angle"),
        (BendProgram((Move(5, 0, 180, 4),), 5), "layout.angle"),
        (BendProgram((Move(5, 0, float("nan"), 4),), 5), "layout.angle"),
    ],
)
def test_what_no_bender_makes_is_refused_with_a_sentence(program, reason):
    with pytest.raises(InputError) as refusal:
        lay_out(program)

    assert refusal.value.reason.id == reason
    assert error_text(refusal.value).endswith(refusal.value.example)


def test_layout_shares_no_formula_with_the_calculations():
    """The proof would prove nothing if both methods came from one source."""
    folder = Path(inspect.getfile(lay_out)).parent
    imported = {
        (path.stem, node.module.removeprefix("trainer.calc."))
        for path in folder.glob("layout*.py")
        if path.stem != "layout_proof"  # It calls the calculations, to hold them to what they say.
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, ast.ImportFrom) and node.module and node.module.startswith("trainer")
    }

    assert len(imported) > 20
    assert [pair for pair in imported if not pair[1].startswith("layout") and pair[1] not in KNOWN] == []


def test_the_frame_at_the_start_is_the_tube_on_the_x_axis():
    assert START.at == Vector(0, 0, 0)
    assert START.along == Vector(1, 0, 0)
