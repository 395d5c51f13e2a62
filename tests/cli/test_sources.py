from __future__ import annotations

import json

import pytest
from click.testing import CliRunner

from trainer.calc.sources import facts
from trainer.cli import main


@pytest.fixture
def sources():
    """Run `trainer sources` with these words."""

    def run(*words):
        return CliRunner().invoke(main, ["sources", *words])

    return run


def test_it_lists_what_is_from_memory_or_common_practice_with_what_uses_it(sources):
    done = sources()

    assert done.exit_code == 0
    lines = done.stdout.splitlines()
    at = lines.index("  device: from memory")
    assert lines[at + 1 : at + 3] == ["    source: NFPA 70-2023 240.4(B), 240.6(A)", "    used by: ampacity"]
    assert "trainer/calc/tables/ampacity.toml" in lines
    assert "  offset_constants angle 20: from memory" in lines
    assert "two sources" not in done.stdout.replace("NFPA", "")


def test_a_fact_that_nothing_computes_with_says_so(sources):
    assert "  friction: from memory" in sources().stdout
    assert "used by: no calculation; shown only" in sources().stdout


def test_published_figures_name_what_is_held_against_them(sources):
    listed = json.loads(sources("--all", "--json").stdout)["facts"]

    grounding = next(fact for fact in listed if (fact["file"], fact["table"]) == (PUBLISHED, "grounding"))
    assert grounding["used_by"] == ["ground_size"]
    cells = next(fact for fact in listed if fact["table"] == "THHN_large")
    assert (cells["checked"], cells["used_by"]) == ("from memory", ["max_conductors"])


PUBLISHED = "trainer/calc/tables/published.toml"


def test_the_list_as_json_has_one_entry_for_each(sources):
    doubtful = json.loads(sources("--json").stdout)["facts"]
    every = json.loads(sources("--json", "--all").stdout)["facts"]

    assert len(doubtful) == sum(fact.is_doubtful for fact in facts())
    assert len(every) == len(facts())
    assert set(every[0]) == {"file", "table", "item", "checked", "source", "used_by"}
    assert {fact["checked"] for fact in doubtful} <= {"from memory", "two sources", "computed"}
