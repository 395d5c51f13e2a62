"""Conductors as the tables list them."""

import pytest

from trainer.calc.conductors import (
    INSULATIONS,
    SIZES,
    ConductorGroup,
    circular_mils,
    dimensions,
    is_smaller,
    rating,
    resistance,
    size_name,
    sizes_of,
)
from trainer.calc.message import Message


def test_sizes_go_from_the_smallest_to_the_largest():
    areas = [circular_mils(size) for size in SIZES[2:]]

    assert SIZES[:3] == ("18", "16", "14")
    assert areas == sorted(areas)


@pytest.mark.parametrize("insulation", [*INSULATIONS, "bare", "bare solid"])
def test_a_larger_size_is_thicker_in_every_type(insulation):
    areas = [dimensions(size, insulation).area for size in sizes_of(insulation)]

    assert areas
    assert areas == sorted(areas)


def test_a_wire_with_two_markings_has_one_size_and_the_better_rating():
    assert dimensions("12", "THHN/THWN-2") == dimensions("12", "THHN")
    assert (rating("THHN/THWN", wet=False), rating("THHN/THWN", wet=True)) == (90, 75)
    assert rating("RHW-2*", wet=True) == rating("RHW-2", wet=True) == 90


def test_every_type_has_a_rating():
    assert all(rating(name, wet=False) in {60, 75, 90} for name in INSULATIONS)


def test_what_the_tables_do_not_list_is_none():
    assert dimensions("250", "RHW") is None
    assert dimensions("6", "bare solid") is None
    with pytest.raises(KeyError):
        circular_mils("18")


def test_aluminum_resists_more():
    assert resistance("12", "aluminum") > resistance("12", "copper")


def test_sizes_compare_by_their_metal():
    assert is_smaller("1", than="1/0")
    assert is_smaller("4/0", than="250")
    assert not is_smaller("12", than="12")


@pytest.mark.parametrize(("size", "id"), [("12", "awg"), ("4/0", "awg"), ("250", "kcmil")])
def test_a_size_is_said_with_its_unit(size, id):  # noqa: A002
    assert size_name(size).id == f"conductors.{id}"


def test_a_group_says_itself_as_it_is_typed():
    assert ConductorGroup(3, "12", "THHN").message() == Message("conductors.group", {"group": "3 #12 THHN"})
    assert str(ConductorGroup(2, "14")) == "2 #14"
