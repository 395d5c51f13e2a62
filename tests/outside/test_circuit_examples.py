"""
Grounding conductors, voltage drop and expansion against published answers and against other ways to the same number.
"""

import pytest

from trainer.calc.conductors import TABLE_SIZES, circular_mils
from trainer.calc.expansion import thermal_change
from trainer.calc.grounding import ground_size
from trainer.calc.tables import table
from trainer.calc.voltage import voltage_drop


@pytest.mark.parametrize(("device", "size"), [(60, "10"), (225, "4")])
def test_copper_grounding_conductors_by_the_device(device, size):
    """NFPA 70-2023 Table 250.122; two sources."""
    assert ground_size(device, "copper").conductor_size == size


def test_the_grounding_table_grows_with_the_device_in_both_metals():
    """Aluminum is one or two gauges larger than copper in every row, as its conductivity asks for."""
    rows = table("grounding")["least"]["rows"]

    for _, copper, aluminum in rows:
        assert 1.2 < circular_mils(aluminum) / circular_mils(copper) < 1.72
    assert [row[0] for row in rows] == sorted(row[0] for row in rows)


def test_100_ft_of_steel_emt_moves_0_78_in_over_100_f():
    """NFPA 70-2023 300.7(B) informational note; two sources."""
    assert round(thermal_change(1200, 100, "steel").change, 2) == 0.78


def test_100_ft_of_pvc_moves_4_06_in_over_100_f():
    """Table 352.44(A), computed into the coefficient: 3.38e-5 x 1200 x 100 = 4.056; residue 0.004 in."""
    assert thermal_change(1200, 100, "pvc").change == pytest.approx(4.06, abs=0.0045)
    assert thermal_change(1200, 100, "pvc").change_by_table == 4.06


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
