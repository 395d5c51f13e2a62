"""The crown of a saddle bent by its own marks: by how much each convention misses it."""

from __future__ import annotations

import pytest

from trainer.calc.catalogue import CATALOGUE
from trainer.calc.layout_proof import misfit

# Trade size, height, and how much too high the crown comes out by the handbook's 2-1/2 and by 2.613 [in].
# Source: handbook constants from a US Navy training manual (NAVEDTRA 14026, conduit saddle table) and a bender
# instruction sheet, two sources; the errors themselves were computed apart from this program.
CROWNS = [
    ("1/2", 2, -0.02, 0.07),
    ("1/2", 3, -0.06, 0.07),
    ("1/2", 4.5, -0.13, 0.07),
    ("3/4", 2, -0.02, 0.06),
    ("3/4", 3, -0.07, 0.06),
    ("3/4", 4.5, -0.13, 0.06),
    ("1", 2, 0.24, 0.33),
    ("1", 3, 0.20, 0.33),
    ("1", 4.5, 0.13, 0.33),
]


@pytest.mark.parametrize(("size", "height", "handbook", "sharp"), CROWNS)
def test_a_saddle_s_own_marks_miss_its_crown_by_what_is_tabulated(size, height, handbook, sharp):
    typed = {"height": f"{height} in", "centre_angle": "45", "distance": "45 in", "shoe": size}
    values = CATALOGUE["three_point_saddle"].read(typed)

    for basis, error in (("handbook", handbook), ("sharp-corner", sharp), ("arc", 0)):
        (crown,) = (one.miss for one in misfit("three_point_saddle", values, basis) if one.name == "height")
        assert crown == pytest.approx(error, abs=0.006)
