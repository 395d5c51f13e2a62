"""Everything that can be read and asked, loaded once for each process."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from copy import copy
from pathlib import Path

from trainer.lessons.local import lay_over_lesson
from trainer.lessons.model import Lesson
from trainer.lessons.read import check_references, load_lessons
from trainer.problems.family import Family
from trainer.problems.job import Job
from trainer.problems.job_file import load_file
from trainer.problems.local import LocalRule, lay_over_file, load_local_rules
from trainer.problems.shelf import Skill, load_families, load_skills

__all__ = ["Library"]

MOST_OLD_VERSIONS = 512


class Library:
    """
    Families, lessons and skills by id, in the order in which the trade is taught.

    Nothing in it changes once it is loaded, but for stores of old versions that were read again and of what is taught
    under local rules.

    Args:
        content_root: Folder that holds `questions/` and `lessons/`.

    Raises:
        ContentError: When a file cannot be used, or names a skill or a family that there is not.
    """

    def __init__(self, content_root: Path) -> None:
        self.skills: Mapping[str, Skill] = load_skills(content_root / "questions")
        self.local_rules: Mapping[str, LocalRule] = load_local_rules(content_root / "questions")
        self._old: dict[tuple[str, str], Family] = {}
        self._laid: dict[tuple[str, ...], Library] = {}
        lessons = load_lessons(content_root / "lessons")
        self._filled(load_families(content_root / "questions"), lessons)
        for lesson in lessons.values():
            check_references(lesson, self.families, self.skills)

    def _filled(self, families: Mapping[str, Family], lessons: Mapping[str, Lesson]) -> Library:
        """Itself with this content."""
        self.families = families
        self.lessons = lessons
        self.jobs: Mapping[str, Job] = {one.job.job.id: one.job.job for one in families.values() if one.job}
        begins = [family for family in families.values() if family.job is None or family.job.first]
        self._of_skill = {skill: tuple(one for one in begins if one.skill == skill) for skill in self.skills}
        self._by_version = {(family.rules_hash, family.words_hash): family for family in families.values()}
        return self

    def under(self, rules: Iterable[str]) -> Library:
        """
        The content as it is taught and asked where these local rules hold; itself where none does.

        Args:
            rules: Their ids, in any order; one that is no longer on the shelf is left out, as nobody can say it any more.
        """
        chosen = tuple(name for name in self.local_rules if name in {*rules})
        if not chosen:
            return self
        if chosen not in self._laid:
            self._laid[chosen] = self._laid_under([self.local_rules[name] for name in chosen])
        return self._laid[chosen]

    def _laid_under(self, rules: Sequence[LocalRule]) -> Library:
        files = (family for family in self.families.values() if family.job is None or family.job.first)
        families = {family.id: family for first in files for family in lay_over_file(first, rules)}
        lessons = {lesson.id: lay_over_lesson(lesson, rules) for lesson in self.lessons.values()}
        return Library._filled(copy(self), families, lessons)

    @property
    def givable(self) -> Mapping[str, Family | Job]:
        """What can be given as work, by id: families, and jobs as a whole."""
        return {one.id: one for one in (family.job.job if family.job else family for family in self.families.values())}

    def families_of(self, skill: str) -> tuple[Family, ...]:
        """What can be asked for in a skill: its families, of a job the first part. None for a skill that is not on the shelf."""
        return self._of_skill.get(skill, ())

    def is_later(self, skill: str) -> bool:
        """Whether all that is asked about a skill is work of a later year."""
        families = self.families_of(skill)
        return bool(families) and all(family.later for family in families)

    def lessons_of(self, skill: str) -> tuple[Lesson, ...]:
        """The lessons of a skill, in their order."""
        return tuple(lesson for lesson in self.lessons.values() if skill in lesson.skills)

    def family_in_version(self, rules_hash: str, words_hash: str, body: str, content_id: str = "") -> Family:
        """
        A family as it once stood: the shipped one while it is the same, else read again from its body.

        Args:
            rules_hash: Of its version.
            words_hash: Of its version.
            body: Its file.
            content_id: Its id, which tells apart the parts of a job.

        Raises:
            ContentError: When the body can no longer be read.
        """
        version = rules_hash, words_hash
        family = self._by_version.get(version) or self._old.get(version)
        return family or self._read_again(version, body, content_id)

    def _read_again(self, version: tuple[str, str], body: str, content_id: str) -> Family:
        found = load_file(body, "a version on record")
        family = next((one for one in found if one.id == content_id), found[0])
        if len(self._old) >= MOST_OLD_VERSIONS:
            self._old.clear()
        self._old[version] = family
        return family
