"""Sections of a pull are read in the order in which the conductors go through them."""

from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.calc.message import InputError
from trainer.calc.pulling_sections import Section, read_sections


@pytest.mark.parametrize(
    ("text", "section"),
    [
        ("200 ft", Section(2400)),
        ("straight 200 ft", Section(2400)),
        ("200 ft level", Section(2400)),
        ("12' 6\"", Section(150)),
        ("50 ft up", Section(600, 90)),
        ("50 ft down", Section(600, -90)),
        ("50 ft down 20 deg", Section(600, -20)),
        ("50 ft up 22.5°", Section(600, 22.5)),
        ("10 m up", Section(pytest.approx(10_000 / 25.4), 90)),
        ("90 bend", Section(angle=90)),
        ("90°", Section(angle=90)),
        ("45 deg bend", Section(angle=45)),
        ("22-1/2 degrees elbow", Section(angle=22.5)),
        ("90 bend r 2 ft", Section(angle=90, radius=24)),
        ("90° radius 18 in", Section(angle=90, radius=18)),
        ("90 deg bend at 24", Section(angle=90, radius=24)),
        ("90 BEND R=36 in", Section(angle=90, radius=36)),
    ],
)
def test_one_section_is_read_in_all_its_ways(text, section):
    assert read_sections(text) == (section,)


def test_sections_keep_their_order():
    assert [section.is_bend for section in read_sections("20 ft, 90 bend; 10 ft up\n45 bend")] == [
        False,
        True,
        False,
        True,
    ]


def test_pulled_the_other_way_up_is_down():
    assert read_sections("50 ft up 20 deg")[0].reversed() == read_sections("50 ft down 20 deg")[0]


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("", "pulling.not-understood"),
        ("200 ft,", "pulling.not-understood"),
        ("200 ft sideways", "pulling.not-understood"),
        ("200 lb", "pulling.not-understood"),
        ("-200 ft", "pulling.not-understood"),
        ("200 ft 200 ft", "pulling.not-understood"),
        ("90 bend r banana", "pulling.not-understood"),
        ("1e9 ft", "pulling.not-understood"),
        ("0 ft", "pulling.out-of-range"),
        ("60000 ft", "pulling.out-of-range"),
        ("50 ft up 95 deg", "pulling.out-of-range"),
        ("270 bend", "pulling.out-of-range"),
        ("0 bend", "pulling.out-of-range"),
        ("90 bend r 0 in", "pulling.radius-out-of-range"),
        ("90 bend r 900 ft", "pulling.radius-out-of-range"),
        ("200 ft, " * 60, "input.list-too-long"),
    ],
)
def test_what_is_no_section_is_refused_with_its_reason(text, reason):
    with pytest.raises(InputError) as refused:
        read_sections(text)

    assert refused.value.reason.id == reason
    assert refused.value.given == text
    assert read_sections(refused.value.example)


STRAIGHTS = st.builds(Section, st.integers(1, 5000).map(float), st.integers(-90, 90).map(float))
BENDS = st.builds(Section, angle=st.integers(1, 180).map(float), radius=st.none() | st.integers(1, 96).map(float))


@given(st.lists(STRAIGHTS | BENDS, min_size=1, max_size=8).map(tuple))
def test_sections_read_back_as_they_are_written(sections):
    assert read_sections(", ".join(map(str, sections))) == sections


@given(st.text(max_size=60) | st.text("0123456789. ftupdownbeg°r/'\"-,", max_size=60))
def test_no_text_breaks_the_reader(text):
    with suppress(InputError):
        assert read_sections(text)
