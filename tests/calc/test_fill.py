"""Fill of a raceway: shares by count, the count of Note 7, what is refused."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.calc.conductors import TABLE_SIZES, ConductorGroup, sizes_of
from trainer.calc.fill import RACEWAY_FILL, allowed_percent_for, raceway_fill
from trainer.calc.fill_size import raceway_size
from trainer.calc.message import InputError
from trainer.calc.raceways import KINDS, TRADE_SIZES
from trainer.calc.wire_lists import read_conductors

THHN = st.builds(ConductorGroup, st.integers(1, 12), st.sampled_from(TABLE_SIZES), st.just("THHN"))
BARE = st.builds(ConductorGroup, st.just(1), st.sampled_from(TABLE_SIZES), st.just("bare"))
LISTS = st.lists(THHN | BARE, min_size=1, max_size=5).map(tuple)


def fill(text, trade_size="3/4", **more):
    return raceway_fill("emt", trade_size, read_conductors(text), **more)


def test_one_two_and_more_conductors_have_shares_of_their_own():
    shares = [allowed_percent_for(count, nipple=False) for count in (1, 2, 3, 40)]

    assert shares == [53, 31, 40, 40]


def test_a_nipple_may_be_filled_further_whatever_the_count():
    assert [allowed_percent_for(count, nipple=True) for count in (1, 2, 3)] == [60, 60, 60]
    assert not fill("30 #14 THHN").fits
    assert fill("30 #14 THHN", nipple=True).fits


def test_every_conductor_takes_room_the_bare_grounding_one_too():
    insulated, grounded = fill("3 #12 THHN"), fill("3 #12 THHN, 1 #12 bare")

    assert grounded.area - insulated.area == pytest.approx(0.006)
    assert grounded.conductor_count == 4


def test_equal_conductors_are_counted_and_may_pass_the_share_by_a_hair():
    filled = fill("22 #14 THHN")

    assert filled.percent > filled.allowed_percent
    assert filled.fits


def test_the_rounding_is_not_for_a_mix():
    mixed = fill("21 #14 THHN, 1 #14 XHHW")

    assert mixed.percent > 40
    assert not mixed.fits


def test_unlike_types_with_one_cross_section_are_still_equal_conductors():
    assert fill("7 #14 XHHW, 8 #14 THW").fits == fill("15 #14 XHHW").fits is True


def test_two_conductors_can_be_too_many_where_three_smaller_ones_are_not():
    assert not fill("2 #2 THHN").fits
    assert fill("3 #4 THHN", "1").fits


@pytest.mark.parametrize(("text", "trade_size"), [("3 #250 RHW", "4"), ("1 #6 bare solid", "1"), ("1 #18 THHN", "1/2")])
def test_a_conductor_that_no_table_lists_is_refused(text, trade_size):
    with pytest.raises(InputError) as refused:
        fill(text, trade_size)

    assert refused.value.field == "conductors"
    assert refused.value.reason.id == "fill.not-listed"
    assert refused.value.accepted.params["sizes"] == sizes_of(read_conductors(text)[0].insulation)


@pytest.mark.parametrize(("raceway", "trade_size"), [("pvc", "3/4"), ("emt", "7/8")])
def test_a_raceway_that_is_not_known_is_refused(raceway, trade_size):
    with pytest.raises(InputError):
        raceway_fill(raceway, trade_size, read_conductors("3 #12 THHN"))


@given(LISTS, THHN | BARE, st.sampled_from(KINDS), st.sampled_from(TRADE_SIZES))
def test_adding_a_conductor_never_lowers_the_fill(groups, more, raceway, trade_size):
    before = raceway_fill(raceway, trade_size, groups)
    after = raceway_fill(raceway, trade_size, (*groups, more))

    assert after.percent > before.percent


@given(LISTS, st.sampled_from(TRADE_SIZES))
def test_the_order_of_the_list_changes_nothing(groups, trade_size):
    forward, backward = raceway_fill("emt", trade_size, groups), raceway_fill("emt", trade_size, groups[::-1])

    assert backward.percent == pytest.approx(forward.percent)
    assert backward.fits == forward.fits


@given(LISTS, st.sampled_from(KINDS), st.booleans())
def test_the_size_found_fits_and_the_next_smaller_does_not(groups, raceway, nipple):
    fits = [size for size in TRADE_SIZES if raceway_fill(raceway, size, groups, nipple).fits]
    if not fits:
        with pytest.raises(InputError, match=r"fill\.no-size"):
            raceway_size(raceway, groups, nipple)
        return
    found = raceway_size(raceway, groups, nipple).trade_size

    assert fits == list(TRADE_SIZES[TRADE_SIZES.index(found) :])


def test_the_size_comes_with_its_fill():
    found = raceway_size("emt", read_conductors("12 #12 THHN, 1 #12 bare"))

    assert (found.trade_size, found.allowed_percent) == ("3/4", 40)
    assert found.percent == pytest.approx(100 * (12 * 0.0133 + 0.006) / 0.533)


def test_what_is_left_is_of_the_allowed_share_and_falls_below_nothing_when_too_much_is_in():
    few = raceway_fill("emt", "3/4", read_conductors("4 #12 THHN, 1 #10 bare"))
    many = raceway_fill("emt", "1/2", read_conductors("9 #10 THHN, 1 #12 THHN"))

    assert few.area_left == pytest.approx(0.4 * 0.533 - 4 * 0.0133 - 0.011)
    assert many.area_left < 0
    assert not many.fits


def test_a_kind_that_is_listed_twice_is_told_once():
    given = {"raceway": "emt", "trade_size": "3/4", "conductors": read_conductors("3 #10 THHN, 1 #10 THHN")}
    _, steps = RACEWAY_FILL.trace(given)

    assert len([step for step in steps if step.note and step.note.id == "fill.conductor"]) == 1
