"""Lists of conductors are read in all the ways in which the trade writes them, and nothing else is."""

from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.calc.conductors import INSULATIONS, SIZES, ConductorGroup
from trainer.calc.message import InputError
from trainer.calc.wire_lists import read_conductors, read_insulation, read_size, read_sizes

THREE = (ConductorGroup(3, "12", "THHN"),)


@pytest.mark.parametrize(
    "text",
    [
        "3 #12 THHN",
        "3#12THHN",
        "3 - #12 THHN",
        "3-12 THHN",
        "3–12 THHN",
        "3x12 THHN",
        "3 × 12 thhn",
        "3 x #12 AWG THHN",
        "3 @ #12 THHN",
        "(3) 12 AWG THHN",
        "( 3 ) #12 THHN",
        "(3)x12 THHN",
        "(3)-#12 THHN",
        "3 12 THHN",
        "3 No. 12 THHN",
        "3 no 12 awg THHN",
        "3 №12 THHN",
        "3 THHN #12",
        "3 THHN 12 AWG",
        "3 THHN no. 12",
        "3 #12 cu THHN wires",
        "  3\t#12   THHN\n".strip(),
    ],
)
def test_one_kind_is_read_in_all_its_ways(text):
    assert read_conductors(text) == THREE


@pytest.mark.parametrize("between", [", ", ";", "\n", " + ", " and ", " & ", ","])
def test_kinds_are_parted_by_what_people_put_between_them(between):
    assert read_conductors(f"3 #12 THHN{between}1 #10 bare") == (*THREE, ConductorGroup(1, "10", "bare"))


@pytest.mark.parametrize(
    ("text", "size"),
    [
        ("12", "12"),
        ("#12", "12"),
        ("12 AWG", "12"),
        ("no. 8", "8"),
        ("1/0", "1/0"),
        ("#4/0 AWG", "4/0"),
        ("0", "1/0"),
        ("0000", "4/0"),
        ("250", "250"),
        ("500 kcmil", "500"),
        ("350MCM", "350"),
        ("250-kcmil", "250"),
    ],
)
def test_a_size_is_read_in_all_its_ways(text, size):
    assert read_size(text) == size


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("thhn", "THHN"),
        ("THWN2", "THWN-2"),
        ("thhn/thwn-2", "THHN/THWN-2"),
        ("THWN-2/THHN", "THHN/THWN-2"),
        ("RHW-2*", "RHW-2*"),
        ("rhw", "RHW"),
    ],
)
def test_a_type_of_insulation_is_read_with_its_markings_in_any_order(text, name):
    assert read_insulation(text) == name


def test_bare_conductors_are_stranded_unless_they_are_called_solid():
    assert read_conductors("1 #8 bare, 1 #10 solid bare, 1 bare #6") == (
        ConductorGroup(1, "8", "bare"),
        ConductorGroup(1, "10", "bare solid"),
        ConductorGroup(1, "6", "bare"),
    )


def test_in_a_box_only_count_and_size_matter():
    assert read_sizes("8 #12, 2x14 THHN") == (ConductorGroup(8, "12"), ConductorGroup(2, "14"))


@pytest.mark.parametrize("text", ["none", "0", "No", " none "])
def test_a_box_may_have_none_of_a_kind(text):
    assert read_sizes(text) == ()


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("", "conductors.empty-item"),
        ("3 #12 THHN,", "conductors.empty-item"),
        ("12 THHN", "conductors.one-number"),
        ("#12 THHN", "conductors.one-number"),
        ("(3) THHN", "conductors.one-number"),
        ("3 #12", "conductors.no-insulation"),
        ("3 #13 THHN", "conductors.no-such-size"),
        ("3 #12 THN", "conductors.near-type"),
        ("3 #12 QQQQ", "conductors.no-such-type"),
        ("3 #12 THHN/XHHW", "conductors.near-type"),
        ("3 250 AWG THHN", "conductors.other-unit"),
        ("3 12 kcmil THHN", "conductors.other-unit"),
        ("0 #12 THHN", "input.no-times"),
        ("3 #12 THHN 3 #12 THHN", "conductors.not-understood"),
        ("-3 #12 THHN", "conductors.not-understood"),
        ("3.5 #12 THHN", "conductors.not-understood"),
        ("1e9 #12 THHN", "conductors.not-understood"),
        ("nan #12 THHN", "conductors.not-understood"),
        ("３ #12 THHN", "conductors.not-understood"),
        ("9999 #12 THHN", "input.too-many-items"),
        ("3 #12 THHN, " * 50, "input.list-too-long"),
    ],
)
def test_what_cannot_be_read_is_refused_with_its_reason(text, reason):
    with pytest.raises(InputError) as refused:
        read_conductors(text)

    assert refused.value.reason.id == reason
    assert refused.value.given == text
    assert read_conductors(refused.value.example)


@pytest.mark.parametrize("text", ["", "13", "12 THHN", "5/0", "1000", "-12", "12 12", "#", "250 awg"])
def test_no_other_size_is_taken(text):
    with pytest.raises(InputError):
        read_size(text)


@pytest.mark.parametrize("text", ["", "bare", "NM", "THHN THHN THHN XHHW", "x" * 500])
def test_no_other_insulation_is_taken(text):
    with pytest.raises(InputError):
        read_insulation(text)


@given(
    st.lists(
        st.builds(ConductorGroup, st.integers(1, 100), st.sampled_from(SIZES), st.sampled_from(INSULATIONS)),
        min_size=1,
        max_size=8,
    )
)
def test_a_list_reads_back_as_it_is_written(groups):
    assert read_conductors(", ".join(map(str, groups))) == tuple(groups)


@given(st.text(max_size=60) | st.text("0123456789#()-x/, awgkcmilthnbare", max_size=60))
def test_no_text_breaks_the_reader(text):
    for read in (read_conductors, read_sizes, read_size, read_insulation):
        with suppress(InputError):
            read(text)
