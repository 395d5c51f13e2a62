"""Every fact of the tables has a source and says how it was checked; those that stand on one leg can be listed."""

from __future__ import annotations

import pytest

from trainer.calc.sources import GRADES, Fact, facts, group_of, groups, is_own_word, table_names
from trainer.calc.tables import table


def named(fact):
    return ".".join((*fact.group.path, fact.item)).rstrip(".")


@pytest.mark.parametrize("fact", facts(), ids=named)
def test_every_fact_has_a_source_and_how_it_was_checked(fact):
    assert fact.source.strip()
    assert fact.checked in GRADES


def numbers_in(content):
    """How many numbers stand in a table, whatever they are in."""
    if isinstance(content, dict):
        return sum(numbers_in(value) for value in content.values())
    if isinstance(content, list):
        return sum(map(numbers_in, content))
    return isinstance(content, int | float)


@pytest.mark.parametrize("name", table_names())
def test_no_number_stands_outside_of_the_groups(name):
    """Nor is one passed over: rows of tables inside tables count too."""
    in_groups = sum(numbers_in(group.values) for group in groups() if group.file == name)

    assert in_groups == numbers_in(table(name)) > 0


@pytest.mark.parametrize("group", [group for group in groups() if not group.checked], ids=lambda group: group.name)
def test_where_a_group_does_not_say_it_each_row_or_each_value_does(group):
    rows = group.values["rows"]
    said = {key.removesuffix("_checked") for key in group.own if key.endswith("_checked")}

    for row in rows:
        assert "checked" in row or set(row) - {"trade_size"} <= said


def test_a_nearer_word_wins_over_one_further_out():
    pvc = next(fact for fact in facts() if (fact.group.file, fact.item) == ("expansion", "pvc"))
    inner = group_of(("conductors", "dimensions", "RHW"))

    assert (pvc.group.checked, pvc.checked) == ("two sources", "computed")
    assert inner.checked == "from memory"
    assert inner.source == group_of(("conductors", "dimensions", "THHN")).source


def test_what_is_from_memory_or_common_practice_is_doubtful():
    doubtful = {named(fact) for fact in facts() if fact.is_doubtful}

    assert {
        "ampacity.device",
        "bends.offset_constants.angle 20",
        "raceway.rmc",
        "conductors.dimensions.THW.TW",
    } <= doubtful
    assert (
        not {"bends.total", "raceway.emt", "bends.offset_constants.angle 30", "raceway.imc.trade_size 2-1/2"} & doubtful
    )


def test_common_practice_is_doubtful_however_it_was_checked():
    group = group_of(("cutting", "kerf"))

    assert Fact(group, "", "two sources", "common practice, no source").is_doubtful


def test_an_unknown_group_is_not_found():
    with pytest.raises(KeyError):
        group_of(("moons", "phases"))


def test_words_about_a_value_are_told_from_values():
    assert is_own_word("radius_checked")
    assert is_own_word("source")
    assert not is_own_word("radius")
