"""`trainer coverage`: which fact is taught in which lesson and asked by which family."""

from __future__ import annotations

import json
import os
from collections.abc import Iterator, Mapping, Sequence

import click
from msgspec import to_builtins

from trainer.config import SettingsError, settings_from
from trainer.lessons.coverage import Covered, Facts, load_facts
from trainer.lessons.coverage import coverage as covered_facts
from trainer.lessons.model import Lesson
from trainer.lessons.read import load_lessons
from trainer.problems.errors import ContentError
from trainer.problems.shelf import ContentRootError, content_root, load_families

__all__ = ["coverage"]


@click.command()
@click.option("--open", "only_open", is_flag=True, help="List only what is neither met nor left out for a reason.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
def coverage(*, only_open: bool, as_json: bool) -> None:
    """
    Show which fact of the trade is taught where, and exercised by which questions.

    First the rules and habits of `lessons/coverage.toml`, then the tables of the core. Where no lesson teaches or no
    family asks it, the reason stands there; the exit status is 1 where neither stands.
    """
    try:
        root = content_root(settings_from(os.environ).content)
        facts = load_facts(root / "lessons")
        lessons = load_lessons(root / "lessons")
        found = covered_facts(facts, lessons, load_families(root / "questions"))
    except (SettingsError, ContentRootError, ContentError) as error:
        raise click.ClickException(str(error)) from None
    unmet = [entry for entry in found if entry.is_open]
    shown = unmet if only_open else found
    if as_json:
        click.echo(json.dumps({"facts": [to_builtins(entry) for entry in shown]}, ensure_ascii=False, indent=2))
    else:
        click.echo("\n".join([*_text(shown), *_lessons_without(facts, lessons), _sum(found)]))
    if unmet:
        raise click.exceptions.Exit(1)


def _text(shown: Sequence[Covered]) -> Iterator[str]:
    for entry in shown:
        yield click.style(entry.fact or f"Table {entry.name}", bold=True)
        yield f"  {entry.source or 'sources stand in its rows'} ({entry.checked or 'said row by row'})"
        yield f"  taught: {', '.join(entry.taught) or _reason(entry.not_taught)}"
        yield f"  asked:  {', '.join(entry.asked) or _reason(entry.not_asked)}"


def _reason(words: str) -> str:
    return f"not, for {words}" if words else click.style("nowhere, and no reason is given", bold=True)


def _lessons_without(facts: Facts, lessons: Mapping[str, Lesson]) -> Iterator[str]:
    """Lessons that no fact of the list names: a sign that the list is behind."""
    named = {name for fact in facts.facts for name in fact.taught}
    for name in sorted({*lessons} - named):
        yield f"No fact of the list is taught in {name}."


def _sum(found: Sequence[Covered]) -> str:
    taught, asked = (sum(1 for entry in found if getattr(entry, key)) for key in ("taught", "asked"))
    unmet = sum(entry.is_open for entry in found)
    return f"{len(found)} facts: {taught} taught, {asked} asked, {unmet} without a place or a reason."
