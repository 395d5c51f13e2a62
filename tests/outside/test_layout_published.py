"""Published marks, bent in `layout`: does the tube come out as the book says?"""

from __future__ import annotations

import math

import pytest

from trainer.calc.layout_change import bent
from trainer.calc.layout_measure import back_to_back, crown_height, leg_offset, station_from_back, stub_height
from trainer.calc.marks import End, Mark, Reference
from trainer.calc.shoes import DEFAULT_SHOE, DEFAULT_SHOES, Shoe

STICK = 120.0
OD = DEFAULT_SHOE.outside_diameter


def take_up(position, order, angle, *, hook, roll=0.0, reference=Reference.TAKE_UP):
    return Mark(position, End.MEASURED, reference, hook, angle, roll, False, order)


def test_a_stub_of_10_in_is_marked_at_5_in():
    """Source: residential wiring textbook (2018), printed example. Checked: two sources; computed."""
    tube = bent([take_up(5, 1, 90, hook=End.MEASURED)], DEFAULT_SHOE, STICK)

    assert stub_height(tube, OD) == pytest.approx(10)


FIRST = take_up(7, 1, 90, hook=End.MEASURED)


def second_of_40(reference, from_back, hook):
    first = bent([FIRST], DEFAULT_SHOE, STICK)
    return take_up(station_from_back(first, 1, from_back, OD), 2, 90, hook=hook, reference=reference)


@pytest.mark.parametrize(
    "second",
    [
        # Source: residential wiring textbook (2018), printed example. Checked: two sources; computed.
        second_of_40(Reference.BACK_OF_BEND, 40, End.FAR),
        # Source: trade practice. Checked: two sources.
        second_of_40(Reference.TAKE_UP, 40 - 5, End.MEASURED),
        # Source: trade practice; outside gain 2-5/8 in from memory. Stub 12 in, so 12 + 40 - 2-5/8.
        take_up(12 + 40 - 2.625, 2, 90, hook=End.FAR, reference=Reference.BACK_OF_BEND),
    ],
    ids=["by the back mark", "by the take-up mark", "on the straight stick"],
)
def test_back_to_back_40_in_is_40_in_over_the_backs(second):
    """The third way holds to 1/64 in: its gain is the handbook's, rounded to an eighth."""
    tube = bent([FIRST, second], DEFAULT_SHOE, STICK)

    assert back_to_back(tube, 0, 2, OD) == pytest.approx(40, abs=1 / 64)
    assert stub_height(tube, OD) == pytest.approx(12)


def three_point_saddle(height, spacing, shrink, distance=45.0):
    """Hook toward the centre on the outer marks, the tube rolled over for them; saddle-centre mark in the middle."""
    middle = distance + height * shrink
    return [
        take_up(middle, 1, 45, hook=End.FAR, reference=Reference.SADDLE_CENTRE),
        take_up(middle - height * spacing, 2, 22.5, hook=End.FAR, roll=180),
        take_up(middle + height * spacing, 3, 22.5, hook=End.MEASURED),
    ]


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
def test_the_crown_of_a_saddle_comes_out_as_far_off_as_tabulated(size, height, handbook, sharp):
    shoe = DEFAULT_SHOES[size]
    for spacing, shrink, error in ((2.5, 0.1875, handbook), (2.6131, 0.19891, sharp)):
        tube = bent(three_point_saddle(height, spacing, shrink), shoe, STICK)

        assert crown_height(tube, 1) - height == pytest.approx(error, abs=0.006)
        assert leg_offset(tube, 0, 3) == pytest.approx(0, abs=1e-9)


def middles_on_marks(shoe, angle):
    """A take-up mark that lies on the middle of an arc of this angle."""
    arc = math.radians(angle) * shoe.radius
    return Shoe(shoe.trade_size, shoe.radius + shoe.outside_diameter / 2 - arc / 2, shoe.radius, shoe.outside_diameter)


@pytest.mark.parametrize(("multiplier", "bends"), [(1.414, 6 + 1 / 8), (1.4, 6 + 1 / 16)])
def test_neither_multiplier_makes_6_in_at_45_degrees(multiplier, bends):
    """Source: geometry, radius 4 in, arc middles on the marks; to the nearest sixteenth. Checked: computed."""
    shoe = middles_on_marks(Shoe("1/2", 0, 4, OD), 45)
    marks = [take_up(30, 1, 45, hook=End.MEASURED), take_up(30 + 6 * multiplier, 2, 45, hook=End.MEASURED, roll=180)]

    assert leg_offset(bent(marks, shoe, STICK), 0, 2) == pytest.approx(bends, abs=1 / 32)


@pytest.mark.parametrize(("angle", "shrink"), [(45, 0.35), (30, 0.25), (22.5, 0.19)])
def test_two_arcs_take_less_tube_than_sharp_corners(angle, shrink):
    """
    What a run comes short by for each inch of an offset of about 6 in, radius 4 in: tube less the way along.

    Source: geometry. Checked: computed; the handbook says 3/8, 1/4 and 3/16.
    """
    shoe = Shoe("1/2", 0, 4, OD)
    spacing = 6 / math.sin(math.radians(angle))
    marks = [take_up(30, 1, angle, hook=End.MEASURED), take_up(30 + spacing, 2, angle, hook=End.MEASURED, roll=180)]
    tube = bent(marks, shoe, STICK)

    short = STICK - tube.end.x
    assert short / leg_offset(tube, 0, 2) == pytest.approx(shrink, abs=0.01)
