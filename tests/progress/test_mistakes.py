from __future__ import annotations

from datetime import UTC, datetime, timedelta
from itertools import product

from trainer.progress.mistakes import History, remember

MONDAY = datetime(2026, 9, 7, 18, 0, tzinfo=UTC)


def remembered(*answers):
    """The history after answers written as "m" (the mistake), "w" (wrong otherwise), "r" (right), one each hour."""
    history = History()
    for hours, answer in enumerate(answers):
        history = remember(history, shown=answer == "m", right=answer == "r", at=MONDAY + timedelta(hours=hours))
    return history


def test_once_is_no_habit_and_twice_of_six_is():
    assert not remembered(*"mrrr").active
    assert remembered(*"mrrrrm").active


def test_what_lies_more_than_six_problems_back_is_forgotten():
    assert remembered(*"mwwwwm").active
    assert not remembered(*"mwwwwwm").active
    assert remembered(*"mwwwwwm").seen == 6


def test_two_right_on_one_day_do_not_clear_it():
    assert remembered(*"mmrr").active


def test_the_last_two_right_on_two_days_clear_it():
    tuesday = MONDAY + timedelta(days=1)
    cleared = remember(remembered(*"mmr"), shown=False, right=True, at=tuesday)

    assert not cleared.active
    assert cleared.bits == 0


def test_one_mistake_after_it_was_cleared_is_not_a_habit_again():
    cleared = remember(remembered(*"mmr"), shown=False, right=True, at=MONDAY + timedelta(days=1))
    slipped = remember(cleared, shown=True, right=False, at=MONDAY + timedelta(days=2))

    assert not slipped.active


def test_a_wrong_answer_between_two_right_ones_keeps_it_from_being_cleared():
    history = remembered(*"mmrw")

    assert remember(history, shown=False, right=True, at=MONDAY + timedelta(days=1)).active


def test_chance_slips_of_three_in_a_hundred_light_it_falsely_in_about_one_case_in_eighty():
    falsely = sum(
        0.03 ** slips.count("m") * 0.97 ** slips.count("w")
        for slips in product("mw", repeat=6)
        if remembered(*slips).active
    )

    assert round(falsely, 4) == 0.0125


def test_bits_and_count_stay_within_what_the_database_keeps():
    history = remembered(*"m" * 40)

    assert history == History(0b111111, 6)
