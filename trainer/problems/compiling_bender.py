"""Compiling a question that puts the bender on the tube: its marks, its pencil marks, the choices of its known mistakes."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import product

from trainer.calc.calculation import Output
from trainer.problems.bender import MARK, choices_of
from trainer.problems.findings import Findings
from trainer.problems.lines import KeyPath
from trainer.problems.model import AnswerKind, BenderGroup
from trainer.problems.parts import BenderAsk
from trainer.problems.shape import FamilyShape, MistakeShape

__all__ = ["bender_ask", "bender_slips"]

AT = ("ask", "bender")
FEWEST_PENCILS = 2


def bender_ask(shape: FamilyShape, outputs: Mapping[str, Output], findings: Findings) -> BenderAsk | None:
    """What is asked for, with every finding about it noted; None for every other kind of answer."""
    if shape.ask.kind is not AnswerKind.BENDER:
        return None
    asked = shape.ask.bender
    if asked is None:
        findings.fail(("ask",), "nothing", "a table [ask.bender] with bend, groups and pencils")
        return None
    if not asked.marks.startswith("marks") or asked.marks not in outputs:
        known = ", ".join(name for name in outputs if name.startswith("marks")) or "this calculation has none"
        findings.fail((*AT, "marks"), asked.marks, f"an output with marks: {known}")
    groups = tuple(group for group in BenderGroup if group in asked.groups)
    if len(groups) != len(asked.groups):
        findings.fail((*AT, "groups"), ", ".join(asked.groups), "each group once")
    if BenderGroup.ROLL in groups and asked.bend == 1:
        findings.fail(
            (*AT, "groups"), "roll before the first bend", "a later bend: the straight tube may lie as it will"
        )
    if (BenderGroup.MARK in groups) != (len(asked.pencils) >= FEWEST_PENCILS):
        findings.fail((*AT, "pencils"), len(asked.pencils), "two or more pencil marks where one is chosen, else none")
    pencils = tuple((name, findings.formula((*AT, "pencils", name), at)) for name, at in asked.pencils.items())
    return BenderAsk(asked.marks, asked.bend, asked.any_left, groups, pencils)


def bender_slips(
    shape: FamilyShape, entry: MistakeShape, path: KeyPath, findings: Findings
) -> tuple[tuple[str, ...], ...]:
    """The wrong choices of a known mistake by their ids, one tuple for each alternative."""
    asked = shape.ask.bender
    if asked is None or shape.ask.kind is not AnswerKind.BENDER:
        if entry.chose:
            findings.fail((*path, "chose"), ", ".join(entry.chose), f"no such key for a {shape.ask.kind}")
        return ()
    sets = []
    for group in BenderGroup:
        given = entry.chose.get(group)
        if given is None:
            continue
        words = [given] if isinstance(given, str) else given
        ids = [MARK + word if group is BenderGroup.MARK else word for word in words]
        known = choices_of(asked.pencils, group) if group in asked.groups else ()
        for word, choice in zip(words, ids, strict=True):
            if choice not in known:
                accepted = ", ".join(one.removeprefix(MARK) for one in known) or "a group that is asked for"
                findings.fail((*path, "chose", group.value), word, accepted)
        sets.append(ids)
    return tuple(product(*sets)) if sets else ()
