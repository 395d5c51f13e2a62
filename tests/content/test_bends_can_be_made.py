"""Marks of the bending questions that travel with the program: a hand bender's hook finds straight tube at each of them."""

from __future__ import annotations

import pytest

from trainer.calc.layout_room import check_room
from trainer.calc.marks import End, Mark
from trainer.calc.shoes import DEFAULT_SHOE, DEFAULT_SHOES, Shoe
from trainer.problems.draw import draw
from trainer.problems.given import calculation_values
from trainer.problems.shelf import content_root, load_families

#: Two sticks: no bend of these questions comes near the far end of it.
STICK = 240.0
DRAWS = range(50)


def sets_of_marks(family, problem):
    """The marks of each convention, with the shoe; those that are taped from a bend that is made already are left out."""
    values = calculation_values(family, problem.numbers, problem.edition)
    shoe = values.get("shoe") or DEFAULT_SHOES.get(values.get("trade_size"), DEFAULT_SHOE)
    result = family.calculation.solve(values)
    for output in family.calculation.outputs:
        marks = getattr(result, output.name, None)
        if isinstance(marks, tuple) and marks and isinstance(marks[0], Mark) and marks[0].measured_from is End.MEASURED:
            yield marks, shoe if isinstance(shoe, Shoe) else DEFAULT_SHOE


def bent_by_hand(family):
    """Segment bends are made in shots on a bender without a hook."""
    names = {output.name for output in family.calculation.outputs}
    return "marks" in names and family.calculation.name != "segment_bend"


FAMILIES = [family for family in load_families(content_root() / "questions").values() if bent_by_hand(family)]


def test_there_are_such_questions():
    assert len(FAMILIES) > 20


@pytest.mark.parametrize("family", FAMILIES, ids=repr)
def test_the_hook_finds_straight_tube_at_every_mark(family):
    for seed in DRAWS:
        for marks, shoe in sets_of_marks(family, draw(family, seed)):
            check_room(marks, shoe, STICK)
