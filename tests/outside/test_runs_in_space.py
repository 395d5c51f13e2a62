"""Rolls and ends of runs in space, held against rotation matrices of scipy."""

from __future__ import annotations

from random import Random

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from trainer.calc.layout_draw import DRAWS
from trainer.calc.run_in_space import run_in_space
from trainer.calc.ways import STEPS


def end_by_matrices(legs, rolls):
    """Walk the sharp corners: roll about the tube, then turn the tube about its own left side."""
    along, up = (np.array(STEPS[leg.direction], dtype=float) for leg in legs[:2])
    at = along * legs[0].length
    for leg, roll in zip(legs[1:], rolls, strict=True):
        # Clockwise as seen looking along the tube: about the tube's own direction, by the right-hand rule. The tube turns,
        # so that the side which was turned up before now lies elsewhere, and another side is up.
        up = Rotation.from_rotvec(-np.radians(roll) * along).apply(up)
        left = np.cross(up, along)
        turn = Rotation.from_rotvec(np.radians(-90) * left)
        along, up = turn.apply(along), turn.apply(up)
        at = at + along * leg.length
    return at


def test_the_end_of_many_runs():
    random = Random(11)
    for _ in range(300):
        values = DRAWS["run_in_space"](random)
        result = run_in_space(**values)

        assert end_by_matrices(values["legs"], result.rolls) == pytest.approx((result.ahead, result.left, result.up))
