"""Which question of a placement run tells most."""

from __future__ import annotations

from collections import Counter
from datetime import UTC, datetime
from math import log
from random import Random

import pytest

from trainer.progress.constants import CURRENT
from trainer.progress.effect import Try, effect_of
from trainer.progress.placement import beliefs_about, expected_information, most_telling
from trainer.progress.skill import fresh, sharpness, update
from trainer.progress.standing import FamilyLine, Standing

NOON = datetime(2026, 9, 7, 12, 0, tzinfo=UTC)
TRADE = ("measuring.tape", *(f"bends.{letter}" for letter in "abcdefgh"), "fill.raceway", "boxes.fill", "boxes.pull")


def family(name, lucky=CURRENT.lucky_typed, **more):
    return FamilyLine(name, 0.0, lucky, frozenset(), **more)


def line(skill, state=None):
    return Standing(skill, skill, state or fresh())


def answered(*verdicts):
    state = fresh()
    for verdict in verdicts:
        effect = effect_of(verdict, Try.FIRST)
        state = update(state, effect, difficulty=0.0, days=0.0, lucky=CURRENT.lucky_typed, now=NOON)
    return state


def run(ability, questions=25, seed=7):
    """The skills asked of somebody who answers right with this chance."""
    random, states, asked = Random(seed), dict.fromkeys(TRADE, fresh()), []
    families = {skill: [family(f"{skill}-{nth}") for nth in range(6)] for skill in TRADE}
    for _ in range(questions):
        question = most_telling([line(skill, states[skill]) for skill in TRADE], families, [one for _, one in asked])
        verdict = "right" if random.random() < ability(question.skill) else "wrong"
        states[question.skill] = update(
            states[question.skill],
            effect_of(verdict, Try.FIRST),
            difficulty=0.0,
            days=0.0,
            lucky=CURRENT.lucky_typed,
            now=NOON,
        )
        asked.append((question.skill, question.family_id))
    return asked


def test_with_nothing_to_ask_there_is_no_question():
    assert most_telling([line("bends.offset")], {}) is None


def test_no_family_comes_twice_and_none_of_a_later_year_comes():
    families = {"bends.offset": [family("one"), family("two"), family("later", unopened=True)]}

    assert most_telling([line("bends.offset")], families).family_id == "one"
    assert most_telling([line("bends.offset")], families, {"one"}).family_id == "two"
    assert most_telling([line("bends.offset")], families, {"one", "two"}) is None


def test_a_typed_answer_tells_more_than_a_choice_of_four():
    families = {"bends.offset": [family("choice", lucky=0.25), family("typed")]}

    assert most_telling([line("bends.offset")], families).family_id == "typed"


def test_of_two_skills_that_tell_alike_the_one_that_is_taught_first_is_asked():
    lines = [line("measuring.tape"), line("fill.raceway")]
    families = {"measuring.tape": [family("tape")], "fill.raceway": [family("fill")]}

    assert most_telling(lines, families).skill == "measuring.tape"
    assert most_telling(lines[::-1], families).skill == "fill.raceway"


def test_a_skill_that_was_answered_tells_less_than_one_that_was_not():
    lines = [line("measuring.tape", answered("right")), line("fill.raceway")]
    families = {"measuring.tape": [family("tape")], "fill.raceway": [family("fill")]}

    assert most_telling(lines, families).skill == "fill.raceway"


def test_one_skill_alone_tells_half_the_logarithm_by_which_its_variance_shrinks():
    beliefs = beliefs_about([line("fill.raceway")])
    precision = CURRENT.weight * sharpness(0.3, 0.0, CURRENT.lucky_typed)

    assert expected_information(beliefs, 0, family("fill")) == pytest.approx(0.5 * log(1 + precision))


def test_without_kin_the_beliefs_are_those_of_the_model():
    state = answered("right", "wrong", "right")
    beliefs = beliefs_about([line("fill.raceway", state)])

    assert beliefs.levels[0] == pytest.approx(state.level)
    assert beliefs.doubts[0][0] == pytest.approx(state.variance)


def test_answers_on_one_skill_say_something_about_the_others_of_its_unit():
    both = [line("boxes.fill", answered("wrong", "wrong")), line("boxes.pull")]
    beliefs = beliefs_about(both)

    assert beliefs.levels[0] < beliefs.levels[1] < CURRENT.start_level
    assert beliefs.doubts[0][0] < beliefs.doubts[1][1] < CURRENT.start_variance


@pytest.mark.parametrize("share", [0.1, 0.5, 0.9])
def test_every_unit_is_asked_about_and_the_one_with_many_skills_more(share):
    units = Counter(skill.partition(".")[0] for skill, _ in run(lambda _: share))

    assert min(units.values()) >= 2
    assert units["bends"] > units["measuring"]


def test_the_same_answers_bring_the_same_questions():
    assert run(lambda _: 0.6) == run(lambda _: 0.6)
