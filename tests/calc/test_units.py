from __future__ import annotations

from fractions import Fraction

import pytest

from trainer.calc.units import UNITS, convert, core_unit, find_unit, unit


def test_the_inch_is_exactly_25_4_millimetres():
    assert unit("mm").factor * Fraction("25.4") == 1
    assert unit("m").factor == 1000 * unit("mm").factor
    assert unit("cm").factor == 10 * unit("mm").factor


def test_areas_and_volumes_follow_from_lengths():
    assert convert(1, "sq in", "sq mm") == pytest.approx(645.16)
    assert convert(1, "cu in", "cu cm") == pytest.approx(16.387064)


def test_converting_there_and_back_changes_nothing():
    assert convert(convert(3.5, "ft", "mm"), "mm", "ft") == pytest.approx(3.5)


def test_quantities_are_not_converted_into_each_other():
    with pytest.raises(ValueError, match="'deg' measures angle"):
        convert(30, "in", "deg")
    with pytest.raises(ValueError, match="straps"):
        convert(3, "sticks", "straps")


def test_no_two_units_of_a_quantity_share_a_spelling():
    spellings = [(entry.quantity, spelling) for entry in UNITS.values() for spelling in entry.spellings]

    assert len(spellings) == len(set(spellings))


def test_a_spelling_of_two_quantities_is_read_by_what_is_wanted():
    """Of a weight per foot and of what presses in a bend people say the same."""
    spellings = [spelling for entry in UNITS.values() for spelling in entry.spellings]
    shared = {one for one in spellings if spellings.count(one) > 1}

    assert shared == {"lb/ft", "lbs/ft", "lb per ft", "pounds per foot"}
    assert {find_unit(one).id for one in shared} == {"lb/ft"}
    assert {find_unit(one, "sidewall-pressure").id for one in shared} == {"lbf/ft"}


def test_each_spelling_is_found_in_capitals_and_with_a_dot():
    for entry in UNITS.values():
        for spelling in entry.spellings:
            assert find_unit(f" {spelling.upper()}. ", entry.quantity) is entry
            assert find_unit(spelling, entry.quantity) is entry


def test_an_unknown_spelling_has_no_unit():
    assert find_unit("cubits") is None


def test_each_quantity_has_one_core_unit():
    for entry in UNITS.values():
        assert core_unit(entry.quantity).quantity == entry.quantity
    with pytest.raises(KeyError):
        core_unit("happiness")
