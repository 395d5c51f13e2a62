"""When what was shown lapses: the fold over the answers, and what readiness makes of it."""

from datetime import UTC, datetime, timedelta

import pytest

from trainer.progress.effect import Try, effect_of
from trainer.progress.lapse import had_lapsed, lapsed, with_lapse
from trainer.progress.opening import DUE_AFTER, faded, fades_at
from trainer.progress.skill import SkillState, days_since, fresh, update

START = datetime(2026, 9, 1, 12, 0, tzinfo=UTC)
ABLE = SkillState(2.6, 0.3, 40.0, 30, START)


def after(state, verdict="right", **gap):
    """The state after one more answer, so long after the last one."""
    now = (state.last_at or START) + timedelta(**gap)
    use = {"difficulty": 0.0, "days": days_since(state.last_at, now), "lucky": 0.02, "now": now}
    return with_lapse(state, update(state, effect_of(verdict, Try.FIRST), **use))


def test_a_first_answer_leaves_a_skill_below_the_line():
    assert after(fresh()).lapsed_at == START


def test_while_it_stands_high_nothing_lapses():
    state = after(after(ABLE, days=1), days=2)

    assert state.lapsed_at is None
    assert not lapsed(state, START, state.last_at)


@pytest.mark.parametrize("state", [ABLE, SkillState(2.5, 0.3, 2.0, 30, START)])
def test_a_right_answer_after_a_long_gap_keeps_the_moment_at_which_it_lapsed(state):
    came_back = after(state, days=100)

    assert came_back.lapsed_at == fades_at(state) <= START + DUE_AFTER
    assert had_lapsed(came_back, START)


def test_one_answer_brings_the_chance_back_and_not_what_was_shown():
    state = after(SkillState(3.4, 0.3, 100.0, 30, START), days=91)

    assert not faded(state, state.last_at)
    assert lapsed(state, START, state.last_at)
    assert had_lapsed(after(state, days=1), START)


def test_what_is_shown_after_the_lapse_holds():
    state = after(after(ABLE, days=91), days=1)

    assert not had_lapsed(state, state.last_at)


def test_answers_that_are_wrong_take_it_below_the_line():
    state = ABLE
    while not faded(state, state.last_at):
        state = after(state, "wrong", minutes=3)

    assert state.lapsed_at == state.last_at
    assert had_lapsed(after(after(state, minutes=3), minutes=3), START)


def test_a_run_that_ends_on_a_low_chance_shows_nothing_that_holds():
    low = after(SkillState(1.0, 0.3, 5.0, 30, START), minutes=1)

    assert had_lapsed(low, low.last_at)


@pytest.mark.parametrize("level", [1.7, 1.8, 1.9, 2.2])
def test_the_moment_at_which_it_fades_is_the_first_that_counts_as_faded(level):
    state = SkillState(level, 0.2, 2.0, 20, START)
    ends = fades_at(state)

    assert ends == START or not faded(state, ends)
    assert faded(state, ends + timedelta(hours=1))
