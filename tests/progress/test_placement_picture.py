"""What the first picture says, and where it sends people."""

from __future__ import annotations

import pytest

from trainer.progress.placement_picture import Told, UnitPicture, picture_of, read_picture, weakest, write_picture

UNITS = ("measuring", "bends", "fill")


def told(unit, *answers):
    """ "+" right, "-" not right, "0" left."""
    return [Told(unit, one == "+", one == "0") for one in answers]


def test_it_counts_unit_by_unit_in_the_order_of_the_trade():
    picture = picture_of(UNITS, [*told("fill", "-", "0"), *told("bends", "+", "+", "-")])

    assert picture.units == (
        UnitPicture("measuring", 0, 0, 0),
        UnitPicture("bends", 3, 2, 0),
        UnitPicture("fill", 2, 0, 1),
    )
    assert (picture.right, picture.asked, picture.start) == (2, 5, "fill")


@pytest.mark.parametrize(
    ("asked", "right", "said"),
    [(0, 0, "not-asked"), (2, 2, "early"), (3, 3, "all"), (3, 2, "most"), (4, 2, "few"), (3, 0, "few")],
)
def test_it_says_no_more_than_can_be_said(asked, right, said):
    assert UnitPicture("bends", asked, right, 0).words.id == f"placement.unit.{said}"


def test_where_nothing_was_wrong_there_is_no_unit_to_start_with():
    assert picture_of(UNITS, told("bends", "+", "+")).start == ""


def test_where_nothing_was_asked_one_starts_at_the_beginning():
    assert picture_of(UNITS, []).start == "measuring"


def test_of_two_that_are_equally_weak_the_trade_decides():
    assert picture_of(UNITS, [*told("fill", "-"), *told("bends", "-")]).start == "bends"


def test_a_shelf_without_units_has_no_start():
    assert weakest(()) == ""


def test_it_is_read_as_it_was_kept():
    picture = picture_of(UNITS, told("fill", "-", "+"))

    assert read_picture(write_picture(picture)) == picture
