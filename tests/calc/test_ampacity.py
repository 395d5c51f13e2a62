"""Ampacity: column, factors, terminals, device, load."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.calc.ampacity import AMPACITY, ampacity
from trainer.calc.ampacity_device import STANDARD_DEVICES
from trainer.calc.conductors import INSULATIONS, TABLE_SIZES, rating
from trainer.calc.message import InputError
from trainer.calc.trace import trace

BASE = {"material": "copper", "insulation": "THHN", "ambient": 30.0, "current_carrying": 3, "terminals": 75.0}
SIZES = st.sampled_from(TABLE_SIZES[1:])
CASES = st.fixed_dictionaries(
    {
        "conductor_size": SIZES,
        "material": st.sampled_from(["copper", "aluminum"]),
        "insulation": st.sampled_from(INSULATIONS),
        "ambient": st.floats(-20, 50),
        "current_carrying": st.integers(1, 60),
        "terminals": st.sampled_from([60.0, 75.0, 90.0]),
    }
)


def of(size, **more):
    return ampacity(size, **{**BASE, **more})


def test_the_insulations_column_is_corrected_and_the_terminals_column_is_the_limit():
    found = of("8", ambient=40.0, current_carrying=6)

    assert (found.table_ampacity, found.terminal_limit) == (55, 50)
    assert found.corrected == pytest.approx(55 * 0.91 * 0.8)
    assert found.ampacity == found.corrected
    assert [factor.factor for factor in found.factors] == [0.91, 0.8]


def test_cool_conductors_still_stop_at_their_terminals():
    assert of("8", terminals=60.0).ampacity == 40
    assert of("8", ambient=5.0).ampacity == 50


def test_terminals_for_more_than_the_insulation_give_nothing_more():
    assert of("8", insulation="THW", terminals=90.0).terminal_limit == 50


@pytest.mark.parametrize(
    ("celsius", "percent"), [(30.0, 100), (30.1, 96), (35.0, 96), (35.5, 91), (-50.0, 115), (10.0, 115), (85.0, 29)]
)
def test_between_two_rows_the_hotter_one_holds(celsius, percent):
    assert of("8", ambient=celsius).ambient_percent == percent


@pytest.mark.parametrize(
    ("count", "percent"), [(1, 100), (3, 100), (4, 80), (9, 70), (10, 50), (20, 50), (30, 45), (40, 40), (41, 35)]
)
def test_bundling_goes_by_the_number_of_current_carrying_conductors(count, percent):
    assert of("8", current_carrying=count).bundling_percent == percent


def test_in_a_nipple_bundling_does_not_matter():
    assert of("8", current_carrying=20, nipple=True).bundling_percent == 100


@pytest.mark.parametrize(
    ("insulation", "wet", "column"),
    [
        ("THHN", False, 130),
        ("THHN/THWN", True, 115),
        ("THHN/THWN-2", True, 130),
        ("XHHW", True, 115),
        ("THWN", False, 115),
    ],
)
def test_the_place_decides_which_column_a_type_starts_from(insulation, wet, column):
    assert of("2", insulation=insulation, wet=wet).table_ampacity == column


@pytest.mark.parametrize(
    ("size", "material", "device"),
    [
        ("14", "copper", 15),
        ("12", "copper", 20),
        ("10", "copper", 30),
        ("12", "aluminum", 15),
        ("10", "aluminum", 25),
        ("8", "copper", 50),
        ("6", "copper", 70),
        ("3", "copper", 100),
        ("1/0", "aluminum", 125),
        ("500", "copper", 400),
    ],
)
def test_the_device_is_standard_next_larger_where_none_meets_it_and_capped_for_small_wire(size, material, device):
    assert of(size, material=material).overcurrent_device == device


def test_cord_and_plug_circuits_round_down():
    assert of("6").overcurrent_device == 70
    assert of("6", cord_and_plug=True).overcurrent_device == 60


def test_no_device_may_be_small_enough():
    found = of("14", current_carrying=50, cord_and_plug=True)

    assert found.ampacity < 15
    assert (found.overcurrent_device, found.largest_load) == (None, None)
    assert of("14", current_carrying=50, cord_and_plug=True, continuous=2.0).carries is False


def test_a_load_is_held_by_conductor_and_device():
    assert of("12").largest_load == 20
    assert of("8", ambient=40.0, current_carrying=6).largest_load == pytest.approx(55 * 0.91 * 0.8)


def test_a_continuous_load_leaves_a_fifth_free():
    assert of("12", continuous=True).largest_load == 16
    assert of("12", continuous=False).largest_load == 20


@pytest.mark.parametrize(
    ("continuous", "other", "needed", "carries"),
    [
        (16.0, 0.0, 20, True),
        (16.1, 0.0, 20.125, False),
        (8.0, 10.0, 20, True),
        (8.0, 11.0, 21, False),
        (None, 20.0, 20, True),
    ],
)
def test_a_given_load_counts_its_continuous_part_by_a_quarter_more(continuous, other, needed, carries):
    found = of("12", continuous=continuous, noncontinuous=other)

    assert found.needed == pytest.approx(needed)
    assert (found.carries, found.largest_load) == (carries, None)


def test_conductor_and_device_each_have_to_be_enough():
    """8 AWG among six: 44 A after the factors, so 45 A at the device at most, and that is 36 A of continuous load."""
    assert of("8", current_carrying=6, continuous=36.0).carries
    assert not of("8", current_carrying=6, continuous=36.5).carries
    assert not of("8", current_carrying=6, noncontinuous=44.5).carries


@pytest.mark.parametrize(
    ("more", "field"),
    [
        ({"wet": True}, "insulation"),
        ({"insulation": "NM"}, "insulation"),
        ({"insulation": "THW", "ambient": 72.0}, "ambient"),
        ({"ambient": 86.0}, "ambient"),
        ({"current_carrying": 0}, "current_carrying"),
        ({"terminals": 80.0}, "terminals"),
        ({"material": "steel"}, "material"),
        ({"continuous": True, "noncontinuous": 4.0}, "continuous"),
        ({"edition": "1999"}, "edition"),
    ],
)
def test_what_the_tables_do_not_hold_is_refused_by_its_name(more, field):
    with pytest.raises(InputError) as refused:
        of("8", **more)

    assert refused.value.field == field


def test_14_awg_aluminum_is_not_listed():
    with pytest.raises(InputError) as refused:
        of("14", material="aluminum")

    assert refused.value.field == "conductor_size"
    assert "14" not in refused.value.accepted.params["choices"]


@pytest.mark.parametrize("text", ["aluminium", "AL", "Aluminum"])
def test_the_metals_have_their_other_words(text):
    typed = {"conductor_size": "8", "insulation": "THHN", "ambient": "86 F", "current_carrying": "3", "terminals": "75"}

    assert AMPACITY.solve({**typed, "material": text}).table_ampacity == 45


@given(CASES)
def test_ampacity_never_passes_its_terminals_or_its_corrected_column(case):
    found = ampacity(**case)

    assert found.ampacity <= min(found.terminal_limit, found.corrected)
    assert found.overcurrent_device in STANDARD_DEVICES


@given(CASES, SIZES)
def test_a_larger_conductor_never_carries_less(case, size):
    smaller, larger = sorted((case["conductor_size"], size), key=TABLE_SIZES.index)

    assert (
        ampacity(**{**case, "conductor_size": smaller}).ampacity
        <= ampacity(**{**case, "conductor_size": larger}).ampacity
    )


@given(CASES, st.integers(0, 40), st.floats(0, 10))
def test_more_neighbours_or_more_heat_never_help(case, neighbours, heat):
    crowded = {**case, "current_carrying": case["current_carrying"] + neighbours}
    hotter = {**case, "ambient": min(case["ambient"] + heat, 50)}

    assert ampacity(**crowded).ampacity <= ampacity(**case).ampacity
    assert ampacity(**hotter).ampacity <= ampacity(**case).ampacity


@given(CASES)
def test_a_continuous_load_is_never_larger(case):
    if not rating(case["insulation"], wet=False):
        return
    assert ampacity(**case, continuous=True).largest_load <= ampacity(**case).largest_load


@pytest.mark.parametrize(("edition", "table"), [("2017", "Table 310.15(B)(16)"), ("2020", "Table 310.16")])
def test_the_steps_name_the_tables_of_the_edition(edition, table):
    _, steps = trace(ampacity, conductor_size="8", **BASE, edition=edition)

    assert table in {step.note.params.get("table") for step in steps if step.note}


@pytest.mark.parametrize(
    ("continuous", "other", "device"), [(16.0, 0.0, 20.0), (16.0, 0.5, 25.0), (20.0, 6.0, 35.0), (48.0, 12.0, 80.0)]
)
def test_the_device_for_a_load_is_the_first_standard_one_that_is_not_below_what_it_counts(continuous, other, device):
    assert of("1", continuous=continuous, noncontinuous=other).load_device == device


def test_without_a_load_or_above_the_largest_standard_rating_there_is_no_such_device():
    assert of("12").load_device is None
    assert of("500", continuous=700.0).load_device is None
