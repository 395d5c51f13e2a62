from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.calc.layout_path import fit_path
from trainer.calc.layout_space import Vector
from trainer.calc.material_list import MATERIAL_LIST, material_list
from trainer.calc.runs import Legs, read_run
from trainer.calc.shoes import DEFAULT_SHOES


def test_a_straight_run_is_whole_sticks_and_a_rest():
    result = material_list(read_run("25 ft"))

    assert (result.developed_length, result.sticks, result.couplings, result.connectors, result.straps) == (
        *(300, 3, 2, 2),
        3,
    )
    assert [stick.pieces for stick in result.cuts] == [(60,)]


def test_whole_sticks_are_not_cut():
    result = material_list(read_run("20 ft"), kerf=0.125)

    assert (result.sticks, result.couplings, result.cuts, result.waste) == (2, 1, (), 0)


def test_the_rests_of_several_stretches_come_out_of_one_stick():
    result = material_list(read_run("13 ft, 14 ft, 12 ft"))

    assert result.sticks == 3 + 1
    assert [stick.pieces for stick in result.cuts] == [(48, 36, 24)]


def test_offcuts_are_used_for_the_rests():
    result = material_list(read_run("14 ft"), offcuts=(50,))

    assert (result.sticks, result.waste) == (1, 2)


def test_a_rest_too_short_to_be_held_makes_two_shorter_pieces():
    result = material_list(read_run("20 ft 2 in"))

    assert [piece for stick in result.cuts for piece in stick.pieces] == [61, 61]
    assert (result.sticks, result.couplings) == (3, 2)


def test_a_short_stretch_alone_stays_as_short_as_it_is():
    assert [stick.pieces for stick in material_list(read_run("4 in")).cuts] == [(4,)]


def test_each_stretch_has_a_connector_at_both_ends_and_its_own_straps():
    result = material_list(read_run("3x 10 ft"))

    assert (result.connectors, result.couplings, result.straps) == (6, 0, 6)


def test_a_house_rule_on_straps_is_followed():
    assert material_list(read_run("10 ft"), max_spacing=60, max_from_end=24).straps == 3


@pytest.mark.parametrize("size", list(DEFAULT_SHOES))
@given(st.lists(st.floats(24, 120), min_size=1, max_size=5))
def test_the_tube_of_a_bent_stretch_is_what_the_laid_out_path_takes(size, lengths):
    """The corners of the centreline lie half a diameter before the backs; every second leg rises."""
    shoe = DEFAULT_SHOES[size]
    half, last = shoe.outside_diameter / 2, len(lengths) - 1
    points = [Vector(0, 0, 0)]
    for number, leg in enumerate(lengths):
        middle = leg - half * ((number > 0) + (number < last))
        points.append(points[-1] + (Vector(0, 0, middle) if number % 2 else Vector(middle, 0, 0)))

    tube = material_list((Legs(tuple(lengths)),), shoe).developed_length
    assert tube == pytest.approx(fit_path(points, shoe).program.length)


@pytest.mark.parametrize(
    ("values", "field"),
    [
        ({"run": ()}, "run"),
        ({"run": read_run("4 + 40")}, "run"),
        ({"run": read_run("10 + 9 + 10")}, "run"),
        ({"run": read_run("20 + 20 + 20 + 20 + 20 + 20")}, "run"),
        ({"stock_length": 0}, "stock_length"),
        ({"kerf": 1}, "kerf"),
        ({"offcuts": (0,)}, "offcuts"),
        ({"max_spacing": 1}, "max_spacing"),
        ({"max_from_end": 1}, "max_from_end"),
    ],
)
def test_what_is_impossible_is_refused(values, field, refused):
    assert refused(material_list, **{"run": read_run("25 ft"), **values}).field == field


def test_straps_are_told_stretch_by_stretch():
    _, steps = MATERIAL_LIST.trace({"run": (Legs((33 * 12.0,)), Legs((60.0,)))})
    told = [step.note.id for step in steps if step.name == "straps_in_stretches" and step.note]

    assert told == ["material_list.straps", "material_list.one-strap"]
