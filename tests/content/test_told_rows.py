"""Rows of question files that state what a wrong route leads to, where no formula can: held against the core."""

from __future__ import annotations

import tomllib

import pytest

from trainer.calc.ampacity_device import STANDARD_DEVICES, device_for_load
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
