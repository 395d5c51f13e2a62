"""
Grounding conductors, voltage drop and expansion against other ways to the same number; published ones: test_published.py.
"""

import pytest

from trainer.calc.conductors import TABLE_SIZES, circular_mils
from trainer.calc.tables import table
from trainer.calc.voltage import voltage_drop


def test_the_grounding_table_grows_with_the_device_in_both_metals():
    """Aluminum is one or two gauges larger than copper in every row, as its conductivity asks for."""
    rows = table("grounding")["least"]["rows"]

    for _, copper, aluminum in rows:
        assert 1.2 < circular_mils(aluminum) / circular_mils(copper) < 1.72
    assert [row[0] for row in rows] == sorted(row[0] for row in rows)


@pytest.mark.parametrize(("material", "per_celsius"), [("steel", 1.170e-5), ("aluminum", 2.34e-5), ("pvc", 6.084e-5)])
def test_the_notes_metric_coefficients_are_the_same(material, per_celsius):
    """Both are printed in 300.7(B) for metal; they differ by the factor 1.8 alone."""
    assert table("expansion")["coefficients"][material] * 1.8 == pytest.approx(per_celsius, rel=1e-9)


@pytest.mark.parametrize("size", TABLE_SIZES)
@pytest.mark.parametrize("material", ["copper", "aluminum"])
def test_the_two_methods_of_voltage_drop_agree(size, material):
    """K against Table 8; largest residue 0.5 %, the rounding of K and of the printed resistances."""
    found = voltage_drop(1, 1200, size, material, 120, phases=1)

    assert found.drop == pytest.approx(found.drop_by_resistance, rel=0.006)
