"""Pulling tension: sections in order, both ways, against what the conductors stand."""

from math import exp, pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.calc.message import InputError
from trainer.calc.pulling import pulling_tension
from trainer.calc.pulling_sections import Section, read_sections
from trainer.calc.pulling_weight import Lay, correction_for
from trainer.calc.wire_lists import read_conductors

ONE = read_conductors("1 #4/0 THHN")
THREE = read_conductors("3 #4/0 THHN")


def pull(text, conductors=ONE, friction=0.5, weight=1.2, **more):
    return pulling_tension(read_sections(text), friction, weight, conductors, **more)


def test_a_level_piece_adds_weight_times_friction():
    assert pull("200 ft").tension == pytest.approx(120)


def test_a_piece_straight_up_adds_its_weight_and_straight_down_takes_it_off():
    assert pull("200 ft, 50 ft up").tension == pytest.approx(120 + 60)
    assert pull("200 ft, 50 ft down").tension == pytest.approx(120 - 60)


def test_a_slope_adds_both_its_parts():
    assert pull("100 ft up 30 deg").tension == pytest.approx(100 * 1.2 * (0.5 + 0.5 * 3**0.5 / 2))


def test_conductors_that_run_by_themselves_pull_nothing():
    assert pull("500 ft down, 200 ft").tension == pytest.approx(120)


def test_a_bend_multiplies_what_comes_in():
    assert pull("200 ft, 90 bend r 2 ft").tension == pytest.approx(120 * exp(0.5 * pi / 2))


def test_bends_near_the_feed_end_cost_less():
    found = pull("10 ft, 90 bend r 2 ft, 200 ft")

    assert found.tension < found.tension_reversed
    assert found.better_direction == "as-given"
    assert pull("200 ft, 90 bend r 2 ft, 10 ft").better_direction == "reversed"
    assert pull("100 ft, 90 bend r 2 ft, 100 ft").better_direction == "either"


def test_the_other_way_round_is_the_same_pull_turned_over():
    found, turned = pull("100 ft, 90 bend r 2 ft, 50 ft up"), pull("50 ft down, 90 bend r 2 ft, 100 ft")

    assert found.tension_reversed == pytest.approx(turned.tension)
    assert found.sidewall_pressure_reversed == pytest.approx(turned.sidewall_pressure)


def test_the_tension_at_the_feed_end_goes_through_every_bend():
    found = pull("90 bend r 2 ft, 90 bend r 2 ft", feed_tension=10.0)

    assert found.tension == pytest.approx(10 * exp(0.5 * pi))
    assert found.tensions == pytest.approx((10 * exp(0.25 * pi), 10 * exp(0.5 * pi)))


def test_sidewall_pressure_is_that_of_the_worst_bend():
    found = pull("200 ft, 90 bend r 2 ft, 10 ft, 90 bend r 10 ft")

    assert found.sidewall_pressure == pytest.approx(found.tensions[1] / 2)
    assert pull("200 ft").sidewall_pressure == 0


def test_a_bend_without_a_radius_takes_the_least_of_the_tubing():
    assert pull("200 ft, 90 bend", trade_size="2").sidewall_pressure == pytest.approx(120 * exp(0.25 * pi) / (9.5 / 12))


def test_the_weight_is_corrected_by_how_three_conductors_lie():
    cradle = correction_for(THREE, "emt", "2-1/2", None)
    triangle = correction_for(read_conductors("3 #3/0 THHN"), "emt", "1-1/4", None)

    assert cradle.lay == Lay.CRADLE
    assert cradle.factor == pytest.approx(1 + 4 / 3 * (0.642 / (2.731 - 0.642)) ** 2)
    assert triangle.lay == Lay.TRIANGLE
    assert triangle.factor == pytest.approx((1 - (0.584 / (1.380 - 0.584)) ** 2) ** -0.5)


@pytest.mark.parametrize(
    ("trade_size", "share"),
    [("2-1/2", lambda factor: (3 * factor - 2) / 3), ("1-1/4", lambda factor: factor / 2)],
)
def test_three_conductors_share_the_pressure_by_their_lay(trade_size, share):
    found = pull("100 ft, 90 bend r 2 ft", read_conductors("3 #3/0 THHN"), trade_size=trade_size)

    assert found.sidewall_pressure == pytest.approx(share(found.weight_correction) * found.tension / 2)


