"""
Lengths to cut against other ways to the same number. No printed example of one was found; these are geometry and
arithmetic, source: geometry of an arc, and sixteenths counted by numpy.
"""

from __future__ import annotations

import numpy as np
import pytest

from trainer.calc.bent_cut_length import bent_cut_length
from trainer.calc.shoes import DEFAULT_SHOES
from trainer.calc.tape_reading import tape_reading


def chords(legs, shoe):
    """Length of a polyline along the middle of the tube, drawn point by point from back to back."""
    half, radius = shoe.outside_diameter / 2, shoe.radius
    place, heading = np.zeros(2), 0.0
    points = [place]
    for number, leg in enumerate(legs):
        is_first, is_last = number == 0, number == len(legs) - 1
        taken = half + radius
        ahead = leg - taken * ((not is_first) + (not is_last))
        along = np.array([np.cos(heading), np.sin(heading)])
        place = place + ahead * along
        points.append(place)
        if not is_last:
            centre = place + radius * np.array([-along[1], along[0]])
            turned = heading - np.pi / 2 + np.linspace(0, np.pi / 2, 4001)
            arc = centre + radius * np.column_stack([np.cos(turned), np.sin(turned)])
            points += list(arc)
            place, heading = arc[-1], heading + np.pi / 2
    return np.hypot(*np.diff(np.array(points), axis=0).T).sum()


@pytest.mark.parametrize("size", ["1/2", "3/4", "1"])
@pytest.mark.parametrize("legs", [(14, 40), (14, 40, 22), (30, 30, 30, 30)])
def test_the_tube_is_as_long_as_a_line_along_its_middle(size, legs):
    shoe = DEFAULT_SHOES[size]

    assert bent_cut_length(legs, shoe.outside_gain).tube == pytest.approx(chords(legs, shoe), abs=1e-4)


def test_the_tape_s_sixteenth_is_the_nearest_of_all():
    ticks = np.arange(0, 200 * 16 + 1) / 16
    for reading in np.random.default_rng(5).uniform(1, 199, 500):
        assert tape_reading(float(reading)).on_tape == ticks[np.abs(ticks - reading).argmin()]
