"""
Every published figure of tables/published.toml and tables/annex_c.toml against the core, each beside its source.

A figure that differs from the core is kept; that it differs, and that a reason is given, is held too.
"""

from __future__ import annotations

import pytest

from trainer.calc.catalogue import CATALOGUE
from trainer.calc.published import published_figures
from trainer.calc.sources import GRADES

FIGURES = [figure for name in CATALOGUE for figure in published_figures(name)]
SAME = [figure for figure in FIGURES if not figure.differs]
OTHER = [figure for figure in FIGURES if figure.differs]


def named(figure):
    return " ".join((figure.calculation, figure.output, *figure.inputs.values()))


@pytest.mark.parametrize("figure", SAME, ids=named)
def test_the_core_says_what_is_printed(figure):
    assert figure.agrees(figure.core()), (figure.core(), figure.expected, figure.source)


@pytest.mark.parametrize("figure", OTHER, ids=named)
def test_where_the_core_differs_it_does_and_says_why(figure):
    assert not figure.agrees(figure.core())
    assert figure.differs.endswith(".")


@pytest.mark.parametrize("figure", FIGURES, ids=named)
def test_every_figure_has_its_source_and_is_one_of_the_core(figure):
    units = {output.name: output.unit for output in CATALOGUE[figure.calculation].outputs}

    assert figure.source.strip()
    assert figure.checked in GRADES
    assert figure.unit == units[figure.output]


def test_the_tolerance_of_a_figure_is_no_more_than_half_of_its_last_place():
    for figure in FIGURES:
        if not isinstance(figure.expected, str | bool):
            _, _, decimals = f"{figure.expected:f}".rstrip("0").partition(".")
            assert figure.tolerance <= 0.5 * 10 ** -len(decimals), figure


def test_there_are_hundreds_of_them_for_every_calculation_that_others_print_figures_of():
    """Of reading a tape, adding lengths or finding a place in the code book nobody prints a figure."""
    assert len(FIGURES) > 400
    assert 2 * len({figure.calculation for figure in FIGURES}) > len(CATALOGUE)


def test_a_word_has_no_residue_and_a_number_has():
    word = next(figure for figure in FIGURES if figure.expected == "10")
    number = next(figure for figure in OTHER if figure.output == "spacing")

    assert word.residue("10") is None
    assert number.residue(number.core()) == pytest.approx(0.0853, abs=1e-4)