def test_a_factor_of_ones_own_goes_first_and_one_conductor_has_none():
    assert pull("100 ft", THREE, trade_size="2-1/2", weight_correction=1.4).tension == pytest.approx(
        100 * 1.2 * 0.5 * 1.4
    )
    assert pull("100 ft", ONE, trade_size="2-1/2").weight_correction == 1
    assert pull("100 ft", THREE).weight_correction == 1


@pytest.mark.parametrize(
    ("conductors", "more", "limit"),
    [
        ("1 #4/0 THHN", {}, 0.008 * 211600),
        ("3 #4/0 THHN", {}, 3 * 0.008 * 211600),
        ("4 #4/0 THHN", {}, 0.8 * 4 * 0.008 * 211600),
        ("3 #4/0 THHN", {"material": "aluminum"}, 3 * 0.006 * 211600),
        ("3 #4/0 THHN", {"grip": "basket"}, 1000),
        ("1 #8 THHN", {"grip": "basket"}, 0.008 * 16510),
        ("3 #4/0 THHN, 1 #4 bare", {}, 0.8 * 4 * 0.008 * 41740),
    ],
)
def test_the_metal_and_the_grip_limit_the_tension(conductors, more, limit):
    assert pull("100 ft", read_conductors(conductors), **more).max_tension == pytest.approx(limit)


def test_a_pull_is_within_its_limits_only_when_tension_and_pressure_are():
    assert pull("200 ft, 90 bend r 2 ft").within_limits
    assert not pull("600 ft, 90 bend r 6 in").within_limits
    assert pull("600 ft, 90 bend r 6 in", max_sidewall=2000.0).within_limits
    assert not pull("900 ft", read_conductors("1 #14 THHN")).within_limits


@pytest.mark.parametrize(
    ("text", "conductors", "more", "field"),
    [
        ("100 ft, 90 bend", ONE, {}, "sections"),
        ("100 ft, 90 bend", ONE, {"raceway": "imc", "trade_size": "2"}, "sections"),
        ("100 ft", read_conductors("4 #4/0 THHN"), {"trade_size": "3"}, "weight_correction"),
        ("100 ft", read_conductors("2 #4/0 THHN, 1 #2 THHN"), {"trade_size": "3"}, "weight_correction"),
        ("100 ft", read_conductors("3 #250 RHW"), {"trade_size": "3"}, "conductors"),
        ("100 ft", read_conductors("3 #18 THHN"), {}, "conductors"),
        ("100 ft", THREE, {"trade_size": "1"}, "trade_size"),
        ("100 ft", ONE, {"friction": 0.0}, "friction"),
        ("100 ft", ONE, {"friction": 1.5}, "friction"),
        ("100 ft", ONE, {"weight": 0.0}, "weight"),
        ("100 ft", ONE, {"weight_correction": 0.9}, "weight_correction"),
        ("100 ft", ONE, {"grip": "hand"}, "grip"),
        ("100 ft", ONE, {"feed_tension": -1.0}, "feed_tension"),
    ],
)
def test_what_cannot_be_reckoned_is_refused_by_its_name(text, conductors, more, field):
    with pytest.raises(InputError) as refused:
        pull(text, conductors, **more)

    assert refused.value.field == field


STRAIGHTS = st.builds(Section, st.floats(12, 3000), st.floats(-90, 90))
BENDS = st.builds(Section, angle=st.floats(1, 90), radius=st.floats(6, 60))
RUNS = st.lists(STRAIGHTS | BENDS, min_size=1, max_size=6).map(tuple)


@given(RUNS, st.floats(0.1, 0.6), st.floats(0, 0.3), STRAIGHTS)
def test_more_friction_more_weight_or_a_longer_rise_never_pull_easier(sections, friction, more, last):
    def tension(sections, friction, weight=1.2):
        return pulling_tension(sections, friction, weight, ONE).tension

    rising = Section(last.length, abs(last.slope))
    assert tension(sections, friction + more) >= tension(sections, friction) - 1e-9 or any(
        s.slope < 0 for s in sections
    )
    assert tension((*sections, rising), friction) >= tension(sections, friction)


@given(RUNS)
def test_pulled_back_and_forth_it_is_the_same_run(sections):
    found = pulling_tension(sections, 0.35, 1.2, ONE)
    back = pulling_tension(tuple(section.reversed() for section in sections[::-1]), 0.35, 1.2, ONE)

    assert (back.tension, back.tension_reversed) == pytest.approx((found.tension_reversed, found.tension))
