"""A smaller share of tests/benchmarks/right_answers.py: no right answer, however it is written down, is called wrong."""

from __future__ import annotations

import runpy
from pathlib import Path
from types import SimpleNamespace

import pytest

from trainer.problems.draw import draw
from trainer.problems.model import AnswerKind
from trainer.problems.shelf import content_root, load_families

FAMILIES = load_families(content_root() / "questions")
DRAWS = 10


@pytest.fixture(scope="module")
def right():
    """The benchmark's own functions."""
    return SimpleNamespace(**runpy.run_path(str(Path(__file__).parents[1] / "benchmarks" / "right_answers.py")))


@pytest.mark.parametrize("family", FAMILIES.values(), ids=repr)
def test_no_right_answer_is_called_wrong(right, family):
    typed = right.try_family(family, DRAWS)

    assert typed.forms >= 2 * DRAWS
    assert typed.wrong == []


def test_a_length_is_written_in_every_way_of_the_trade(right):
    texts = {text for text, _ in right.lengths(40.4531)}

    assert {
        "40-7/16 in",
        "40-1/2 in",
        "40-7/16",
        "3 ft 4-7/16 in",
        "3' 4-7/16\"",
        "40.453",
        "1027.5 mm",
        "3.371 ft",
    } <= texts


def test_a_form_that_is_judged_wrongly_is_told(right):
    problem, typed = draw(FAMILIES["offset-far-mark"], 1), right.Typed()
    key = problem.keys[0].value

    right.try_number(problem, key, f"{key + 5:.3f} in", {right.VerdictKind.RIGHT}, typed)

    assert len(typed.wrong) == 1
    assert "offset-far-mark#1" in typed.wrong[0]


def test_every_way_of_sending_an_order_is_tried(right):
    family = next(family for family in FAMILIES.values() if family.kind is AnswerKind.ORDER)
    problem, typed = draw(family, 1), right.Typed()

    right.try_choice(problem, right.Random(1), typed)

    assert typed.forms == 4 * len(problem.keys)
    assert typed.wrong == []
