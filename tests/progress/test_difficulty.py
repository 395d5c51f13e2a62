from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.progress.difficulty import centred, learned, tells


def test_a_wrong_answer_makes_a_family_harder_and_a_right_one_easier():
    assert learned(0.0, 0, right=False, expected=0.7) == pytest.approx(0.35)
    assert learned(0.0, 0, right=True, expected=0.7) == pytest.approx(-0.15)


def test_the_step_shrinks_with_the_answers_and_stops_at_its_least():
    assert learned(0.0, 20, right=False, expected=1.0) == pytest.approx(0.25)
    assert learned(0.0, 100_000, right=False, expected=1.0) == pytest.approx(0.02)


def test_only_first_tries_without_a_hint_by_people_who_are_no_beginners_tell():
    assert tells(5, first_honest_try=True)
    assert not tells(4, first_honest_try=True)
    assert not tells(50, first_honest_try=False)


def test_families_are_read_against_the_mean_of_their_skill():
    of_skill = [0.9, -0.3, 0.0]

    assert sum(centred(own, of_skill) for own in of_skill) == pytest.approx(0)
    assert centred(0.9, of_skill) == pytest.approx(0.7)


@given(st.lists(st.tuples(st.booleans(), st.floats(0.02, 0.98)), max_size=60))
def test_difficulty_stays_between_minus_three_and_three(answers):
    difficulty = 0.0
    for counted, (right, expected) in enumerate(answers):
        difficulty = learned(difficulty, counted, right=right, expected=expected)

    assert -3 <= difficulty <= 3


def test_a_family_that_no_one_gets_right_stops_at_the_limit():
    difficulty = 0.0
    for counted in range(500):
        difficulty = learned(difficulty, counted, right=False, expected=0.9)

    assert difficulty == 3
