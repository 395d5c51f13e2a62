"""Everything that can be read and asked, held for each process."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from copy import copy
from pathlib import Path

from trainer.lessons.heads import LessonHead, hold_lessons
from trainer.lessons.heads import head_of as head_of_lesson
from trainer.lessons.local import lay_over_lesson
from trainer.lessons.model import Lesson
from trainer.lessons.read import check_references, load_lessons
from trainer.problems.family import Family
from trainer.problems.heads import Head, head_of, hold_families
from trainer.problems.held import Held
from trainer.problems.job import Job
from trainer.problems.job_file import load_file
from trainer.problems.local import LocalRule, lay_over_file, load_local_rules
from trainer.problems.shelf import Skill, load_families, load_skills

__all__ = ["Library"]

MOST_OLD_VERSIONS = 512


class Library:
    """
    Families, lessons and skills by id, in the order in which the trade is taught.

    Nothing in it changes once it is there, but for what is compiled when it is first wanted, stores of old versions that
    were read again, and what is taught under local rules.

    Args:
        content_root: Folder that holds `questions/` and `lessons/`.
        checked: Whether every file is to be read through now, so that whatever is amiss is said at once.

    Attributes:
        heads: What each family is listed by.
        lesson_heads: What each lesson is listed by.

    Raises:
        ContentError: When a file cannot be used, or names a skill or a family that there is not.
    """

    def __init__(self, content_root: Path, *, checked: bool = True) -> None:
        questions, lessons = content_root / "questions", content_root / "lessons"
        self.skills: Mapping[str, Skill] = load_skills(questions)
        self.local_rules: Mapping[str, LocalRule] = load_local_rules(questions)
        self._old: dict[tuple[str, str], Family] = {}
        self._laid: dict[tuple[str, ...], Library] = {}
        self.heads: Mapping[str, Head]
        self.lesson_heads: Mapping[str, LessonHead]
        if checked:
            families, taught = load_families(questions), load_lessons(lessons)
            for lesson in taught.values():
                check_references(lesson, families, self.skills)
            self.heads = {family.id: head_of(family) for family in families.values()}
            self.lesson_heads = {lesson.id: head_of_lesson(lesson) for lesson in taught.values()}
        else:
            self.heads, families = hold_families(questions)
            self.lesson_heads, taught = hold_lessons(lessons)
        self._filled(families, taught)

    def _filled(self, families: Mapping[str, Family], lessons: Mapping[str, Lesson]) -> Library:
        """Itself with this content."""
        self.families = families
        self.lessons = lessons
        begins = [head for head in self.heads.values() if head.begins]
        self._of_skill = {skill: [head for head in begins if head.skill == skill] for skill in self.skills}
        first = {head.job or head.id: head.id for head in begins}
        self.jobs: Mapping[str, Job] = Held({head.job: head.id for head in begins if head.job}, self._job)
        #: What can be given as work, by id: families, and jobs as a whole.
        self.givable: Mapping[str, Family | Job] = Held(first, self._given)
        return self

    def _job(self, first: str) -> Mapping[str, Job]:
        place = self.families[first].job
        return {place.job.id: place.job} if place else {}

    def _given(self, first: str) -> Mapping[str, Family | Job]:
        return self._job(first) or {first: self.families[first]}

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
        def laid(first: str) -> Mapping[str, Family]:
            return {family.id: family for family in lay_over_file(self.families[first], rules)}

        def taught(lesson: str) -> Mapping[str, Lesson]:
            return {lesson: lay_over_lesson(self.lessons[lesson], rules)}

        first = {head.job: head.id for head in self.heads.values() if head.begins}
        files = {head.id: first[head.job] if head.job else head.id for head in self.heads.values()}
        return Library._filled(copy(self), Held(files, laid), Held({name: name for name in self.lessons}, taught))

    def asks(self, skill: str) -> bool:
        """Whether there is anything to be asked for in a skill."""
        return bool(self._of_skill.get(skill))

    def families_of(self, skill: str) -> tuple[Family, ...]:
        """What can be asked for in a skill: its families, of a job the first part. None for a skill that is not on the shelf."""
        return tuple(self.families[head.id] for head in self._of_skill.get(skill, ()))

    def is_later(self, skill: str) -> bool:
        """Whether all that is asked about a skill is work of a later year."""
        return self.asks(skill) and all(head.later for head in self._of_skill[skill])

    def lessons_of(self, skill: str) -> tuple[LessonHead, ...]:
        """The lessons of a skill, in their order."""
        return tuple(lesson for lesson in self.lesson_heads.values() if skill in lesson.skills)

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
        # The id is part of the rules, so that no family of another id can be of this version.
        shipped = [content_id] if content_id in self.families else [] if content_id else self.families
        family = next((one for one in map(self.families.__getitem__, shipped) if _version(one) == version), None)
        return family or self._old.get(version) or self._read_again(version, body, content_id)

    def _read_again(self, version: tuple[str, str], body: str, content_id: str) -> Family:
        found = load_file(body, "a version on record")
        family = next((one for one in found if one.id == content_id), found[0])
        if len(self._old) >= MOST_OLD_VERSIONS:
            self._old.clear()
        self._old[version] = family
        return family


def _version(family: Family) -> tuple[str, str]:
    return family.rules_hash, family.words_hash
