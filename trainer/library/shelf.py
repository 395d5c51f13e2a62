"""Everything that can be read and asked, loaded once for each process."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from trainer.lessons.model import Lesson
from trainer.lessons.read import check_references, load_lessons
from trainer.problems.family import Family, load_family
from trainer.problems.shelf import Skill, load_families, load_skills

__all__ = ["Library"]

MOST_OLD_VERSIONS = 512


class Library:
    """
    Families, lessons and skills by id, in the order in which the trade is taught.

    Nothing in it changes once it is loaded, but for a store of old versions that were read again.

    Args:
        content_root: Folder that holds `questions/` and `lessons/`.

    Raises:
        ContentError: When a file cannot be used, or names a skill or a family that there is not.
    """

    def __init__(self, content_root: Path) -> None:
        self.skills: Mapping[str, Skill] = load_skills(content_root / "questions")
        self.families: Mapping[str, Family] = load_families(content_root / "questions")
        self.lessons: Mapping[str, Lesson] = load_lessons(content_root / "lessons")
        for lesson in self.lessons.values():
            check_references(lesson, self.families, self.skills)
        self._of_skill = {
            skill: tuple(family for family in self.families.values() if family.skill == skill) for skill in self.skills
        }
        self._by_version = {(family.rules_hash, family.words_hash): family for family in self.families.values()}
        self._old: dict[tuple[str, str], Family] = {}

    def families_of(self, skill: str) -> tuple[Family, ...]:
        """The families of a skill; none for a skill that is not on the shelf."""
        return self._of_skill.get(skill, ())

    def is_later(self, skill: str) -> bool:
        """Whether all that is asked about a skill is work of a later year."""
        families = self.families_of(skill)
        return bool(families) and all(family.later for family in families)

    def lessons_of(self, skill: str) -> tuple[Lesson, ...]:
        """The lessons of a skill, in their order."""
        return tuple(lesson for lesson in self.lessons.values() if skill in lesson.skills)

    def family_in_version(self, rules_hash: str, words_hash: str, body: str) -> Family:
        """
        A family as it once stood: the shipped one while it is the same, else read again from its body.

        Raises:
            ContentError: When the body can no longer be read.
        """
        version = rules_hash, words_hash
        family = self._by_version.get(version) or self._old.get(version)
        return family or self._read_again(version, body)

    def _read_again(self, version: tuple[str, str], body: str) -> Family:
        family = load_family(body, "a version on record")
        if len(self._old) >= MOST_OLD_VERSIONS:
            self._old.clear()
        self._old[version] = family
        return family
