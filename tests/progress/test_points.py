"""Points of a proof run against the published figures of the model and against exact chances."""

import runpy
from math import isclose, log
from pathlib import Path
from types import SimpleNamespace

import pytest

from trainer.progress.points import LINES, Line, rule_for


@pytest.fixture(scope="module")
def exact():
    """Chances of whole runs, summed over paths, as the benchmark of the model counts them."""
    return SimpleNamespace(**runpy.run_path(str(Path(__file__).parents[1] / "benchmarks" / "proof_chances.py")))


@pytest.mark.parametrize(
    ("difficulty", "right", "wrong"), [(0.0, 0.98, -4.54), (-1.0, 0.41, -4.28), (1.0, 2.02, -3.86)]
)
def test_points_of_the_strict_line_are_those_of_the_model(difficulty, right, wrong):
    """A typical, an easy and a hard problem, as they were simulated when the rule was chosen, to a hundredth."""
    points = rule_for(Line.STRICT).points(difficulty)

    assert points.right == pytest.approx(right, abs=0.01)
    assert points.wrong == pytest.approx(wrong, abs=0.01)


def test_the_light_line_gives_about_one_and_minus_three_and_a_half():
    points = rule_for(Line.LIGHT).points(0.0)

    assert points.right == pytest.approx(1, abs=0.02)
    assert points.wrong == pytest.approx(-3.42, abs=0.2)


@pytest.mark.parametrize("line", Line)
@pytest.mark.parametrize("difficulty", [-2.0, 0.0, 0.7, 2.0])
@pytest.mark.parametrize("lucky", [0.02, 0.25])
def test_an_answer_of_someone_at_the_lower_level_is_worth_nothing_on_average(line, difficulty, lucky):
    """The likelihood ratio is 1 on average there: the bound of Ville rests on it."""
    points = rule_for(line).points(difficulty, lucky)
    terms = LINES[line]
    unit = log(0.9 / terms.lower)
    chance = lucky + (1 - lucky - 0.02) / (1 + 2.718281828459045 ** (difficulty - terms.lower_level))

    mean = chance * (0.9 / terms.lower) ** points.right + (1 - chance) * (0.9 / terms.lower) ** points.wrong

    assert isclose(mean, 1, rel_tol=1e-9)
    assert unit > 0


@pytest.mark.parametrize(("line", "level", "most"), [(Line.STRICT, 0.937, 0.05), (Line.LIGHT, 0.447, 0.05)])
def test_somebody_at_the_lower_line_is_hardly_ever_found_ready_however_often_he_tries(exact, line, level, most):
    assert exact.ever_ready(line, level) <= most


def test_somebody_at_the_upper_line_is_found_ready(exact):
    """Simulated when the rule was chosen: 89 % in the first run, 98 % by the second."""
    assert exact.ever_ready(Line.STRICT, 2.5, tries=1) == pytest.approx(0.89, abs=0.03)
    assert exact.ever_ready(Line.STRICT, 2.5, tries=2) == pytest.approx(0.98, abs=0.02)
    assert exact.ever_ready(Line.LIGHT, 2.5, tries=1) == pytest.approx(0.95, abs=0.03)


def level_of(exact, share):
    """The level at which somebody gets this share of a run's questions right, the families of the pool in turn."""
    low, high = -5.0, 8.0
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if exact.share_right(middle, exact.POOL) < share else (low, middle)
    return low


@pytest.mark.parametrize("line", Line)
def test_what_a_page_says_of_a_line_is_what_comes_of_it(exact, line):
    """Whole people of a hundred; the usual length to an answer."""
    for of_ten, (first, ever) in LINES[line].passes.items():
        level = level_of(exact, of_ten / 10)

        assert round(100 * exact.one_run(rule_for(line), level, exact.POOL).ready) == first
        assert round(100 * exact.ever_ready(line, level, pool=exact.POOL)) == ever
    run = exact.one_run(rule_for(line), level_of(exact, 0.9), exact.POOL)
    assert run.answers == pytest.approx(LINES[line].usual, abs=1)
