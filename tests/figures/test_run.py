import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.figures.run import Bend, Piece, Run, pieces_between


def test_a_quarter_turn_moves_by_its_radius_both_ways():
    run = Run((0, 0), 0, [Piece(4 * math.pi / 2, 90)], 10)

    x, y = run.stations[-1].point
    assert (x, y) == (pytest.approx(40), pytest.approx(-40))
    assert run.stations[-1].heading == 90


def test_a_walk_back_up_and_down_ends_parallel_and_as_high_as_the_slope():
    bends = [Bend(10, 4.5, 30), Bend(20, 4.5, -30)]

    run = Run((0, 0), 0, pieces_between(bends, 40), 1)

    # Two equal arcs and the straight between them: rise = straight * sin + 2 * radius * (1 - cos).
    straight = 20 - 10 - bends[0].length
    rise = straight * math.sin(math.radians(30)) + 2 * 4.5 * (1 - math.cos(math.radians(30)))
    assert run.stations[-1].heading == 0
    assert run.stations[-1].point[1] == pytest.approx(-rise)


@given(st.floats(0.5, 40), st.floats(1, 89), st.floats(2, 10))
def test_pieces_keep_the_length_of_the_tube(start, angle, radius):
    bend = Bend(start, radius, angle)

    pieces = pieces_between([bend], start + bend.length + 5)

    assert sum(piece.length for piece in pieces) == pytest.approx(start + bend.length + 5)
    assert pieces[1].radius == pytest.approx(radius)


def test_a_station_along_an_arc_lies_on_it():
    run = Run((0, 0), 0, [Piece(10), Piece(4 * math.pi / 2, 90)], 1)

    station = run.at(10 + 4 * math.pi / 4)

    assert math.dist(station.point, (10, -4)) == pytest.approx(4)
    assert station.heading == pytest.approx(45)
    assert run.at(0).point == (0, 0)
    assert run.at(999) == run.stations[-1]


def test_the_outline_keeps_the_tubes_thickness():
    run = Run((0, 0), 0, [Piece(10), Piece(4 * math.pi / 2, 90), Piece(10)], 1)

    outline = run.outline(2)

    # Outer arc with radius 5, inner with radius 3; straight on the left, up on the right.
    assert outline.startswith("M 0 -1 L 10 -1 A 3 3 0 0 0 13 -4 L 13 -14")
    assert outline.endswith("L 15 -14 L 15 -4 A 5 5 0 0 1 10 1 L 0 1 Z")


def test_pieces_without_length_are_left_out():
    assert len(Run((0, 0), 0, [Piece(0), Piece(5)], 1).pieces) == 1


def test_beside_is_to_the_right_of_the_walk():
    up = Run((0, 0), 90, [Piece(5)], 1).stations[0]

    assert up.beside(2) == (pytest.approx(2), pytest.approx(0))
