"""A walk along a run says what the checks of straps and bends say, and nothing of its own."""

from __future__ import annotations

import pytest

from trainer.calc.bend_total import bend_total
from trainer.calc.run_walk import RUN_WALK, run_walk
from trainer.calc.strap_check import strap_check
from trainer.calc.stretches import Stretch


@pytest.mark.parametrize("gaps", [(24, 114, 132, 30), (37, 100, 20), (36, 120, 36), (12, 121, 121, 40)])
def test_straps_are_judged_by_the_check(gaps):
    straps = tuple(sum(gaps[:nth]) for nth in range(1, len(gaps)))
    result = run_walk(gaps, bends=(Stretch(20, 28),))

    assert result.violations == strap_check(sum(gaps), straps, bends=(Stretch(20, 28),)).violations
    assert result.violation_count == len(result.violations)


@pytest.mark.parametrize("angles", [(90, 90), (90, 90, 90, 45, 46)])
def test_bends_are_added_up_by_their_own_rule(angles):
    result = run_walk((30, 100, 30), angles=angles)

    assert (result.total, result.within_limit) == (bend_total(angles).total, bend_total(angles).within_limit)


def test_distances_and_limit_of_a_place_judge_in_the_place_of_the_code_s():
    gaps, straps = (30, 110, 30), (30, 140)
    own = {"max_spacing": 96.0, "max_from_end": 24.0}
    result = run_walk(gaps, angles=(90, 90, 90, 30), limit=270, **own)

    assert run_walk(gaps, angles=(90, 90, 90, 30)).violations == ()
    assert [fault.limit for fault in result.violations] == [24, 96, 24]
    assert result.violations == strap_check(170, straps, **own).violations
    assert not result.within_limit


def test_a_run_without_a_strap_or_with_a_bend_beyond_it_is_refused(refused):
    assert refused(run_walk, (30,)).field == "gaps"
    assert refused(run_walk, (30, 60), bends=(Stretch(80, 95),)).field == "bends"
    assert refused(run_walk, (30, 60), couplings=(95.0,)).field == "couplings"


def test_each_thing_is_said_once_in_its_steps():
    _, steps = RUN_WALK.trace({"gaps": (22.0, 120.0, 120.0, 41.0)})
    said = [str(step.note) for step in steps if step.note]

    assert len(said) == len(set(said)) > 2
