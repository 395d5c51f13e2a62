from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.calc.expansion import thermal_change
from trainer.calc.expansion_setting import expansion_setting, fahrenheit

MATERIALS = ("steel", "aluminum", "pvc")
days = st.lists(st.floats(-40, 70), min_size=3, max_size=3).map(sorted).filter(lambda it: it[2] - it[0] > 1)


@given(st.floats(12, 10_000), st.sampled_from(MATERIALS), days)
def test_growth_and_shrinkage_are_what_the_run_does_from_today(length, material, temperatures):
    cold, today, hot = temperatures
    found = expansion_setting(length, material, coldest=cold, installed=today, hottest=hot)

    growth = thermal_change(length, fahrenheit(hot) - fahrenheit(today), material).change
    assert found.growth == pytest.approx(growth, abs=1e-9)
    assert found.growth + found.shrinkage == pytest.approx(found.movement)


def test_on_the_hottest_day_the_fitting_is_closed_and_on_the_coldest_open():
    hot = expansion_setting(1200, "pvc", coldest=-20, installed=50, hottest=50)
    cold = expansion_setting(1200, "pvc", coldest=-20, installed=-20, hottest=50)

    assert hot.growth == 0
    assert cold.shrinkage == pytest.approx(0)


@pytest.mark.parametrize(("travel", "fittings"), [(None, None), (4.0, 2), (8.0, 1), (2.0, 3)])
def test_enough_fittings_take_the_whole_movement(travel, fittings):
    found = expansion_setting(1200, "pvc", coldest=-20, installed=20, hottest=50, travel=travel)

    assert found.movement == pytest.approx(5.11, abs=0.01)
    assert found.fittings == fittings


@pytest.mark.parametrize(
    ("values", "field"),
    [
        ({"coldest": 50, "installed": 50, "hottest": 50}, "hottest"),
        ({"coldest": -10, "installed": 60, "hottest": 50}, "installed"),
        ({"coldest": -10, "installed": -20, "hottest": 50}, "installed"),
        ({"coldest": -110, "installed": 0, "hottest": 50}, "coldest"),
        ({"coldest": -10, "installed": 0, "hottest": 50, "travel": 0}, "travel"),
    ],
)
def test_days_in_the_wrong_order_are_refused_by_name(values, field, refused):
    assert refused(expansion_setting, 1200, "steel", **values).field == field
