"""The question files that travel with the program, each tried as a learner would meet it."""

from __future__ import annotations

from pathlib import Path

import pytest

from trainer.calc.length import write_length
from trainer.problems.check import check
from trainer.problems.draw import draw
from trainer.problems.model import CHOOSING, AnswerKind, VerdictKind
from trainer.problems.shelf import load_families, load_skills
from trainer.problems.standards import standards
from trainer.problems.trial import trial
from trainer.text.markdown import to_html

QUESTIONS = Path(__file__).resolve().parents[2] / "questions"
FAMILIES = load_families(QUESTIONS)
LESSONS = [file.stem for file in (QUESTIONS.parent / "lessons").glob("*.md")]
SEEDS = range(60)


def of_kinds(*kinds):
    return [family for family in FAMILIES.values() if family.kind in kinds]


every_family = pytest.mark.parametrize("family", FAMILIES.values(), ids=repr)
typed_families = pytest.mark.parametrize("family", of_kinds(*set(AnswerKind) - CHOOSING), ids=repr)


@every_family
def test_a_family_keeps_to_the_standards_and_survives_its_trial(family):
    assert standards(family, load_skills(QUESTIONS), LESSONS) == []
    assert trial(family, 60) == []


def test_there_is_a_family_for_each_kind_of_answer_and_each_of_the_first_units():
    assert {family.kind for family in FAMILIES.values()} == set(AnswerKind)
    assert {family.skill.split(".")[0] for family in FAMILIES.values()} >= {
        "cutting",
        "fittings",
        "supports",
        "wet",
        "bends",
    }
    assert len(FAMILIES) >= 10


def test_the_closed_list_holds_some_twenty_five_skills_of_all_units():
    skills = load_skills(QUESTIONS)

    assert 18 <= len(skills) <= 28
    assert {skill.unit for skill in skills.values()} == {
        "measuring", "cutting", "fittings", "supports", "wet", "bends", "cut-lengths", "fill", "boxes", "conductors", "pulling", "inspection",
    }  # fmt: skip


@typed_families
def test_the_key_as_the_tape_reads_is_right(family):
    for seed in SEEDS:
        problem = draw(family, seed)
        for key in problem.keys:
            for denominator in (16, 8) if problem.tolerance >= 1 / 16 else (16,):
                text = (
                    write_length(key.value, denominator=denominator)
                    if family.kind is AnswerKind.LENGTH
                    else f"{key.value:g}"
                )

                assert check(problem, text).kind is VerdictKind.RIGHT, (seed, text)


@pytest.mark.parametrize("family", of_kinds(AnswerKind.LENGTH), ids=repr)
def test_the_key_is_right_in_feet_and_in_millimetres(family):
    for seed in SEEDS:
        problem = draw(family, seed)
        inches = problem.keys[0].value

        assert check(problem, write_length(inches, feet=True)).kind is VerdictKind.RIGHT
        assert check(problem, f"{inches * 25.4:.0f} mm").kind is VerdictKind.RIGHT


@typed_families
def test_every_known_mistake_is_named_when_it_is_typed(family):
    for seed in SEEDS:
        problem = draw(family, seed)
        for mistake in problem.mistakes:
            text = write_length(mistake.value) if family.kind is AnswerKind.LENGTH else f"{mistake.value:g}"

            assert mistake.id in check(problem, text).mistakes, (seed, text)


@pytest.mark.parametrize(
    "family", of_kinds(*CHOOSING - {AnswerKind.ORDER, AnswerKind.BENDER, AnswerKind.PLACES}), ids=repr
)
def test_the_right_choice_is_right_and_each_mistake_about_an_option_is_named(family):
    for seed in SEEDS:
        problem = draw(family, seed)
        key = problem.keys[0].value
        chosen = {key} if isinstance(key, str) else set(key)

        assert check(problem, sorted(chosen)).kind is VerdictKind.RIGHT
        for mistake in problem.mistakes:
            judged_wrongly = {mistake.value} if isinstance(key, str) else chosen ^ {mistake.value}
            if judged_wrongly:
                assert mistake.id in check(problem, sorted(judged_wrongly)).mistakes


@every_family
def test_everything_that_people_read_is_clean_html(family):
    problem = draw(family, 1)
    for text in (
        problem.text,
        *problem.hints,
        *(mistake.say for mistake in problem.mistakes),
        *(one.why for one in problem.options),
    ):
        assert to_html(text)
        assert "{{" not in to_html(text)
        assert "&lt;" not in to_html(text)
