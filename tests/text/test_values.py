from __future__ import annotations

import pytest

from trainer.calc.catalogue import CATALOGUE
from trainer.text.values import cell_text, exact_text, residue_text, value_text


@pytest.mark.parametrize(
    ("value", "unit", "text"),
    [
        (None, "in", "none"),
        (False, "", "no"),
        (10.4527, "in", "10-7/16 in"),
        ((90.0, 22.5), "deg", "90°, 22.5°"),
        ("1/0", "", "1/0"),
    ],
)
def test_a_value_is_written_as_people_do(value, unit, text):
    assert value_text(value, unit) == text


def test_things_that_say_themselves_are_a_list_of_sentences():
    cuts = CATALOGUE["cut_plan"].solve({"pieces": "70, 47", "kerf": "1/16"}).cuts

    assert value_text(cuts, "") == ["Stick of 120 in: 70 in, 47 in; 2 cuts, 2-7/8 in left."]
    assert exact_text(cuts, "") == "Stick of 120 in: 70 in, 47 in; 2 cuts, 2-7/8 in left."


@pytest.mark.parametrize(
    ("residue", "unit", "text"),
    [(1e-12, "in", "0"), (0.0123, "V", "+0.0123 V"), (-0.5, "deg", "-0.5°"), (1826.83, "cmil", "+1826.8 cmil")],
)
def test_what_two_methods_differ_by_has_its_sign(residue, unit, text):
    assert residue_text(residue, unit) == text


@pytest.mark.parametrize(
    ("value", "text"),
    [(True, "yes"), (53, "53"), (3.38e-05, "0.0000338"), (0.0, "0"), ([60, 75], "60, 75"), ("AWG", "AWG")],
)
def test_a_cell_has_all_its_digits(value, text):
    assert cell_text(value) == text
