"""
The top of a question file: enough to list a family by its skill, without taking the rest of the file apart.

A folder whose tops are all sound is held as text; a family is compiled when somebody wants it. Where one is not, all
files are read at once, which finds what is amiss.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from pathlib import Path
from types import MappingProxyType
from typing import Any

from msgspec import Struct

from trainer.problems.held import Held
from trainer.problems.job_file import load_file
from trainer.problems.parts import Family
from trainer.problems.shelf import load_families, question_files

__all__ = ["Head", "head_of", "hold_families"]

PARTS = re.compile(r"^\[\[parts\]\]\s*$", re.MULTILINE)
TABLE = re.compile(r"^\[", re.MULTILINE)


class Head(Struct, frozen=True):
    """
    What a family is listed by.

    Args:
        id: Of the family; of a part of a job with the job's before it.
        skill: Id of the skill that it exercises.
        later: Whether it is work of a later year.
        job: Id of its job; "" where it stands for itself.
        begins: Whether it can be asked first: whatever is no later part of a job.
    """

    id: str
    skill: str
    later: bool
    job: str
    begins: bool


def head_of(family: Family) -> Head:
    """The head of a family that is compiled."""
    place = family.job
    job, begins = (place.job.id, place.first) if place else ("", True)
    return Head(family.id, family.skill, family.later, job, begins)


def hold_families(folder: Path) -> tuple[Mapping[str, Head], Mapping[str, Family]]:
    """
    Every family of a folder by its id: its head, and itself, compiled when it is wanted.

    Args:
        folder: The folder `questions`.

    Raises:
        ContentError: When the top of a file cannot be used, with everything that is amiss in all files.
    """
    texts = {name: path.read_text("utf-8") for path, name in question_files(folder)}
    heads: dict[str, Head] = {}
    files: dict[str, str] = {}
    for name, text in texts.items():
        found = _heads(text)
        if not found or (found[0].job or found[0].id) != Path(name).stem or found[0].id in heads:
            families = load_families(folder)
            return MappingProxyType({key: head_of(one) for key, one in families.items()}), families
        heads |= {head.id: head for head in found}
        files |= dict.fromkeys((head.id for head in found), name)

    def compiled(name: str) -> Mapping[str, Family]:
        return {family.id: family for family in load_file(texts[name], name)}

    return MappingProxyType(heads), Held(files, compiled)


def _heads(text: str) -> tuple[Head, ...]:
    """Of the one family of a file, or of each part of its job; none where the tops cannot be used."""
    try:
        top, *parts = _tops(text)
        skill, later = top["skill"], top.get("later", False)
        if not parts:
            return (Head(top["id"], skill, later, "", begins=True),)
        return tuple(
            Head(f"{top['id']}.{part['id']}", part.get("skill", skill), later, top["id"], begins=at == 0)
            for at, part in enumerate(parts)
        )
    except (tomllib.TOMLDecodeError, KeyError):
        return ()


def _tops(text: str) -> list[dict[str, Any]]:
    """Plain keys of the file and of each `[[parts]]`; what ends in a table's name is whole where it can be read."""
    try:
        return [tomllib.loads(TABLE.split(one, maxsplit=1)[0]) for one in PARTS.split(text)]
    except tomllib.TOMLDecodeError:
        data = tomllib.loads(text)
        return [data, *data.get("parts", ())]
