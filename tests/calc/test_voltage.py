"""Voltage drop: the length is one way, and two methods stand side by side."""

from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.calc.conductors import TABLE_SIZES
from trainer.calc.message import InputError
from trainer.calc.voltage import voltage_drop

CASE = {"current": 16.0, "length": 1440.0, "conductor_size": "10", "material": "copper", "volts": 120.0, "phases": 1}


def drop(**more):
    return voltage_drop(**{**CASE, **more})


def test_one_phase_counts_the_way_there_and_back():
    found = drop()

    assert found.drop == pytest.approx(2 * 12.9 * 16 * 120 / 10380)
    assert found.percent == pytest.approx(100 * found.drop / 120)
    assert found.left == pytest.approx(120 - found.drop)


def test_by_resistance_it_is_ohms_law_along_both_wires():
    assert drop().drop_by_resistance == pytest.approx(16 * 1.24 * 240 / 1000)


def test_three_phases_count_the_length_the_square_root_of_three_times():
    assert drop(phases=3).drop == pytest.approx(drop().drop * sqrt(3) / 2)


def test_aluminum_drops_more():
    assert drop(material="aluminum").drop == pytest.approx(drop().drop * 21.2 / 12.9)


@pytest.mark.parametrize(
    ("more", "field"),
    [
        ({"length": 0.0}, "length"),
        ({"length": 100_000.0}, "length"),
        ({"current": 0.0}, "current"),
        ({"phases": 2}, "phases"),
        ({"phases": 4}, "phases"),
        ({"volts": 0.0}, "volts"),
        ({"conductor_size": "18"}, "conductor_size"),
        ({"material": "steel"}, "material"),
    ],
)
def test_what_makes_no_circuit_is_refused_by_its_name(more, field):
    with pytest.raises(InputError) as refused:
        drop(**more)

    assert refused.value.field == field


@given(st.floats(0.1, 20), st.floats(1, 500), st.sampled_from(TABLE_SIZES[2:]), st.sampled_from([1, 3]))
def test_the_drop_grows_in_proportion_with_current_and_length(current, length, size, phases):
    once = drop(current=current, length=length, conductor_size=size, phases=phases)

    assert drop(current=2 * current, length=length, conductor_size=size, phases=phases).drop == pytest.approx(
        2 * once.drop
    )
    assert drop(current=current, length=2 * length, conductor_size=size, phases=phases).drop == pytest.approx(
        2 * once.drop
    )


def test_a_larger_conductor_drops_less():
    drops = [drop(conductor_size=size).drop for size in TABLE_SIZES]

    assert drops == sorted(drops, reverse=True)
