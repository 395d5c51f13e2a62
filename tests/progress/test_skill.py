"""The skill model against its own worked example, printed to the last digit, and against what it promises."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.progress.constants import CURRENT
from trainer.progress.effect import NOTHING, Effect
from trainer.progress.skill import SkillState, chance, days_since, fresh, likely_range, start_level, update

START = datetime(2026, 9, 1, 18, 0, tzinfo=UTC)
LUCKY = CURRENT.lucky_typed

# Day of the answer, difficulty, right; then as printed: chance before, level, variance, holding time, chance, range.
EXAMPLE = [
    (0, 0.0, True, ".561", "0.668", "0.884", "2.0", ".635", ".30", ".89"),
    (0, 0.2, False, ".596", "0.464", "0.799", "2.0", ".596", ".28", ".86"),
    (0, 0.0, True, ".596", "0.760", "0.733", "2.0", ".655", ".35", ".88"),
    (0, -0.3, True, ".709", "0.982", "0.693", "2.0", ".697", ".41", ".90"),
    (3, 0.0, True, ".654", "0.992", "0.660", "5.0", ".699", ".42", ".89"),
    (3, 0.4, True, ".624", "1.233", "0.622", "5.0", ".741", ".48", ".91"),
    (12, 0.0, True, ".697", "1.177", "0.605", "12.5", ".733", ".48", ".90"),
    (12, 0.1, True, ".716", "1.364", "0.585", "12.5", ".763", ".53", ".91"),
]


def first_try(*, right):
    return Effect(right, CURRENT.weight, 1.0)


def answered(state, day, difficulty, right):
    """The chance before an answer on `day`, and the state after it."""
    now = START + timedelta(days=day)
    days = days_since(state.last_at, now)
    before = chance(state, days=days, difficulty=difficulty)
    after = update(state, first_try(right=right), difficulty=difficulty, days=days, lucky=LUCKY, now=now)
    return before, after


def after_the_example():
    state = fresh()
    for day, difficulty, right, *_ in EXAMPLE:
        _, state = answered(state, day, difficulty, right)
    return state


def printed(value, digits):
    return f"{value:.{digits}f}".removeprefix("0" if digits != 1 and value < 1 else "")


def test_the_worked_example_comes_out_to_the_last_printed_digit():
    state = fresh()
    for day, difficulty, right, before, level, variance, holding, now, low, high in EXAMPLE:
        expected, state = answered(state, day, difficulty, right)

        assert f"{expected:.3f}"[1:] == before
        assert f"{state.level:.3f}" == level
        assert f"{state.variance:.3f}" == variance
        assert f"{state.holding_days:.1f}" == holding
        assert f"{chance(state):.3f}"[1:] == now
        assert [f"{end:.2f}"[1:] for end in likely_range(state)] == [low, high]


@pytest.mark.parametrize(("days", "expected"), [(7, ".745"), (30, ".713"), (90, ".673")])
def test_the_worked_example_fades_as_printed(days, expected):
    assert f"{chance(after_the_example(), days=days):.3f}"[1:] == expected


def test_repeats_on_one_day_do_not_lengthen_the_holding_time():
    state = fresh()
    for _ in range(10):
        _, state = answered(state, 0, 0.0, right=True)

    assert state.holding_days == CURRENT.holding_start


def test_a_failure_after_a_gap_shortens_the_holding_time_but_not_below_the_first():
    long_held = SkillState(1.0, 0.6, 10.0, 8, START)
    short_held = SkillState(1.0, 0.6, 2.5, 8, START)

    assert answered(long_held, 20, 0.0, right=False)[1].holding_days == pytest.approx(7.0)
    assert answered(short_held, 20, 0.0, right=False)[1].holding_days == CURRENT.holding_start


def test_the_holding_time_has_a_ceiling():
    state = SkillState(1.0, 0.6, 170.0, 30, START)

    assert answered(state, 200, 0.0, right=True)[1].holding_days == CURRENT.holding_longest


def test_days_below_half_a_day_are_none_and_a_first_answer_has_none():
    assert days_since(None, START) == 0
    assert days_since(START, START + timedelta(hours=11)) == 0
    assert days_since(START, START + timedelta(hours=12)) == 0.5
    assert days_since(START, START - timedelta(days=3)) == 0


def test_an_answer_that_counts_for_nothing_leaves_the_state_untouched():
    state = fresh()

    assert update(state, NOTHING, difficulty=0.0, days=3.0, lucky=LUCKY, now=START) is state


def test_a_right_second_try_takes_half_a_learning_step_and_no_evidence():
    state = SkillState(0.5, 0.8, 2.0, 0, START)
    after = update(state, Effect(True, 0.0, 0.5), difficulty=0.0, days=0.0, lucky=LUCKY, now=START)

    assert (after.level, after.variance) == pytest.approx((0.56, 0.82))
    assert (after.holding_days, after.counted, after.last_at) == (2.0, 1, START)


def test_other_skills_move_the_start_by_at_most_one_logit():
    strong = SkillState(4.3, 0.5, 20.0, 12)

    assert start_level([strong]) == pytest.approx(1.3)
    assert start_level([strong, SkillState(-9.0, 1.0, 2.0, 4)]) == pytest.approx(1.3)
    assert start_level([SkillState(-9.7, 0.5, 2.0, 30)]) == pytest.approx(-0.7)


answers = st.lists(st.tuples(st.integers(0, 40), st.floats(-3, 3), st.booleans()), max_size=40)


@given(answers)
def test_no_history_leaves_the_ranges_that_the_database_keeps(history):
    state, day = fresh(), 0
    for gap, difficulty, right in history:
        day += gap
        before, state = answered(state, day, difficulty, right)

        assert 0 < before < 1
        assert state.variance > 0
        assert CURRENT.holding_start <= state.holding_days <= CURRENT.holding_longest


@given(answers)
def test_without_practice_the_chance_never_rises_and_the_range_holds_it(history):
    state, day = fresh(), 0
    for gap, difficulty, right in history:
        day += gap
        _, state = answered(state, day, difficulty, right)
    chances = [chance(state, days=days) for days in (0, 1, 7, 30, 90, 365)]
    low, high = likely_range(state)

    assert low < chances[0] < high
    assert all(later <= earlier for earlier, later in pairwise(chances) if earlier >= 0.5)
