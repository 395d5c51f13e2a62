"""Box fill by the edition: what each thing counts, and what it is counted by."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.calc.boxes import box_fill
from trainer.calc.boxes_count import box_max_conductors
from trainer.calc.boxes_counted import ALLOWANCES
from trainer.calc.boxes_named import Box, read_box
from trainer.calc.conductors import ConductorGroup
from trainer.calc.message import InputError
from trainer.calc.trace import trace
from trainer.calc.wire_lists import read_sizes

EDITIONS = ("2017", "2020", "2023")
GROUPS = st.lists(st.builds(ConductorGroup, st.integers(1, 12), st.sampled_from(list(ALLOWANCES))), max_size=4).map(
    tuple
)


def fill(conductors="none", **more):
    lists = {"devices", "equipment_grounds", "loops", "terminal_blocks", "isolated_grounds"}
    read = {name: read_sizes(text) if name in lists else text for name, text in more.items()}
    return box_fill(read_sizes(conductors), **read)


def test_each_conductor_counts_by_its_own_size():
    assert fill("8 #12, 2 #14, 1 #6").volume_required == 8 * 2.25 + 2 * 2 + 5


def test_a_yoke_counts_twice_by_the_largest_conductor_on_it():
    filled = fill("4 #12, 2 #10", devices="1 #12, 1 #10")

    assert filled.device_volume == 2 * 2.25 + 2 * 2.5


def test_a_loop_counts_twice():
    assert fill(loops="3 #12").loop_volume == 6 * 2.25


@pytest.mark.parametrize(("count", "times"), [(0, 0), (1, 1), (4, 1)])
def test_all_clamps_together_count_once_by_the_largest_conductor_in_the_box(count, times):
    assert fill("4 #14", clamps=count, equipment_grounds="1 #10").clamp_volume == 2.5 * times


def test_studs_and_hickeys_count_once_each():
    filled = fill("4 #14", studs=3, hickeys=1)

    assert (filled.stud_volume, filled.hickey_volume, filled.volume_required) == (2, 2, 12)


@pytest.mark.parametrize(
    ("edition", "grounds", "volume"),
    [
        ("2017", "1 #12", 2.25),
        ("2017", "10 #12", 2.25),
        ("2020", "4 #12", 2.25),
        ("2020", "5 #12", 2.8125),
        ("2023", "5 #12", 2.8125),
        ("2023", "2 #12, 3 #14", 2.8125),
        ("2023", "none", 0),
        ("2017", "none", 0),
    ],
)
def test_grounds_count_by_the_rule_of_the_edition(edition, grounds, volume):
    assert fill(equipment_grounds=grounds, edition=edition).ground_volume == volume


@pytest.mark.parametrize(("edition", "volume"), [("2017", 4.5), ("2020", 2.25 * 1.5), ("2023", 2.25 * 1.5)])
def test_an_isolated_set_counted_by_itself_only_before_2020(edition, volume):
    assert fill(equipment_grounds="4 #12", isolated_grounds="2 #12", edition=edition).ground_volume == volume


@pytest.mark.parametrize(("edition", "volume"), [("2017", 0), ("2020", 0), ("2023", 6)])
def test_terminal_blocks_count_since_2023(edition, volume):
    assert fill("2 #12", terminal_blocks="2 #8", edition=edition).terminal_volume == volume


def test_a_box_has_its_own_volume_and_what_is_added():
    filled = fill("9 #12", box=read_box("4 x 1-1/2 square"), added_volume=4.0)

    assert (filled.volume_available, filled.fits, filled.left) == (25.0, True, 25.0 - 20.25)


def test_a_box_that_is_just_full_fits():
    assert fill("10 #12", box=Box("22.5 cu in", 22.5)).fits
    assert not fill("10 #12", box=Box("22.49 cu in", 22.49)).fits


def test_without_a_box_nothing_is_said_of_one():
    filled = fill("9 #12")

    assert (filled.volume_available, filled.fits, filled.left) == (None, None, None)


@pytest.mark.parametrize(
    ("given", "field"),
    [
        ({"conductors": "2 #4"}, "conductors"),
        ({"devices": "1 #4"}, "devices"),
        ({"equipment_grounds": "1 #4"}, "equipment_grounds"),
        ({"loops": "1 #1/0"}, "loops"),
        ({"terminal_blocks": "1 #250"}, "terminal_blocks"),
        ({"isolated_grounds": "1 #3"}, "isolated_grounds"),
        ({"clamps": 1}, "clamps"),
        ({"studs": 1}, "studs"),
        ({"hickeys": 2}, "hickeys"),
        ({"clamps": -1}, "clamps"),
        ({"added_volume": -1.0}, "added_volume"),
        ({"edition": "1999"}, "edition"),
    ],
)
def test_what_cannot_be_counted_is_refused_by_its_name(given, field):
    with pytest.raises(InputError) as refused:
        fill(**given)

    assert refused.value.field == field


@given(GROUPS, GROUPS, GROUPS, st.sampled_from(EDITIONS), st.sampled_from(list(ALLOWANCES)))
def test_adding_a_conductor_never_lowers_the_volume(conductors, devices, grounds, edition, size):
    before = box_fill(conductors, devices, 0, grounds, edition=edition)
    more = ConductorGroup(1, size)
    for after in (
        box_fill((*conductors, more), devices, 0, grounds, edition=edition),
        box_fill(conductors, (*devices, more), 0, grounds, edition=edition),
        box_fill(conductors, devices, 0, (*grounds, more), edition=edition),
    ):
        assert after.volume_required >= before.volume_required


@given(GROUPS, GROUPS, GROUPS, GROUPS)
def test_the_parts_add_up_to_the_whole(conductors, devices, grounds, loops):
    filled = box_fill(conductors, devices, int(bool(conductors)), grounds, loops=loops)
    parts = (
        filled.conductor_volume,
        filled.device_volume,
        filled.clamp_volume,
        filled.ground_volume,
        filled.loop_volume,
    )

    assert filled.volume_required == pytest.approx(sum(parts))


@given(st.sampled_from(list(ALLOWANCES)), st.floats(7.5, 42))
def test_the_most_conductors_fill_the_box_and_one_more_does_not(size, volume):
    box = Box("marked", volume)
    count = box_max_conductors(box, size).count

    assert count == 0 or box_fill((ConductorGroup(count, size),), box=box).fits
    assert not box_fill((ConductorGroup(count + 1, size),), box=box).fits


@pytest.mark.parametrize("edition", EDITIONS)
def test_the_steps_end_with_the_volume_and_name_the_table_of_the_edition(edition):
    _, steps = trace(box_fill, conductors=read_sizes("8 #12"), edition=edition)
    number = "314.16(B)(1)" if edition == "2023" else "314.16(B)"

    assert steps[0].note.params["table"] == f"Table {number}"
    assert steps[-1].name == "volume_required"
    assert steps[-1].value == 18
