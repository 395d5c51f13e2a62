"""The list of questions to choose from: all of them, or those of a unit, a level, with some words, or that a class gets wrong."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec import Struct, field
from werkzeug.datastructures import MultiDict

from trainer.groups.gets_wrong import GotWrong
from trainer.groups.questions import FamilyCount
from trainer.problems.family import Family
from trainer.problems.job import Job
from trainer.problems.shelf import Skill
from trainer.web.content import library
from trainer.web.units import by_unit

__all__ = ["LONGEST", "Listing", "Wanted", "listing", "read_wanted"]

LONGEST = 60
LEVELS = (1, 2, 3)
Givable = Family | Job


class Wanted(Struct, frozen=True):
    """What is to be listed: a unit, a level, words in titles, only what the class gets wrong; empty for all."""

    unit: str = ""
    level: int = 0
    words: str = ""
    wrong: bool = False

    def __bool__(self) -> bool:
        return bool(self.unit or self.level or self.words or self.wrong)


class Listing(Struct, frozen=True):
    """
    The list.

    Args:
        wanted: What was asked for.
        units: By the title of the unit its skills; only those with something to list.
        families: By skill, what can be given.
        every_unit: Id and title of each unit that can be asked for.
        wrong: By family, what the class gets wrong in it.
        chosen: How many of each were chosen.
        hidden: What was chosen and is not in the list.
    """

    wanted: Wanted
    units: Sequence[tuple[str, Sequence[Skill]]]
    families: Mapping[str, Sequence[Givable]]
    every_unit: Sequence[tuple[str, str]]
    wrong: Mapping[str, GotWrong] = field(default_factory=dict)
    chosen: Mapping[str, int] = field(default_factory=dict)
    hidden: Mapping[str, int] = field(default_factory=dict)


def read_wanted(sent: MultiDict[str, str]) -> Wanted:
    """What an address asks for; what makes no sense is left out."""
    level = sent.get("level", "")
    unit = sent.get("unit", "")
    return Wanted(
        unit=unit if any(skill.unit == unit for skill in library().skills.values()) else "",
        level=int(level) if level in {str(one) for one in LEVELS} else 0,
        words=" ".join(sent.get("words", "")[:LONGEST].split()),
        wrong=sent.get("by") == "wrong",
    )


def listing(wanted: Wanted, chosen: Sequence[FamilyCount], wrong: Sequence[GotWrong] = ()) -> Listing:
    """The list, in the order in which the trade is taught; what the class gets wrong by how many do."""
    by_family = {one.family_id: one for one in wrong}
    families: dict[str, list[Givable]] = {}
    for skill in library().skills.values():
        if library().asks(skill.id):
            listed = [one for one in _givable(skill.id) if _fits(one, skill, wanted, by_family)]
            if listed:
                order = list(by_family)
                families[skill.id] = sorted(listed, key=lambda one: order.index(one.id)) if wanted.wrong else listed
    counts = {one.family_id: one.count for one in chosen}
    shown = {one.id for every in families.values() for one in every}
    return Listing(
        wanted,
        by_unit([library().skills[skill] for skill in families]),
        families,
        [(skills[0].unit, title) for title, skills in by_unit(library().skills.values())],
        by_family,
        counts,
        {family: count for family, count in counts.items() if family not in shown},
    )


def _givable(skill: str) -> list[Givable]:
    """What can be given in a skill; a job stands under the skill of its first part."""
    return [family.job.job if family.job else family for family in library().families_of(skill)]


def _fits(one: Givable, skill: Skill, wanted: Wanted, wrong: Mapping[str, GotWrong]) -> bool:
    said = f"{one.title} {skill.title}".casefold()
    return (
        (not wanted.unit or skill.unit == wanted.unit)
        and (not wanted.level or one.level == wanted.level)
        and all(word in said for word in wanted.words.casefold().split())
        and (not wanted.wrong or one.id in wrong)
    )
