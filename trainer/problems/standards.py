"""What every question file of the shelf keeps to besides being usable: place, skill, lesson, hints, sources, plain prose."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator

from trainer.problems.errors import ContentError
from trainer.problems.facts import how_checked
from trainer.problems.model import CHOOSING
from trainer.problems.parts import Family
from trainer.text.template import Template

__all__ = ["standards"]

#: Believable slips that a family knows, at the least; fewer where one chooses.
FEWEST_MISTAKES, FEWEST_FOR_CHOICES = 3, 2
TAG_OR_IMAGE = re.compile(r"<[A-Za-z/!]|!\[")


def standards(family: Family, skills: Collection[str], lessons: Collection[str]) -> list[ContentError]:
    """
    Where a family falls short.

    Args:
        family: The family.
        skills: Ids of the skills of the closed list.
        lessons: Ids of the lessons of the shelf.
    """
    return [
        ContentError(family.file, family.line(*path), ".".join(map(str, path)), given, accepted)
        for path, given, accepted in _short_of(family, skills, lessons)
    ]


Finding = tuple[tuple[str | int, ...], str, str]


def _short_of(family: Family, skills: Collection[str], lessons: Collection[str]) -> Iterator[Finding]:
    unit = family.skill.split(".")[0]
    if family.skill not in skills:
        yield ("skill",), family.skill, f"one of {', '.join(skills)}"
    folder = "jobs" if family.job else unit
    if family.file.split("/")[-2:-1] != [folder]:
        yield ("skill",), family.skill, f"a file in the folder {folder!r}{'' if family.job else ', its unit'}"
    if family.lesson and family.lesson not in lessons:
        yield ("lesson",), family.lesson, f"one of {', '.join(lessons) or 'no lessons yet'}"
    if not family.figure and not family.bender and (family.job is None or family.job.first):
        yield ("figure",), "nothing", "the name of a figure"
    if not family.hints:
        yield ("hints",), "nothing", "one to three hints"
    fewest = FEWEST_FOR_CHOICES if family.kind in CHOOSING else FEWEST_MISTAKES
    if len(family.mistakes) < fewest:
        yield ("mistakes",), f"{len(family.mistakes)} known mistakes", f"{fewest} or more that people really make"
    yield from _unused(family)
    yield from _from_memory(family)
    yield from _not_plain(family)


def _unused(family: Family) -> Iterator[Finding]:
    """What is drawn or named and never used; of a job, by none of its parts."""
    if family.job and not family.job.first:
        return
    used = frozenset[str]().union(*map(_used, family.job.job.parts if family.job else [family]))
    for parameter in family.parameters:
        for name in parameter.names:
            if name not in used:
                yield ("draw", name), name, "a name that the question, the calculation or a formula uses"
    for name in family.facts:
        if name not in used:
            yield ("facts", name), name, "a name that a formula or prose uses"


def _used(family: Family) -> frozenset[str]:
    """Names that a family uses somewhere."""
    used = {place.name for template in _prose(family).values() for place in template.places}
    used |= {place.name for template in family.inputs.values() for place in template.places}
    used |= {given.name for given in family.calculation.inputs}
    pencils = family.bender.pencils if family.bender else ()
    formulas = [*family.keep, *(at for _, at in pencils)]
    for statement in family.statements:
        formulas += [statement.right, *([statement.value] if statement.value else [])]
    for mistake in family.mistakes:
        formulas += [*mistake.values, *([mistake.when] if mistake.when else [])]
        used |= mistake.where.keys()
    return frozenset(used | {name for formula in formulas for name in formula.names})


def _from_memory(family: Family) -> Iterator[Finding]:
    """A fact that nobody has looked up decides about nothing."""
    for name, path in family.shape.facts.items():
        if how_checked(path) == "from memory" and path not in family.shape.local:
            yield ("facts", name), f"{path}, from memory", "a fact with a second source"


def _not_plain(family: Family) -> Iterator[Finding]:
    for path, template in _prose(family).items():
        for part in template.parts:
            if isinstance(part, str) and (found := TAG_OR_IMAGE.search(part)):
                yield path, repr(part[found.start() :][:40]), "plain Markdown without tags or images"


def _prose(family: Family) -> dict[tuple[str | int, ...], Template]:
    """Everything that people read, by its key."""
    prose: dict[tuple[str | int, ...], Template] = {("ask", "text"): family.text}
    for at, hint in enumerate(family.hints):
        prose["hints", at, "say"] = hint
    for at, mistake in enumerate(family.mistakes):
        prose["mistakes", at, "say"] = mistake.say
    for at, statement in enumerate(family.statements):
        prose["ask", "statements", at, "text"] = statement.text
        prose["ask", "statements", at, "why"] = statement.why
    for at, step in enumerate(family.steps):
        prose["ask", "steps", at, "text"] = step.text
        prose["ask", "steps", at, "why"] = step.why
    return prose
