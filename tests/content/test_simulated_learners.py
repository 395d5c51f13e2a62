"""A smaller share of tests/benchmarks/simulated_learners.py: of those who make a slip of the trade, most are told which."""

from __future__ import annotations

import runpy
import sys
from pathlib import Path
from types import SimpleNamespace

import pytest

from trainer.problems.family import load_family
from trainer.problems.model import AnswerKind
from trainer.problems.shelf import content_root, load_families

BENCHMARKS = Path(__file__).parents[1] / "benchmarks"
FAMILIES = load_families(content_root() / "questions")
LEARNERS = 12

SLIPS_OF_AN_OFFSET = {"left the shrink out", "took the shrink off", "gave the near mark"}


@pytest.fixture(scope="module")
def simulated():
    """The benchmark's own functions."""
    sys.path.insert(0, str(BENCHMARKS))
    try:
        return SimpleNamespace(**runpy.run_path(str(BENCHMARKS / "simulated_learners.py")))
    finally:
        sys.path.remove(str(BENCHMARKS))


def test_four_of_five_learners_over_all_families_are_told_what_they_did(simulated):
    reports = simulated.simulate(FAMILIES.values(), LEARNERS)

    assert len(reports) >= 120
    assert simulated.share_told(reports) >= 0.8, {name: report.untold for name, report in reports.items()}


def test_a_family_that_knows_no_mistake_tells_nobody_anything(simulated):
    body = FAMILIES["offset-far-mark"].body
    bare = load_family(body[: body.index("[[mistakes]]")] + body[body.index("[[hints]]") :])

    report = simulated.learn(bare, LEARNERS, simulated.Random(1))

    assert report.told == 0
    assert report.missed == LEARNERS


def test_a_mistake_stands_for_the_slip_that_it_says_and_for_no_other(simulated):
    family = FAMILIES["offset-far-mark"]

    standing = simulated.stand_for(family, simulated.slips_of(family))

    assert standing.keys() >= SLIPS_OF_AN_OFFSET
    assert standing["left the shrink out"] == {"no-shrink"}
    assert standing["took the shrink off"] == {"shrink-subtracted"}
    assert standing["gave the near mark"] == {"near-mark"}


def test_a_numeric_family_without_slips_is_listed_and_one_of_choices_is_not(simulated):
    ask = SimpleNamespace(answer="travel")
    unlisted = SimpleNamespace(
        id="new",
        kind=AnswerKind.LENGTH,
        calculation=SimpleNamespace(name="offset"),
        shape=SimpleNamespace(ask=ask),
    )
    choices = next(family for family in FAMILIES.values() if family.statements)

    assert simulated.without_slips([unlisted, choices, FAMILIES["offset-shrink"]]) == ["new"]
