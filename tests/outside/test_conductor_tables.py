"""
Tables 5 and 8 against what can be computed.

Sources: Chapter 9 Table 5 (two listings), Table 8 (two listings), the formula of ASTM B258 for gauge sizes.
"""

from math import pi

import pytest

from trainer.calc.conductors import INSULATIONS, TABLE_SIZES, circular_mils, dimensions, resistance, sizes_of
from trainer.calc.tables import table

GAUGES = {"1/0": 0, "2/0": -1, "3/0": -2, "4/0": -3}


@pytest.mark.parametrize("insulation", INSULATIONS)
def test_areas_of_table_5_are_those_of_its_diameters(insulation):
    """The printed diameter has three decimals, so the area may miss by half a thousandth of it, and did not by more."""
    for size in sizes_of(insulation):
        found = dimensions(size, insulation)
        assert found.area == pytest.approx(pi / 4 * found.diameter**2, abs=0.00005 + 1e-9), size


@pytest.mark.parametrize("size", [size for size in TABLE_SIZES if size in GAUGES or int(size) < 250])
def test_circular_mils_follow_the_gauge_formula(size):
    """Largest residue 0.08 %, at 14 AWG; from 250 on the name of the size is its area."""
    gauge = GAUGES.get(size)
    diameter = 0.005 * 92 ** ((36 - (int(size) if gauge is None else gauge)) / 39)

    assert circular_mils(size) == pytest.approx((1000 * diameter) ** 2, rel=0.00081)


@pytest.mark.parametrize("size", ["250", "300", "350", "400", "500", "600", "700", "750"])
def test_a_kcmil_size_is_its_area(size):
    assert circular_mils(size) == 1000 * int(size)


@pytest.mark.parametrize("size", TABLE_SIZES)
def test_resistances_follow_from_the_area_of_metal(size):
    """K = R x circular mils / 1000: stranded copper 12.8 to 13.0, stranded aluminum 21.1 to 21.3, all sizes."""
    assert resistance(size, "copper") * circular_mils(size) / 1000 == pytest.approx(12.9, abs=0.1)
    assert resistance(size, "aluminum") * circular_mils(size) / 1000 == pytest.approx(21.2, abs=0.1)


@pytest.mark.parametrize("row", table("conductors")["bare_stranded"]["rows"], ids=lambda row: row[0])
def test_bare_areas_are_those_of_their_diameters(row):
    """Largest residue 0.00065, at 12 AWG, whose 0.00665 is printed as 0.006; else the rounding to a thousandth."""
    assert row[2] == pytest.approx(pi / 4 * row[1] ** 2, abs=0.00066 if row[0] == "12" else 0.0005)


@pytest.mark.parametrize("row", table("conductors")["bare_solid"]["rows"], ids=lambda row: row[0])
def test_solid_conductors_have_the_diameter_of_their_gauge(row):
    size, diameter, area = row

    assert diameter == pytest.approx(0.005 * 92 ** ((36 - int(size)) / 39), abs=0.00051)
    assert area == pytest.approx(pi / 4 * diameter**2, abs=0.00051)
