from __future__ import annotations

import pytest

from trainer.calc.look_over import THINGS, look_over, said, why
from trainer.text.words import say

SCENES = ("ends", "joints", "wet", "box")


@pytest.mark.parametrize("scene", SCENES)
def test_each_scene_has_at_least_six_kinds_of_fault_and_things_that_are_right(scene):
    faults = [thing.is_fault for thing in THINGS.values() if thing.scene == scene]

    assert sum(faults) >= 6
    assert faults.count(False) >= 5


@pytest.mark.parametrize("name", THINGS)
def test_everything_is_said_with_whether_it_is_as_it_should_be(name):
    assert say(said(name))
    assert say(why(name)).endswith(".")
    if THINGS[name].scene in {"wet", "box"}:
        assert say(said(name, "short"))


@pytest.mark.parametrize(
    ("name", "breaks"),
    [
        # NFPA 70-2023 312.2, 300.6(D): 1/4 in of air; 314.15: drain openings of 1/8 to 1/4 in.
        ("air-eighth", True),
        ("air-quarter", False),
        ("drain-sixteenth", True),
        ("drain-fit", False),
        ("drain-wide", True),
        # 314.24(B): 1-3/16 in behind a device on 12 AWG; 21 cu in for #12 at 2.25; 358.30(A): 3 ft to a box.
        ("depth-shallow", True),
        ("depth-enough", False),
        ("count-nine", False),
        ("count-ten", True),
        ("strap-limit", False),
        ("strap-far", True),
    ],
)
def test_what_is_measured_is_judged_by_its_number(name, breaks):
    assert THINGS[name].is_fault is breaks


def test_the_faults_are_counted_and_each_is_named_by_its_place():
    found = look_over("wheel-ridge", "saw-filed", "thread-field", fifth="saw-taped")

    assert found.fault_count == 3
    assert (found.first_breaks, found.second_breaks, found.third_breaks) == (True, False, True)
    assert (found.fourth_breaks, found.fifth_breaks, found.sixth_breaks) == (False, True, False)


@pytest.mark.parametrize(
    ("values", "field"),
    [
        (("wheel-ridge", "screw-loose"), "second"),
        (("rust", "saw-filed"), "first"),
        (("saw-filed", "saw-filed", "air-half"), "third"),
    ],
)
def test_a_thing_of_another_place_or_none_at_all_is_refused(values, field, refused):
    assert refused(look_over, *values).field == field
