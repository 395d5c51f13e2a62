"""The alarm of a key: how soon a wrong one is heard, how seldom a good one, and what it is told by."""

from random import Random

from trainer.progress.alarm import RAISED_AT, alarm_after
from trainer.records.models import FamilyDifficulty


def raised_after(chance, expected, most, seed):
    """First tries until the alarm, None when there was none."""
    random, alarm = Random(seed), 0.0
    for nth in range(1, most + 1):
        alarm = alarm_after(alarm, right=random.random() < chance, expected=expected)
        if alarm >= RAISED_AT:
            return nth
    return None


def test_a_wrong_key_is_heard_within_ten_first_tries():
    heard = [raised_after(0.03, 0.7, 10, seed) for seed in range(500)]

    assert sum(nth is not None for nth in heard) >= 0.8 * len(heard)


def test_a_good_key_is_hardly_ever_in_doubt_however_long_it_is_asked():
    heard = [raised_after(0.7, 0.7, 300, seed) for seed in range(2000)]

    assert sum(nth is not None for nth in heard) <= 0.002 * len(heard)


def families(desk):
    with desk.database.read() as session:
        return {row.family_id: row for row in session.query(FamilyDifficulty)}


def test_answers_of_beginners_are_heard_though_they_move_no_difficulty(desk):
    desk.practise("right", family_id="offset-spacing")
    row = families(desk)["offset-spacing"]

    assert row.counted == 0
    assert row.alarm < 0
    assert row.alarmed_at is None


def test_a_wrong_unit_says_nothing_of_the_key(desk):
    problem = desk.issue(family_id="offset-spacing")
    desk.answer(problem, f"{desk.problem(problem).keys[0].value * 25.4:.0f}")

    assert families(desk)["offset-spacing"].alarm == 0


def test_many_wrong_first_tries_raise_it_and_it_stays_raised(desk):
    for nth in range(12):
        other = type(desk)(desk.database, desk.library, f"other-{nth}")
        other.answer(other.issue(family_id="offset-spacing"), "99 in")
    raised = families(desk)["offset-spacing"].alarmed_at

    assert raised is not None
    desk.practise("right", family_id="offset-spacing")
    assert families(desk)["offset-spacing"].alarmed_at == raised
