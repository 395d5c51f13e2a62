from __future__ import annotations

import pytest

from trainer.calc.tape_reading import tape_reading


@pytest.mark.parametrize(
    ("reading", "on_tape", "inch", "ticks"),
    [(23.6875, 23.6875, 23, 11), (7, 7, 7, 0), (34.703, 34.6875, 34, 11), (11.97, 12, 12, 0), (0.03125, 0.0625, 0, 1)],
)
def test_the_nearest_sixteenth_and_the_ticks_behind_its_inch(reading, on_tape, inch, ticks):
    result = tape_reading(reading)

    assert (result.on_tape, result.inch, result.ticks) == (on_tape, inch, ticks)
    assert result.length == on_tape


def test_the_rounding_says_how_much_more_the_tape_shows():
    assert tape_reading(34.703).rounding == pytest.approx(-0.0155)
    assert tape_reading(11.97).rounding == pytest.approx(0.03)


def test_what_was_held_at_the_start_comes_off():
    assert tape_reading(47.5, 10).length == 37.5
    assert tape_reading(13.0625, 1).length == 12.0625


@pytest.mark.parametrize(
    ("values", "field"),
    [
        ({"reading": 0}, "reading"),
        ({"reading": 9.99, "begun_at": 10}, "reading"),
        ({"reading": 5, "begun_at": -1}, "begun_at"),
        ({"reading": 1201}, "reading"),
    ],
)
def test_what_is_no_reading_is_refused(values, field, refused):
    assert refused(tape_reading, **values).field == field
