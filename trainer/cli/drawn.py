"""A drawn problem as plain values and as text for the shell: everything about it, the key included."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

import click

from trainer.calc.message import Quantity
from trainer.calc.step import write_number
from trainer.cli.plain import step_text
from trainer.problems.family import Family
from trainer.problems.model import Problem, Value
from trainer.problems.worked import cautions, worked
from trainer.text.formats import quantity
from trainer.text.words import say

__all__ = ["as_plain", "as_text"]


def as_plain(family: Family, problem: Problem) -> dict[str, Any]:
    """A problem in JSON's own types, with `text` wherever a value is written for people."""
    return {
        "problem": f"{problem.family_id}#{problem.seed}",
        "title": problem.title,
        "skill": problem.skill,
        "level": problem.level,
        "edition": problem.edition,
        "basis": list(family.shape.basis),
        "kind": problem.kind.value,
        "unit": problem.unit,
        "tolerance": problem.tolerance,
        "numbers": dict(problem.numbers),
        "question": problem.text.strip(),
        "options": [{"id": option.id, "text": option.text, "why": option.why.strip()} for option in problem.options],
        "keys": [{"basis": key.basis, **_valued(problem, key.value)} for key in problem.keys],
        "mistakes": [
            {"id": mistake.id, **_valued(problem, mistake.value), "say": mistake.say.strip()}
            for mistake in problem.mistakes
        ],
        "hints": [hint.strip() for hint in problem.hints],
        "steps": [step_text(step) for step in worked(family, problem)],
        "sources": list(problem.sources),
        "cautions": [say(caution) for caution in cautions(family)],
    }


def _valued(problem: Problem, value: Value) -> dict[str, Any]:
    if isinstance(value, str):
        return {"value": value, "text": value}
    if isinstance(value, tuple):
        return {"value": list(value), "text": ", ".join(value)}
    decimals = f" ({write_number(value)})" if problem.unit == "in" and not (16 * value).is_integer() else ""
    return {"value": round(value, 12), "text": f"{quantity(Quantity(value, problem.unit))}{decimals}"}


def as_text(plain: Mapping[str, Any]) -> str:
    """The same for reading."""
    basis = f", basis {' or '.join(plain['basis'])}" if plain["basis"] else ""
    head = f"{plain['problem']}: {plain['title']} ({plain['skill']}, level {plain['level']}{basis})"
    return "\n".join([click.style(head, bold=True), "", plain["question"], *_sections(plain)])


def _sections(plain: Mapping[str, Any]) -> Iterator[str]:
    letters = (chr(ord("a") + place) for place in range(len(plain["options"])))
    options = [
        f"{letter}: {option['text']} [{option['id']}]. {option['why']}"
        for letter, option in zip(letters, plain["options"], strict=True)
    ]
    yield from _section("Choices", options)
    yield from _section("Key", [_line(key["text"], key["basis"]) for key in plain["keys"]])
    yield from _section("Known mistakes", [f"{one['text']}, {one['id']}: {one['say']}" for one in plain["mistakes"]])
    for title in ("hints", "steps", "sources", "cautions"):
        yield from _section(title.capitalize() if title != "cautions" else "Mind", plain[title])


def _line(text: str, basis: str) -> str:
    return f"{text}, {basis}" if basis else text


def _section(title: str, entries: list[str]) -> Iterator[str]:
    if not entries:
        return
    yield ""
    yield click.style(title, bold=True)
    for entry in entries:
        yield f"  {' '.join(entry.split())}"
