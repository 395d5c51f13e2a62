from __future__ import annotations

from datetime import UTC, datetime
from random import Random

import pytest
from msgspec.structs import replace

from trainer.progress.choose import family_for, next_problem
from trainer.progress.constants import CURRENT
from trainer.progress.effect import Try, effect_of
from trainer.progress.skill import SkillState, chance, fresh, update
from trainer.progress.standing import FamilyLine, Standing

NOON = datetime(2026, 9, 7, 12, 0, tzinfo=UTC)


def family(name, difficulty=0.0, *mistakes):
    return FamilyLine(name, difficulty, CURRENT.lucky_typed, frozenset(mistakes))


def standing(skill, level=0.3, counted=10, waiting=5, turns=3, **more):
    recent = more.pop("recent", tuple(f"{skill}-old-{turn}" for turn in range(turns)))
    state = SkillState(level, 0.6, 2.0, counted, NOON)
    return Standing(skill, f"The {skill}", state, waiting=waiting, recent=recent, **more)


def not_begun(skill):
    return Standing(skill, f"The {skill}", fresh())


def choose(*lines):
    return next_problem(lines, {line.skill: [family(f"{line.skill}-{letter}") for letter in "abcd"] for line in lines})


def test_with_nothing_to_ask_there_is_no_choice():
    assert next_problem([not_begun("bends")], {}) is None


def test_a_first_problem_goes_to_the_skill_that_stands_first():
    choice = choose(not_begun("measuring"), not_begun("bends"))

    assert choice.skill == "measuring"
    assert choice.why.id == "progress.why.new"


def test_the_skill_furthest_from_the_goal_has_its_turn_when_all_waited_alike():
    choice = choose(
        standing("supports", level=1.0), standing("bends", level=-0.5), standing("fill", level=2.0, waiting=0)
    )

    assert choice.skill == "bends"
    assert choice.why.id == "progress.why.weakest"
    assert choice.why.params["right"] == 4


def test_waiting_long_enough_beats_being_further_from_the_goal():
    choice = choose(standing("supports", level=1.0, waiting=9), standing("bends", level=0.0, waiting=1))

    assert choice.skill == "supports"
    assert choice.why.id == "progress.why.turn"
    assert choice.why.params["waiting"].value == 9


def test_a_skill_at_its_goal_still_comes_round():
    at_goal = standing("supports", level=6.0, waiting=60)

    assert choose(at_goal, standing("bends", level=3.0, waiting=0)).skill == "supports"


def test_waiting_counts_up_to_three_rounds():
    long, longer = standing("supports", level=0.0, waiting=6), standing("bends", level=0.1, waiting=60)

    assert choose(long, longer).skill == "supports"


def test_a_refresh_that_is_due_doubles_the_score():
    due = standing("supports", level=1.0, waiting=4, refresh_due=True)
    other = standing("bends", level=0.6, waiting=4)

    assert choose(due, other).skill == "supports"
    assert choose(standing("supports", level=1.0, waiting=4), other).skill == "bends"


def test_a_skill_never_has_two_turns_running():
    last = standing("bends", level=-3.0, waiting=0)

    assert choose(last, standing("supports", level=5.0, waiting=1)).skill == "supports"


def test_the_only_skill_has_every_turn():
    assert choose(standing("bends", waiting=0)).skill == "bends"


@pytest.mark.parametrize("turns", [1, 2])
def test_the_first_three_problems_of_a_new_skill_follow_each_other(turns):
    choice = choose(
        standing("bends", counted=turns, waiting=0, turns=turns), standing("supports", level=-2.0, waiting=50)
    )

    assert choice.skill == "bends"
    assert choice.why.id == "progress.why.block"
    assert choice.why.params["nth"] == turns + 1


def test_no_fourth_new_skill_is_opened_while_three_are_new():
    new = [standing(f"skill-{number}", counted=4, waiting=number, level=2.0) for number in range(3)]

    assert choose(*new, not_begun("bends")).skill == "skill-2"
    assert choose(*new[:2], standing("old", counted=6, waiting=2, level=2.0), not_begun("bends")).skill == "bends"


def test_a_gap_of_days_is_told_as_the_reason():
    choice = choose(standing("supports", days=9.3), standing("bends", waiting=0))

    assert choice.why.id == "progress.why.days"
    assert choice.why.params["days"].value == 9


def test_the_last_three_families_rest():
    line = standing("bends", recent=("a", "b", "c"))

    assert family_for(line, [family(name) for name in "abcde"])[0].id == "d"


def test_where_a_skill_has_three_families_they_take_turns():
    line = standing("bends", recent=("a", "b", "c"))

    assert family_for(line, [family(name) for name in "abc"])[0].id == "a"
    assert family_for(line, [family("c")])[0].id == "c"


