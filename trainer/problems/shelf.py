"""The folder of question files: `questions/<unit>/<family>.toml`, one file a family, and `skills.toml`, the list."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from types import MappingProxyType
from typing import Annotated

from msgspec import Meta, Struct

from trainer.problems.errors import ContentError
from trainer.problems.family import read_toml
from trainer.problems.job_file import load_file
from trainer.problems.parts import Family
from trainer.problems.struct_shaping import shaped_struct

__all__ = [
    "SKILLS_FILE",
    "ContentRootError",
    "Skill",
    "content_root",
    "load_families",
    "load_skills",
    "question_files",
    "read_families",
]

SKILLS_FILE = "skills.toml"
#: The folder of local rules (`problems.local`), which holds no families.
LOCAL_FOLDER = "local"


class ContentRootError(FileNotFoundError):
    """No folder with lessons and questions was found; the text says where was looked."""


class Skill(Struct, frozen=True):
    """
    What families exercise: a person's ability rather than a question's.

    Args:
        id: `unit.skill`, such as "bends.offset".
        title: In a few words, for lists.
        unit: The unit that it belongs to, such as "bends".
        about: What a person can do who has it, in a sentence.
    """

    id: str
    title: str
    unit: str
    about: str


class SkillShape(Struct, frozen=True, forbid_unknown_fields=True):
    """One entry of the list."""

    id: Annotated[str, Meta(pattern=r"^[a-z-]+\.[a-z-]+\Z", max_length=40)]
    title: Annotated[str, Meta(min_length=1, max_length=60)]
    about: Annotated[str, Meta(min_length=1, max_length=200)]


class SkillsShape(Struct, frozen=True, forbid_unknown_fields=True):
    """The file of skills."""

    skill: list[SkillShape]


def content_root(given: str | Path | None = None) -> Path:
    """
    The folder that holds `lessons` and `questions`.

    Args:
        given: A folder named in the settings; nothing else is tried then.

    Raises:
        ContentRootError: When neither it nor the installed copy nor the checkout holds both.
    """
    package = Path(__file__).resolve().parents[1]
    tried = [Path(given)] if given else [package / "_content", package.parent]
    for folder in tried:
        if (folder / "lessons").is_dir() and (folder / "questions").is_dir():
            return folder
    looked = " and ".join(str(folder) for folder in tried)
    raise ContentRootError(f"No folders 'lessons' and 'questions' in {looked}.")


def load_families(folder: Path) -> Mapping[str, Family]:
    """
    Every family of a folder by its id.

    Args:
        folder: The folder `questions`.

    Raises:
        ContentError: With everything that was found wrong in all of the files.
    """
    families, errors = read_families(folder)
    if errors:
        raise ContentError.of(errors)
    return families


def read_families(folder: Path) -> tuple[Mapping[str, Family], list[ContentError]]:
    """The families of a folder that can be used, and what is wrong with the others; each is named after its file."""
    families: dict[str, Family] = {}
    errors: list[ContentError] = []
    for path, name in question_files(folder):
        try:
            found = load_file(path, name)
        except ContentError as error:
            errors += error.every
            continue
        if misnamed := _misnamed(found[0], path.stem, families):
            errors.append(misnamed)
        else:
            families |= {family.id: family for family in found}
    return MappingProxyType(families), errors


def question_files(folder: Path) -> Iterator[tuple[Path, str]]:
    """The files of a folder that hold families, each with the name that errors call it."""
    for path in sorted(folder.glob("*/*.toml")):
        if path.parent.name != LOCAL_FOLDER:
            yield path, f"{folder.name}/{path.parent.name}/{path.name}"


def _misnamed(family: Family, stem: str, families: Mapping[str, Family]) -> ContentError | None:
    """What is wrong with a file that is not named like its family or job, or whose id another file has taken."""
    own = _file_id(family)
    if own != stem:
        return ContentError(family.file, family.line("id"), "id", repr(own), f"{stem!r}, the file's name")
    taken = next((other for other in families.values() if _file_id(other) == own), None)
    if taken:
        accepted = f"an id that {taken.file} has not taken"
        return ContentError(family.file, family.line("id"), "id", repr(own), accepted)
    return None


def _file_id(family: Family) -> str:
    """The id that a family's file is named after: its own, or its job's."""
    return family.job.job.id if family.job else family.id


def load_skills(folder: Path) -> Mapping[str, Skill]:
    """
    The closed list of skills by id, in the order of the file.

    Raises:
        ContentError: When the file cannot be used or names a skill twice.
    """
    name, text = f"{folder.name}/{SKILLS_FILE}", (folder / SKILLS_FILE).read_text("utf-8")
    shape, lines = shaped_struct(name, text, read_toml(name, text), SkillsShape)
    skills: dict[str, Skill] = {}
    for at, entry in enumerate(shape.skill):
        if entry.id in skills:
            line = lines["skill", at, "id"]
            raise ContentError(name, line, f"skill.{at}.id", repr(entry.id), "an id that stands only once")
        skills[entry.id] = Skill(entry.id, entry.title, entry.id.split(".")[0], entry.about)
    return MappingProxyType(skills)
