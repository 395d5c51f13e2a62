from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.calc.strap_check import strap_check
from trainer.calc.straps import Ends, strap_count
from trainer.calc.stretches import Stretch
from trainer.text.words import say


def kinds(*args, **named):
    return [fault.kind for fault in strap_check(*args, **named).violations]


@pytest.mark.parametrize("run", [60, 72.5, 192, 240, 312, 432, 5000.25])
@pytest.mark.parametrize("ends", Ends)
def test_a_layout_that_is_counted_out_holds(run, ends):
    straps = strap_count(run, ends).positions
    exceptions = {Ends.PLAIN: (), Ends.ONE_EXCEPTION: (0.0,), Ends.TWO_EXCEPTIONS: (0.0, run)}[ends]
    result = strap_check(run, straps, exceptions=exceptions)

    assert (result.holds, result.violation_count, result.violations) == (True, 0, ())


@given(st.floats(75, 3000), st.randoms(use_true_random=False))
def test_with_one_strap_fewer_no_layout_holds(run, random):
    fewer = strap_count(run).straps - 1
    straps = tuple(random.uniform(0, run) for _ in range(fewer))

    assert not strap_check(run, straps).holds


def test_each_distance_that_is_too_long_is_named():
    result = strap_check(240, (40, 165, 200))
    first, apart, last = result.violations

    assert (first.kind, first.start, first.end, first.limit) == ("first", 0, 40, 36)
    assert (apart.kind, apart.start, apart.end, apart.limit) == ("apart", 40, 165, 120)
    assert (last.kind, last.start, last.end, last.limit) == ("last", 200, 240, 36)
    assert (result.holds, result.violation_count) == (False, 3)


def test_exactly_as_far_as_allowed_is_allowed():
    assert strap_check(192, (36, 156)).holds
    assert not strap_check(192, (36, 156.01)).holds
    assert not strap_check(192, (36.01, 156)).holds


def test_a_box_in_the_run_wants_straps_on_both_sides():
    assert kinds(240, (30, 120, 210), terminations=(120,)) == []  # A strap at the box itself is within reach of both.
    assert kinds(240, (30, 110, 210), terminations=(120,)) == ["first"]
    assert kinds(240, (30, 90), terminations=(120,)) == ["no-strap"]


def test_a_termination_at_an_end_is_no_second_one():
    assert kinds(240, (30, 120, 210), terminations=(0, 240)) == []


def test_the_order_of_the_straps_does_not_matter():
    assert strap_check(240, (200, 40, 165)) == strap_check(240, (40, 165, 200))


def test_exception_1_holds_at_its_own_termination_only():
    assert kinds(240, (60, 180)) == ["first", "last"]
    assert kinds(240, (60, 180), exceptions=(0,)) == ["last"]
    assert kinds(240, (60, 180), exceptions=(0, 240)) == []
    assert kinds(240, (61, 180), exceptions=(0, 240)) == ["first"]


def test_a_strap_on_a_bend_does_not_hold():
    bends = (Stretch(100, 107), Stretch(150, 157))

    assert kinds(240, (30, 104, 210), bends=bends) == ["on-bend"]
    assert kinds(240, (30, 100, 157, 210), bends=bends) == []


def test_a_house_rule_is_held_to_as_well():
    assert kinds(192, (36, 156), max_from_end=24) == ["first", "last"]
    assert kinds(192, (36, 156), max_spacing=96) == ["apart"]


def test_a_run_without_a_strap_has_none():
    assert kinds(240, ()) == ["no-strap"]


def test_each_fault_is_told_in_feet_and_inches():
    faults = strap_check(300, (40, 165, 170, 200), bends=(Stretch(160, 167),)).violations
    faults += strap_check(240, ()).violations
    told = [say(fault.message()) for fault in faults]

    assert told[0] == "From the termination at 0 in to the first strap at 3 ft 4 in it is 3 ft 4 in; 3 ft is the most."
    assert told[-2].startswith("The strap at 13 ft 9 in sits on a bend")
    assert told[-1] == "No strap between the terminations at 0 in and at 20 ft."


@pytest.mark.parametrize(
    ("values", "field"),
    [
        ({"run_length": 0}, "run_length"),
        ({"straps": (241,)}, "straps"),
        ({"straps": (-1,)}, "straps"),
        ({"terminations": (300,)}, "terminations"),
        ({"exceptions": (120,)}, "exceptions"),
        ({"bends": (Stretch(230, 250),)}, "bends"),
        ({"max_spacing": 1}, "max_spacing"),
        ({"max_from_end": 1}, "max_from_end"),
    ],
)
def test_what_is_impossible_is_refused(values, field, refused):
    assert refused(strap_check, **{"run_length": 240, "straps": (30, 120, 210), **values}).field == field


def test_the_widest_gap_is_between_two_straps_of_one_stretch():
    assert strap_check(240, (30, 100, 215)).widest_gap == 115
    assert strap_check(240, (30, 100, 140, 215), terminations=(120,)).widest_gap == 75
    assert strap_check(240, (30, 215), terminations=(120,)).widest_gap == 0
    assert strap_check(60, (30,)).widest_gap == 0
    assert strap_check(60, ()).widest_gap == 0
