"""
Which tables a calculation rests on, held against an experiment: with every number changed that it does not name, its
results stay as they were; with those changed that it names, they don't.
"""

from __future__ import annotations

import sys

import pytest

from trainer.calc.catalogue import CATALOGUE
from trainer.calc.sources import facts, groups
from trainer.calc.sources_used import groups_used

#: Published figures are read by nothing that computes.
GROUPS = [group for group in groups() if group.file not in {"published", "annex_c"}]

#: Calculations that count or choose: a small change of a number in a table need not show.
UNMOVED = {"fitting_choice"}


def changed(content, by):
    """A table with every number changed by a share."""
    if isinstance(content, dict):
        return {key: changed(value, by) for key, value in content.items()}
    if isinstance(content, list):
        return [changed(value, by) for value in content]
    return content * by if isinstance(content, float) or (isinstance(content, int) and content > 3) else content


def with_changes(content, paths, by, path=()):
    """A table file in which the groups of these paths are changed."""
    if path in paths:
        inner = {(*path, key) for key in content} & ALL_PATHS if isinstance(content, dict) else set()
        kept = {key: with_changes(content[key], paths, by, (*path, key)) for *_, key in inner}
        return {**changed(content, by), **kept} if isinstance(content, dict) else changed(content, by)
    if isinstance(content, dict):
        return {key: with_changes(value, paths, by, (*path, key)) for key, value in content.items()}
    return content


ALL_PATHS = {group.path[: length + 1] for group in GROUPS for length in range(len(group.path))}


@pytest.fixture
def results_with(example_with):
    """Results of a calculation's example, with these groups of the tables changed."""

    def work_out(name, paths, by=1.0001):
        return example_with(name, lambda file, content: with_changes(content, paths, by, (file,)))

    return work_out


def as_it_is(name):
    return repr(CATALOGUE[name].solve(CATALOGUE[name].example_inputs))


@pytest.mark.parametrize("name", list(CATALOGUE))
def test_nothing_else_has_a_say_in_the_results(name, results_with):
    named = {group.path for group in groups_used(CATALOGUE[name])}
    others = {group.path for group in GROUPS} - named

    assert results_with(name, others) == as_it_is(name)


@pytest.mark.parametrize("name", [name for name in CATALOGUE if name not in UNMOVED])
def test_what_is_named_has_a_say(name, results_with):
    named = {group.path for group in groups_used(CATALOGUE[name])}
    if named:
        assert results_with(name, named, by=1.25) != as_it_is(name)


def test_the_core_is_as_it_was_after_the_experiment(results_with):
    before = sys.modules["trainer.calc.catalogue"]

    results_with("offset", {("bends", "hand_bender_shoe")})

    assert sys.modules["trainer.calc.catalogue"] is before


def used(name):
    return {".".join(group.path) for group in groups_used(CATALOGUE[name])}


def test_tables_are_found_through_functions_names_and_inputs():
    assert used("bend_total") == {"bends.total"}
    assert {"boxes.boxes", "boxes.grounds"} <= used("box_fill")
    assert {"raceway.emt", "raceway.rmc", "conductors.dimensions.RHW"} <= used("raceway_fill")
    assert {"ampacity.device", "conductors.insulation"} <= used("ampacity")


def test_what_is_only_named_as_a_choice_is_not_used():
    assert not any(name.startswith("conductors.dimensions") for name in used("voltage_drop"))
    assert "bends.hand_bender_shoe" not in used("raceway_fill")


def test_every_table_of_the_core_is_used_by_something_or_known_not_to_be():
    idle = {"pulling.friction", "conductors.smaller_sizes"}  # Typed by hand and shown beside the input; names alone.
    idle |= {
        "support.roof_deck",
        "boxes.barrier",
        "boxes.depth",
        "cutting.tolerance",
    }  # Named by lessons, questions, checks.
    found = set().union(*(used(name) for name in CATALOGUE))

    assert {".".join(group.path) for group in GROUPS} - found == idle


@pytest.mark.parametrize("calculation", CATALOGUE.values(), ids=list(CATALOGUE))
def test_what_is_from_memory_is_said_among_the_sources(calculation):
    """Of tubing's bends, cuts and supports it is shown with the evidence, row by row."""
    said = any("from memory" in source or "common practice" in source for source in calculation.sources)
    doubtful = [fact for fact in facts() if fact.is_doubtful and fact.group in groups_used(calculation)]

    assert said or not doubtful or calculation.area in {"bending", "power_bending", "cutting", "support"}
