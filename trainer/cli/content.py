"""`trainer problem` and `trainer check-content`: question files and lessons from the shell."""

from __future__ import annotations

import json
import os
import secrets
from collections.abc import Callable, Iterator, Mapping
from difflib import get_close_matches
from pathlib import Path
from typing import NoReturn, TypeVar

import click

from trainer.calc.message import InputError
from trainer.cli.drawn import as_plain, as_text
from trainer.cli.issued import issued
from trainer.cli.plain import error_line
from trainer.cli.trials import trials
from trainer.config import SettingsError, settings_from
from trainer.lessons.coverage import COVERAGE_FILE, load_facts, uncovered
from trainer.lessons.language import lesson_language
from trainer.lessons.local import lay_over_lesson
from trainer.lessons.model import Lesson
from trainer.lessons.read import check_references, load_lessons
from trainer.problems.codes import read_code, read_reference
from trainer.problems.draw import draw
from trainer.problems.errors import ContentError, DrawError
from trainer.problems.family import Family
from trainer.problems.language import language
from trainer.problems.local import is_thinned, lay_over, load_local_rules, touches
from trainer.problems.model import Problem
from trainer.problems.shelf import ContentRootError, Skill, content_root, load_skills, read_families
from trainer.problems.standards import standards
from trainer.text.prose import has_libraries

__all__ = ["check_content", "named_family", "problem"]

Entry = TypeVar("Entry")

EXIT_BAD_INPUT = 2
LARGEST_SEED = 10**6

EXAMPLES = """\b
trainer problem offset-spacing
trainer problem offset-spacing#17 --json
trainer problem 7K3MB9QY
trainer problem --list
"""


@click.command(epilog=EXAMPLES)
@click.argument("reference", required=False, metavar="[FAMILY[#SEED] | JOB[#SEED] | CODE]")
@click.option("--list", "list_all", is_flag=True, help="List every family.")
@click.option("--seed", type=click.IntRange(0, 10**18), help="Which problem of the family; else one by chance.")
@click.option("--edition", default="2023", show_default=True, type=click.Choice(["2017", "2020", "2023"]))
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
def problem(reference: str | None, list_all: bool, seed: int | None, edition: str, as_json: bool) -> None:
    """
    Print a problem with its key, known mistakes, hints and worked steps.

    FAMILY#SEED gives the same problem every time; FAMILY alone gives one by chance, and says its seed. JOB#SEED gives all
    parts of a job, each with the right answers of those before it; JOB.PART#SEED gives one. CODE is the code
    of a problem that was issued on this site: it is printed with the numbers and the rules of that day.
    """
    families, _ = read_families(_folder("questions"))
    if list_all or not reference:
        click.echo("\n".join(_list(families)))
        return
    if reference not in families and (code := _code(reference)):
        found = [as_plain(*issued(code))]
    else:
        named, named_seed = _named(reference, families)
        chosen = named_seed if seed is None else seed
        settled = secrets.randbelow(LARGEST_SEED) if chosen is None else chosen
        found = [as_plain(family, _drawn(family, settled, edition)) for family in named]
    if as_json:
        click.echo(json.dumps(found if len(found) > 1 else found[0], ensure_ascii=False, indent=2))
    else:
        click.echo("\n\n\n".join(map(as_text, found)))


def _code(reference: str) -> str | None:
    """The reference as a code; None when it is none."""
    try:
        return read_code(reference)
    except InputError:
        return None


def _drawn(family: Family, seed: int, edition: str) -> Problem:
    try:
        return draw(family, seed, edition=edition)
    except DrawError as error:
        raise click.ClickException(str(error)) from None


@click.command("check-content")
@click.argument("only", nargs=-1, metavar="[FAMILY | UNIT]...")
@click.option("--draws", default=1000, show_default=True, type=click.IntRange(1), help="Problems drawn of each family.")
@click.option("--workers", default=1, show_default=True, type=click.IntRange(1, 64), help="Processes at a time.")
def check_content(only: tuple[str, ...], draws: int, workers: int) -> None:
    """
    Check every lesson and question, or the families and jobs that are named and those of the units that are named.

    Each family is drawn many times, and each key and known mistake typed as people would. Whatever is ambiguous,
    impossible, unsourced, missing or not drawable is listed with file and line; the exit status is then 1.
    """
    families, errors = read_families(_folder("questions"))
    skills: Mapping[str, Skill] = _or_nothing(errors, load_skills, _folder("questions"))
    lessons: Mapping[str, Lesson] = _or_nothing(errors, load_lessons, _folder("lessons"))
    chosen = [family for family in families.values() if not only or {*_called(family)} & {*only}]
    if only and not chosen:
        _refuse(f"{', '.join(only)!r} names no family and no unit that has one. `trainer problem --list` shows all.")
    for family in chosen:
        errors += [*standards(family, skills, lessons), *language(family)]
    errors += _references(lessons, families, skills)
    under_rules: list[Family] = []
    if not only:
        errors += [*_of_lessons(lessons), *_of_coverage(lessons, families)]
        under_rules = _under_local_rules(families, lessons, errors)
    found = trials([*chosen, *under_rules], draws, workers=workers)
    errors += [error for findings in found[: len(chosen)] for error in findings]
    errors += [error for findings in found[len(chosen) :] for error in findings if not is_thinned(error)]
    for error in sorted(errors, key=lambda error: (error.file, error.line)):
        click.echo(str(error))
    if not has_libraries():
        click.echo("Spelling and reading level are not checked: pip install 'trainer[writing]'.", err=True)
    counts = f"{len(chosen)} families, {draws} problems of each; {len(lessons)} lessons; {len(skills)} skills"
    if errors:
        raise click.ClickException(f"{len(errors)} to mend in {counts}.")
    click.echo(f"Nothing to mend in {counts}.")


