"""`trainer sources`: the facts in the tables that stand on one leg."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from typing import Any

import click

from trainer.calc.catalogue import CATALOGUE
from trainer.calc.published import PUBLISHED_FILES
from trainer.calc.sources import Fact, facts
from trainer.calc.sources_used import groups_used

__all__ = ["sources"]


@click.command()
@click.option("--all", "all_of_them", is_flag=True, help="List every fact, those with two sources too.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
def sources(*, all_of_them: bool, as_json: bool) -> None:
    """
    List every fact in the tables that is "from memory" or "common practice".

    Each with its file and table, its source, and the calculations that use it: what to look up in print before relying
    on it in a dispute.
    """
    listed = [_plain(fact) for fact in facts() if all_of_them or fact.is_doubtful]
    if as_json:
        click.echo(json.dumps({"facts": listed}, ensure_ascii=False, indent=2))
    else:
        click.echo("\n".join(_text(listed)))


def _plain(fact: Fact) -> dict[str, Any]:
    return {
        "file": f"trainer/calc/tables/{fact.group.file}.toml",
        "table": fact.group.name,
        "item": fact.item,
        "checked": fact.checked,
        "source": fact.source,
        "used_by": list(_users(fact)),
    }


def _users(fact: Fact) -> tuple[str, ...]:
    """Calculations whose results rest on it; of a published figure those that are held against it."""
    if fact.group.file in PUBLISHED_FILES:
        return tuple(dict.fromkeys(PUBLISHED_FILES[fact.group.file](fact.group.values)))
    return tuple(name for name, paths in _paths_used().items() if fact.group.path in paths)


@cache
def _paths_used() -> Mapping[str, frozenset[tuple[str, ...]]]:
    return {name: frozenset(group.path for group in groups_used(entry)) for name, entry in CATALOGUE.items()}


def _text(listed: Sequence[Mapping[str, Any]]) -> Iterator[str]:
    for file in dict.fromkeys(fact["file"] for fact in listed):
        yield click.style(file, bold=True)
        for fact in (fact for fact in listed if fact["file"] == file):
            yield f"  {' '.join((fact['table'], fact['item'])).strip()}: {fact['checked']}"
            yield f"    source: {fact['source']}"
            yield f"    used by: {', '.join(fact['used_by']) or 'no calculation; shown only'}"
    yield f"{len(listed)} facts."
