"""A smaller share of tests/benchmarks/fuzz_lengths.py, which tries a million strings."""

from __future__ import annotations

import runpy
from pathlib import Path

import pytest

FUZZ = Path(__file__).parents[1] / "benchmarks" / "fuzz_lengths.py"


@pytest.fixture(scope="module")
def fuzz():
    return runpy.run_path(str(FUZZ))


@pytest.fixture(scope="module")
def fuzzed(fuzz):
    return fuzz["fuzz"](8_000, seed=7)


def test_no_string_breaks_the_reader(fuzzed):
    assert fuzzed.wrong == []


def test_strings_of_both_kinds_are_tried(fuzzed):
    assert fuzzed.read > 3_000
    assert fuzzed.refused > 3_000


@pytest.mark.parametrize(("text", "meant"), [("40-1/2", 41), ("4 in in", 4), ("12 mm", 12)])
def test_what_is_read_otherwise_than_meant_or_refused_is_told(fuzz, text, meant):
    report = fuzz["Fuzzed"]()

    fuzz["trial"](text, meant, report)

    assert len(report.wrong) == 1


def test_the_same_seed_tries_the_same_strings(fuzz):
    assert fuzz["fuzz"](500, seed=3) == fuzz["fuzz"](500, seed=3)
