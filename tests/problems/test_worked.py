"""Steps, cautions and drawings of a problem."""

from __future__ import annotations

import pytest

from trainer.calc.message import InputError, Message
from trainer.problems import worked as module
from trainer.problems.check import check
from trainer.problems.draw import draw
from trainer.problems.family import load_family
from trainer.problems.worked import cautions, drawing, worked


def test_the_steps_lead_to_the_key_on_each_basis_and_to_nothing_else(family):
    problem = draw(family, 3)
    steps = worked(family, problem)

    assert [step.name for step in steps] == ["spacing", "multiplier", "spacing_handbook"]
    assert [step.value for step in steps if step.name.startswith("spacing")] == [key.value for key in problem.keys]


def test_for_choices_the_steps_lead_to_what_decides(choices, fitting):
    stated, listed = load_family(choices), load_family(fitting)

    assert [step.name for step in worked(stated, draw(stated, 1))] == ["total", "limit", "left"]
    assert {step.name for step in worked(listed, draw(listed, 1))} <= {"suitable", "unsuitable"}


def test_statements_about_given_numbers_alone_show_the_whole_calculation(shelf):
    family = shelf["last-strap"]

    assert worked(family, draw(family, 1))[-1].name == "straps"


def test_every_family_has_steps_and_cautions(shelf):
    for family in shelf.values():
        assert worked(family, draw(family, 2))
        assert cautions(family)[-1] == Message("caution.everywhere.5")


def test_the_answer_is_drawn_only_when_it_may_be_seen(family):
    problem = draw(family, 3)
    asked, solved = drawing(family, problem), drawing(family, problem, solved=True)

    assert asked.startswith("<svg")
    assert asked != solved


def test_a_wrong_value_is_drawn_in(family):
    problem = draw(family, 3)
    wrong = drawing(family, problem, check(problem, "3"))

    assert wrong != drawing(family, problem, solved=True)
    assert "3 in" in wrong


def test_a_wrong_choice_is_drawn_in(shelf):
    family = shelf["connector-for-the-job"]
    problem = next(p for p in (draw(family, seed) for seed in range(60)) if p.numbers["spot"] == "roof" and p.mistakes)

    assert drawing(family, problem, check(problem, problem.mistakes[0].value)) != drawing(family, problem, solved=True)


def test_a_statement_has_no_place_in_a_drawing(shelf):
    family = shelf["one-more-bend"]
    problem = draw(family, 3)
    wrong = check(problem, [option.id for option in problem.options])

    assert drawing(family, problem, wrong) == drawing(family, problem, solved=True)


def test_what_was_not_read_is_not_drawn(family):
    problem = draw(family, 3)

    assert drawing(family, problem, check(problem, "30°")) == drawing(family, problem, solved=True)


def test_a_family_without_a_figure_has_no_drawing(sound):
    family = load_family(sound.replace('figure = "offset"', ""))

    assert drawing(family, draw(family, 1)) == ""


@pytest.fixture
def stricter_core(family, monkeypatch):
    """The calculation as mended later: it refuses what it once took."""

    def refuse(*_args, **_kwargs):
        raise InputError(Message("input.missing"), given="", accepted=Message("length.accepted"), example="1 in")

    problem = draw(family, 3)
    monkeypatch.setattr(type(family.calculation), "trace", refuse)
    monkeypatch.setattr(module, "draw_figure", refuse)
    return problem


def test_an_old_problem_whose_numbers_are_refused_now_has_no_steps_and_no_drawing(family, stricter_core):
    assert worked(family, stricter_core) == []
    assert drawing(family, stricter_core) == ""
