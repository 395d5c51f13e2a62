"""Second methods agree with the core wherever they claim to, over drawn inputs; published figures stand beside."""

from __future__ import annotations

import random

import pytest

from trainer.calc.catalogue import CATALOGUE
from trainer.calc.evidence import METHODS, evidence_for
from trainer.calc.evidence_check import Check
from trainer.calc.evidence_circuits import mils_by_gauge
from trainer.calc.layout_proof import provable
from trainer.calc.message import InputError, Message
from trainer.calc.published import published_figures
from trainer.text.words import say

RUNS = 60

#: Words and sums that nothing but the rule itself can say; a diagnosis is found by bending, the second method itself.
NO_SECOND_METHOD = {
    "bend_diagnosis",
    "bend_stretches",
    "bend_total",
    "code_place",
    "fitting_choice",
    "framing_support",
    "run_walk",
    "look_over",
    "material_list",
    "pull_box",
    "slip_made",
    "strap_check",
    "wet_wall",
}


@pytest.fixture
def example():
    """The evidence for the example of a calculation, with some inputs typed otherwise."""

    def of(name, **typed):
        calculation = CATALOGUE[name]
        return evidence_for(calculation, calculation.read({**calculation.example_inputs, **typed}))

    return of


def kept(calculation, drawn):
    """Values as a calculation takes them: texts read, numbers as they are."""
    return {name: calculation.input(name).value(value) for name, value in drawn.items()}


@pytest.mark.parametrize("name", list(CATALOGUE))
def test_the_second_method_agrees_over_drawn_inputs(name, draw_values):
    calculation, rng = CATALOGUE[name], random.Random(name)
    checks = []
    for _ in range(RUNS):
        try:
            values = kept(calculation, draw_values(calculation, rng))
            checks += evidence_for(calculation, values).checks
        except InputError:
            continue

    assert [check for check in checks if check.holds is False] == []
    assert checks or name in NO_SECOND_METHOD


@pytest.mark.parametrize("name", list(CATALOGUE))
def test_there_is_a_second_method_or_none_is_claimed(name, example):
    evidence = example(name)

    assert bool(evidence.checks) == (name not in NO_SECOND_METHOD)
    assert (name in METHODS or name in provable()) == (name not in NO_SECOND_METHOD)


@pytest.mark.parametrize("name", list(CATALOGUE))
def test_published_figures_agree_or_say_why_not(name, example):
    evidence = example(name)

    assert len(evidence.printed) + evidence.cells == len(published_figures(name))
    for printed in evidence.printed:
        assert printed.agrees != bool(printed.figure.differs)


def test_a_bend_is_held_to_the_arc_and_shows_what_the_other_bases_miss(example):
    checks = example("offset", angle="45").checks
    held = {check.method.id for check in checks if check.holds}
    shown = {check.method.id: check for check in checks if check.holds is None}

    assert held == {"evidence.method.bent-arc"}
    assert set(shown) == {"evidence.method.bent-handbook", "evidence.method.bent-sharp-corner"}
    assert abs(shown["evidence.method.bent-handbook"].residue) > 0.1


def test_marks_that_know_no_basis_are_held_to_what_was_asked(example):
    (check,) = example("stub_up").checks

    assert (check.method.id, check.name, check.holds) == ("evidence.method.bent", "stub_height", True)


def test_marks_of_a_rougher_basis_that_cannot_be_bent_show_nothing(example):
    """Where the arcs have no room there are no marks on the arc basis, and the others have nowhere to be bent."""
    assert example("offset", depth="1 in", angle="60", distance="40 in").checks == ()


def test_table_cells_are_shown_that_stand_beside_the_one_asked_for(example):
    evidence = example("max_conductors")
    cells = [printed.figure for printed in evidence.printed if printed.figure.is_cell]

    assert evidence.cells > 300
    assert all(cell.inputs["conductor_size"] == "12" or cell.inputs["trade_size"] == "3/4" for cell in cells)


def test_a_long_list_of_pieces_is_not_tried_in_all_ways(example):
    assert example("cut_plan", pieces="13x20 in").checks == ()
    assert example("cut_plan", offcuts="60 in").checks == ()


@pytest.mark.parametrize("name", list(CATALOGUE))
def test_every_method_has_its_words(name, example):
    assert all(say(check.method) for check in example(name).checks)


def test_a_check_that_fails_says_so():
    check = Check(Message("evidence.method.fractions"), "count", "conductors", 16, 15, 0)

    assert (check.residue, check.holds) == (-1, False)
    assert Check(check.method, "count", "conductors", 16, 15, None).holds is None


@pytest.mark.parametrize(("size", "mils"), [("14", 4110), ("1/0", 105_600), ("4/0", 211_600), ("500", 500_000)])
def test_circular_mils_by_gauge_are_near_the_printed_ones(size, mils):
    assert mils_by_gauge(size) == pytest.approx(mils, rel=0.001)


def test_second_methods_hold_their_own_in_odd_places(example):
    assert example("box_fill", edition="2017", isolated_grounds="2 #10", studs="yes", loops="1 #12").checks[0].holds
    assert all(check.holds for check in example("max_conductors", trade_size="1/2", conductor_size="2").checks)
    assert all(check.holds for check in example("max_conductors", nipple="yes").checks)
    assert example("strap_count", run_length="90 in", ends="exception-at-both-ends").checks[0].holds
