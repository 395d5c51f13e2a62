"""Rows of question files that state what a wrong route leads to, where no formula can: held against the core."""

from __future__ import annotations

import tomllib

import pytest

from trainer.calc.ampacity_device import STANDARD_DEVICES, device_for_load
from trainer.calc.pulling import pulling_tension
from trainer.calc.pulling_sections import read_sections
from trainer.calc.wire_lists import read_conductors
from trainer.problems.shelf import content_root

QUESTIONS = content_root() / "questions"


def rows_of(name, parameter):
    return tomllib.loads((QUESTIONS / name).read_text("utf-8"))["draw"][parameter]["rows"]


@pytest.mark.parametrize("row", rows_of("conductors/device-for-the-load.toml", "load"), ids=str)
def test_the_device_for_a_load_and_its_wrong_routes(row):
    device = device_for_load(1.25 * row["steady"] + row["rest"])

    assert (row["continuous"], row["noncontinuous"]) == (f"{row['steady']} A", f"{row['rest']} A")
    assert row["by_sum"] == device_for_load(row["steady"] + row["rest"])
    assert row["by_all"] == device_for_load(1.25 * (row["steady"] + row["rest"]))
    assert row["below"] == STANDARD_DEVICES[STANDARD_DEVICES.index(device) - 1]


def behind(sections, friction):
    one = read_conductors("1 #4/0 THHN")
    return pulling_tension(read_sections(sections), friction, 2.0, one, feed_tension=1000.0).tension / 1000


@pytest.mark.parametrize("row", rows_of("pulling/tension-through-bends.toml", "rub"), ids=str)
def test_the_growth_of_tension_in_90_degrees(row):
    assert row["growth"] == pytest.approx(behind("90 bend r 2 ft", row["friction"]), abs=0.0005)


@pytest.mark.parametrize("row", rows_of("pulling/tension-through-bends.toml", "bends"), ids=str)
def test_the_bends_are_counted_and_their_degrees_added(row):
    sections = read_sections(row["sections"])

    assert len(sections) == row["count"]
    assert sum(section.angle for section in sections) == 90 * row["quarters"]