def _called(family: Family) -> tuple[str, ...]:
    """What names a family: its id, its unit, its job."""
    unit = family.skill.split(".")[0]
    return (family.id, unit) if family.job is None else (family.id, unit, family.job.job.id)


def _folder(name: str) -> Path:
    """The folder of questions or lessons, from the settings or beside the program."""
    try:
        return content_root(settings_from(os.environ).content) / name
    except (SettingsError, ContentRootError) as error:
        raise click.ClickException(str(error)) from None


def _list(families: Mapping[str, Family]) -> Iterator[str]:
    """A line for each family, under its skill."""
    width = max(map(len, families), default=0)
    for skill in dict.fromkeys(family.skill for family in families.values()):
        yield click.style(skill, bold=True)
        for family in families.values():
            if family.skill == skill:
                yield f"  {family.id:{width}}  {family.title} ({family.kind.value}, level {family.level})"


def named_family(family_id: str) -> Family:
    """The family of this id, of a job the first part; ends the command where there is none."""
    return _named(family_id, read_families(_folder("questions"))[0])[0][0]


def _named(reference: str, families: Mapping[str, Family]) -> tuple[list[Family], int | None]:
    """The family, or the parts of the job, and the seed of a reference; ends the command where there is none."""
    try:
        family_id, seed = read_reference(reference)
    except InputError as error:
        _refuse(error_line(error))
    parts = [family for family in families.values() if family.job and family.job.job.id == family_id]
    if parts:
        return parts, seed
    if family_id not in families:
        near = get_close_matches(family_id[:80], families, n=1)
        meant = f"Did you mean {near[0]}? " if near else ""
        _refuse(f"{family_id[:80]!r} is no family that can be used. {meant}`trainer problem --list` shows all.")
    return [families[family_id]], seed


def _refuse(line: str) -> NoReturn:
    click.echo(line, err=True)
    raise click.exceptions.Exit(EXIT_BAD_INPUT)


def _or_nothing(
    errors: list[ContentError], load: Callable[[Path], Mapping[str, Entry]], folder: Path
) -> Mapping[str, Entry]:
    """What a folder holds, or nothing and one more error."""
    try:
        return load(folder)
    except ContentError as error:
        errors += error.every
        return {}


def _of_lessons(lessons: Mapping[str, Lesson]) -> Iterator[ContentError]:
    """The words of every lesson."""
    for lesson in lessons.values():
        yield from lesson_language(lesson)


def _of_coverage(lessons: Mapping[str, Lesson], families: Mapping[str, Family]) -> list[ContentError]:
    """What no lesson teaches or no family asks without a reason; nothing where a folder of one's own has no list."""
    folder = _folder("lessons")
    if not (folder / COVERAGE_FILE).exists():
        return []
    try:
        return uncovered(load_facts(folder), lessons, families)
    except ContentError as error:
        return [*error.every]


def _under_local_rules(
    families: Mapping[str, Family], lessons: Mapping[str, Lesson], errors: list[ContentError]
) -> list[Family]:
    """Every family that a local rule touches, as it is asked under that rule; the lessons are laid under each as well."""
    rules = _or_nothing(errors, load_local_rules, _folder("questions")).values()
    for rule in rules:
        for lesson in lessons.values():
            lay_over_lesson(lesson, [rule])
    return [lay_over(family, [rule]) for rule in rules for family in families.values() if touches(rule, family)]


def _references(
    lessons: Mapping[str, Lesson], families: Mapping[str, Family], skills: Mapping[str, Skill]
) -> Iterator[ContentError]:
    for lesson in lessons.values():
        try:
            check_references(lesson, families, skills)
        except ContentError as error:
            yield from error.every