def test_a_family_that_provokes_an_active_mistake_goes_before_a_fitting_one():
    line = standing("bends", level=1.4, active={"shrink-left-out": "the shrink was left out"})
    families = [family("fits"), family("provokes", 2.5, "shrink-left-out"), family("other", 0.0, "rounded")]

    chosen, provoked = family_for(line, families)

    assert (chosen.id, provoked) == ("provokes", "shrink-left-out")


def test_the_reason_names_the_mistake():
    line = standing("bends", active={"shrink-left-out": "the shrink was left out"})
    choice = next_problem([line], {"bends": [family("marks", 0.0, "shrink-left-out"), family("depth")]})

    assert choice.why.id == "progress.why.mistake"
    assert choice.why.params["mistake"] == "the shrink was left out"


def test_otherwise_the_family_nearest_to_eight_in_ten_comes():
    line = standing("bends", level=1.0)
    families = [family("easy", -2.0), family("even", -0.5), family("hard", 1.5)]

    assert family_for(line, families)[0].id == "even"


def test_twelve_skills_all_come_round_and_the_weakest_most_often():
    """A month of practice with unequal skills: nobody starves, and more turns go where more is to gain."""
    draw = Random(7)
    ability = {f"skill-{number:02}": -1.0 + number / 4 for number in range(12)}
    lines = {skill: not_begun(skill) for skill in ability}
    turns = dict.fromkeys(ability, 0)
    for _ in range(240):
        choice = next_problem(
            list(lines.values()), {skill: [family(f"{skill}-{n}") for n in range(5)] for skill in lines}
        )
        right = draw.random() < chance(SkillState(ability[choice.skill], 0.01, 2.0))
        line = lines[choice.skill]
        effect = effect_of("right" if right else "wrong", Try.FIRST)
        state = update(line.state, effect, difficulty=0.0, days=0.0, lucky=0.02, now=NOON)
        for skill, other in lines.items():
            waiting = None if other.waiting is None else other.waiting + 1
            lines[skill] = Standing(skill, skill, other.state, waiting=waiting, recent=other.recent)
        recent = (*line.recent, choice.family_id)[-3:]
        lines[choice.skill] = Standing(choice.skill, choice.skill, state, waiting=0, recent=recent)
        turns[choice.skill] += 1

    assert min(turns.values()) >= 8
    assert turns["skill-00"] > 1.5 * turns["skill-11"]


def unopened(name):
    return replace(family(name), unopened=True)


def test_later_year_work_that_was_not_opened_gives_a_skill_no_turn():
    families = {"pulling": [unopened("tension")], "bends": [unopened("segment"), family("offset")]}
    choice = next_problem([standing("pulling", level=-9.0), standing("bends", waiting=0)], families)

    assert (choice.skill, choice.family_id) == ("bends", "offset")
    assert next_problem([standing("pulling")], {"pulling": [unopened("tension")]}) is None


def test_a_skill_asked_for_that_has_nothing_else_gives_it():
    assert family_for(standing("pulling"), [unopened("tension")])[0].id == "tension"


def practised(families, turns, level=1.0, active=None):
    """The families of a skill's turns, one after the other, for somebody whose level stays as it is."""
    had = []
    for _ in range(turns):
        line = standing("bends", level=level, recent=tuple(had[-CURRENT.family_memory :]), active=active or {})
        had.append(family_for(line, families)[0].id)
    return had


@pytest.mark.parametrize("level", [-1.0, 1.0, 4.0])
@pytest.mark.parametrize("spread", [0.0, 0.2, 1.0])
@pytest.mark.parametrize("count", [1, 3, 4, 5, 9, 16])
def test_every_family_of_a_skill_has_its_turn_again_and_again(level, spread, count):
    """However far its difficulty lies from what fits, in any three rounds of the skill's families."""
    families = [family(f"family-{nth:02}", spread * (nth - count / 2)) for nth in range(count)]
    had = practised(families, 12 * count, level)

    for start in range(9 * count):
        assert {*had[start : start + 3 * count]} == {one.id for one in families}


def test_what_fits_best_still_comes_most_often():
    families = [family(f"family-{nth:02}", nth - 4.0) for nth in range(9)]
    had = practised(families, 180, level=1.0)
    state = standing("bends", level=1.0).state
    fitting = sorted(families, key=lambda one: abs(chance(state, difficulty=one.difficulty) - CURRENT.family_chance))

    assert min(had.count(one.id) for one in fitting[:4]) > 2 * max(had.count(one.id) for one in fitting[4:])


def test_a_mistake_that_stays_starves_no_family():
    families = [family(f"family-{nth:02}", 0.0, *(["slip"] if nth < 5 else [])) for nth in range(9)]
    had = practised(families, 90, active={"slip": "made the slip"})

    assert {*had[:27]} == {one.id for one in families}
    assert sum(one in {"family-00", "family-01", "family-02", "family-03", "family-04"} for one in had) > 45
