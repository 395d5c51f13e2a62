"""The grounding conductor: by the table, in proportion, and never above the circuit."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.calc.conductors import SIZES, circular_mils, is_smaller
from trainer.calc.grounding import ground_size
from trainer.calc.message import InputError
from trainer.calc.trace import trace

PHASES = SIZES[SIZES.index("14") :]


@pytest.mark.parametrize(
    ("device", "material", "size"),
    [
        (15, "copper", "14"),
        (15.1, "copper", "12"),
        (30, "copper", "10"),
        (60, "copper", "10"),
        (60.5, "copper", "8"),
        (100, "aluminum", "6"),
        (1200, "aluminum", "250"),
        (4000, "aluminum", "750"),
    ],
)
def test_the_first_row_that_the_device_does_not_exceed_counts(device, material, size):
    found = ground_size(device, material)

    assert (found.conductor_size, found.table_size, found.needed) == (size, size, None)


def test_rounded_circular_mils_do_not_push_it_a_size_up():
    """6 to 4 AWG is two gauge steps, and so is 10 to 8; the printed figures miss each other by a hair."""
    found = ground_size(60, "copper", "6", "4")

    assert found.needed > circular_mils("8")
    assert found.conductor_size == "8"


@pytest.mark.parametrize(
    ("device", "minimum", "installed", "size"),
    [
        (20, "12", "10", "10"),
        (100, "3", "1", "6"),
        (100, "3", "1/0", "4"),
        (200, "3/0", "250", "4"),
        (400, "500", "750", "1"),
        (20, "12", "12", "12"),
    ],
)
def test_it_grows_in_proportion_with_the_phases(device, minimum, installed, size):
    assert ground_size(device, "copper", minimum, installed).conductor_size == size


def test_it_is_never_larger_than_the_circuit_conductors():
    found = ground_size(60, "copper", "12", "12")

    assert (found.conductor_size, found.table_size, found.held_to_circuit) == ("12", "10", True)
    assert ground_size(60, "copper", installed_phase_size="12").conductor_size == "12"
    assert ground_size(60, "copper", minimum_phase_size="12").conductor_size == "12"


def test_aluminum_does_not_go_below_its_least_size():
    assert ground_size(20, "aluminum", installed_phase_size="14").conductor_size == "12"


def test_what_is_asked_for_beyond_the_largest_size_is_held_to_the_circuit():
    assert ground_size(4000, "copper", "250", "750").conductor_size == "750"


@pytest.mark.parametrize(
    ("device", "minimum", "installed", "field"),
    [
        (0, None, None, "overcurrent_device"),
        (4001, None, None, "overcurrent_device"),
        (60, "6", "8", "installed_phase_size"),
        (60, "18", "8", "minimum_phase_size"),
        (60, "6", "1000", "installed_phase_size"),
    ],
)
def test_what_cannot_be_is_refused_by_its_name(device, minimum, installed, field):
    with pytest.raises(InputError) as refused:
        ground_size(device, "copper", minimum, installed)

    assert refused.value.field == field


@pytest.mark.parametrize(("edition", "rule"), [("2017", "any"), ("2020", "other-reasons"), ("2023", "other-reasons")])
def test_the_steps_say_the_rule_of_the_edition(edition, rule):
    _, lines = trace(
        ground_size,
        overcurrent_device=60.0,
        material="copper",
        minimum_phase_size="6",
        installed_phase_size="4",
        edition=edition,
    )

    assert f"ground.rule-{rule}" in {line.note.id for line in lines if line.note}


@given(
    st.floats(1, 4000),
    st.sampled_from(["copper", "aluminum"]),
    st.sampled_from(PHASES[2:]),
    st.sampled_from(PHASES[2:]),
)
def test_larger_phases_never_make_it_smaller_nor_larger_than_they_are(device, material, one, other):
    minimum, installed = sorted((one, other), key=PHASES.index)
    before = ground_size(device, material, minimum, minimum)
    after = ground_size(device, material, minimum, installed)

    assert not is_smaller(after.conductor_size, than=before.conductor_size)
    assert not is_smaller(installed, than=after.conductor_size)


@given(st.floats(1, 4000), st.floats(1, 4000), st.sampled_from(["copper", "aluminum"]))
def test_a_larger_device_never_takes_a_smaller_one(one, other, material):
    smaller, larger = sorted((one, other))

    assert not is_smaller(
        ground_size(larger, material).conductor_size, than=ground_size(smaller, material).conductor_size
    )
