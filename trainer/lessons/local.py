"""Rules of a place laid over a lesson: its numbers, what its examples compute with, a note at its head, and the source."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable
from typing import Any

import tomli_w

from trainer.lessons.model import FENCE, Lesson, Table
from trainer.lessons.read import load_lesson
from trainer.problems.local import LocalRule

__all__ = ["lay_over_lesson"]


def lay_over_lesson(lesson: Lesson, rules: Iterable[LocalRule]) -> Lesson:
    """
    The lesson as it is taught under these rules; the lesson itself where none of them touches it.

    Raises:
        ContentError: When the lesson can't be shown in that way.
    """
    touching = [rule for rule in rules if _touches(rule, lesson)]
    if not touching:
        return lesson
    _, toml, prose = lesson.body.split(f"{FENCE}\n", 2)
    front = tomllib.loads(toml)
    for rule in touching:
        _lay(front, rule)
    notes = "\n\n".join(f"> **Here:** {rule.say}" for rule in touching)
    names = ", ".join(rule.id for rule in touching)
    text = f"{FENCE}\n{tomli_w.dumps(front)}{FENCE}\n\n{notes}\n\n{prose}"
    return load_lesson(text, f"{lesson.file} under {names}")


def _touches(rule: LocalRule, lesson: Lesson) -> bool:
    """Whether a number that the prose names, or something that an example or a table leaves out, is another one here."""
    worked = [(example.calculation.name, {*example.inputs}) for example in lesson.examples.values()]
    worked += [
        (block.calculation.name, {*block.inputs, block.vary}) for block in lesson.blocks if isinstance(block, Table)
    ]
    return bool(rule.values.keys() & {*lesson.core_facts}) or any(
        rule.inputs.get(name, {}).keys() - given for name, given in worked
    )


def _lay(front: dict[str, Any], rule: LocalRule) -> None:
    """One rule laid over the plain values of a lesson's front matter."""
    for entry in front.get("facts", {}).values():
        if (path := entry.get("core")) in rule.values:
            entry.clear()
            entry |= {"value": rule.values[path], "source": rule.source, "checked": "computed"}
    for entry in (*front.get("examples", {}).values(), *front.get("tables", {}).values()):
        own = rule.inputs.get(entry["calculation"], {})
        entry["inputs"] = {
            **{name: text for name, text in own.items() if name != entry.get("vary")},
            **entry.get("inputs", {}),
        }
    front["sources"].append({"fact": rule.title, "source": rule.source, "checked": "computed"})
