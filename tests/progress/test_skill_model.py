"""A small share of tests/benchmarks/skill_model.py, with wide margins: the model among learners that it wasn't made for."""

from __future__ import annotations

import importlib
import sys
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest

from trainer.progress.points import Line, rule_for

BENCHMARKS = Path(__file__).parents[1] / "benchmarks"
PARTS = (
    "skill_truths",
    "skill_learners",
    "skill_fit",
    "proof_chances",
    "skill_proof",
    "skill_turns",
    "skill_alarm",
    "skill_speed",
)
KINDS = ("Gradual", "Sudden")
SEED = 5


@pytest.fixture(scope="module")
def bench():
    """The benchmark's own functions."""
    sys.path.insert(0, str(BENCHMARKS))
    try:
        return SimpleNamespace(**{part: importlib.import_module(part) for part in PARTS})
    finally:
        sys.path.remove(str(BENCHMARKS))


@pytest.fixture(scope="module", params=KINDS)
def kind(request, bench):
    return getattr(bench.skill_truths, request.param)


def test_chances_are_near_what_comes_and_say_more_than_a_constant_guess(bench, kind):
    answers = bench.skill_learners.months(24, kind, SEED, skills=5, answers=100)
    found = bench.skill_fit.fit(answers)

    assert found["calibration"] <= 0.07
    assert found["log-loss"] < found["constant"] - 0.005
    assert found["log-loss"] < found["regression"] + 0.05
    assert bench.skill_alarm.false_alarms(answers)[0] == 0


def test_the_calibration_error_tells_good_chances_from_bad_ones(bench):
    expected = np.linspace(0.05, 0.95, 2000)
    right = (np.random.default_rng(SEED).random(2000) < expected).astype(float)

    assert bench.skill_fit.calibration_error(expected, right) < 0.05
    assert bench.skill_fit.calibration_error(expected[::-1], right) > 0.3
    assert bench.skill_fit.log_loss(expected, right) < bench.skill_fit.log_loss(expected[::-1], right)


def test_two_numbers_mend_chances_that_are_all_too_high(bench):
    random = np.random.default_rng(SEED)
    truth, days = random.uniform(0.2, 0.9, 20_000), np.linspace(0, 120, 20_000)
    too_high = 1 / (1 + (1 - truth) / truth * np.exp(-1))
    right = (random.random(20_000) < truth).astype(float)

    assert bench.skill_fit.calibration_error(too_high, right) > 0.1
    assert bench.skill_fit.calibration_error(*bench.skill_fit.recalibrated(days, too_high, right)) < 0.03


@pytest.mark.parametrize("pool", ["TYPICAL", "POOL"])
def test_a_run_needs_hardly_more_answers_than_the_best_test_with_its_errors(bench, pool):
    exact = bench.proof_chances
    questions = getattr(exact, pool)
    low, high = (exact.one_run(rule_for(Line.STRICT), level, questions) for level in (0.937, 2.5))
    least = exact.wald_answers(low.ready, 1 - high.ready, questions)

    assert 1 < high.answers / least <= 1.10
    assert exact.ever_ready(Line.STRICT, 0.937, pool=questions) <= 0.044


def test_the_published_figures_of_the_first_run_come_out(bench):
    """Wald's limit, and answers and chances at the two levels, as they were published with the rule."""
    exact = bench.proof_chances
    low, high = (exact.one_run(rule_for(Line.STRICT), level) for level in (0.937, 2.5))

    assert (low.ready, low.answers) == pytest.approx((0.019, 18), rel=0.1)
    assert (high.ready, high.answers) == pytest.approx((0.89, 29), rel=0.03)
    assert exact.wald_answers(low.ready, 1 - high.ready) == pytest.approx(27.6, abs=0.1)


def test_hardly_anybody_is_found_ready_who_is_not_and_most_of_the_able_are(bench, kind):
    found = bench.skill_proof.figures(bench.skill_proof.lives(200, kind, SEED, first=20))

    assert found["marked"] >= 30
    assert found["below"] <= 0.05
    assert found["able"] >= 4
    assert found["not marked"] <= 0.2


def test_the_choice_leaves_the_weakest_skill_no_worse_than_taking_turns(bench, kind):
    found = bench.skill_turns.turns(12, kind, SEED, 8)

    assert found["chooser"][0] >= found["by turns"][0] - 0.02
    assert found["chooser"][1] >= found["by turns"][1] - 0.05


def test_a_wrong_key_is_soon_heard_though_its_family_looks_harder_with_every_answer(bench, kind):
    soon, tries = bench.skill_alarm.wrong_key(kind, SEED, keys=200, learning=True)

    assert soon >= 0.75
    assert tries <= 9


def test_a_history_read_from_text_ends_in_the_same_bits_and_another_does_not(bench):
    assert bench.skill_speed.same_bits(answers=1000)

    one, other = (bench.skill_speed.folded(bench.skill_speed.history(1000, seed))[1] for seed in (1, 2))

    assert one != other
