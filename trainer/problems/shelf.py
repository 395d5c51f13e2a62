"""
The folder of question files: `questions/<unit>/<family>.toml`, one file a family, and `skills.toml`, the closed list.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from trainer.problems.errors import ContentError
from trainer.problems.family import load_family, misshaped, not_toml
from trainer.problems.lines import key_lines
from trainer.problems.parts import Family

__all__ = ["SKILLS_FILE", "ContentRootError", "Skill", "content_root", "family_files", "load_families", "load_skills"]

SKILLS_FILE = "skills.toml"


class ContentRootError(FileNotFoundError):
    """No folder with lessons and questions was found; the text says where was looked."""


@dataclass(frozen=True, slots=True)
class Skill:
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


class SkillShape(BaseModel):
    """One entry of the list."""

    model_config = ConfigDict(extra="forbid")
    id: str = Field(pattern=r"^[a-z-]+\.[a-z-]+$", max_length=40)
    title: str = Field(min_length=1, max_length=60)
    about: str = Field(min_length=1, max_length=200)


class SkillsShape(BaseModel):
    """The file of skills."""

    model_config = ConfigDict(extra="forbid")
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


def family_files(folder: Path) -> Iterator[Path]:
    """The question files of a folder, by name; the list of skills is none."""
    return (path for path in sorted(folder.glob("*/*.toml")))


def load_families(folder: Path) -> Mapping[str, Family]:
    """
    Every family of a folder by its id.

    Args:
        folder: The folder `questions`.

    Raises:
        ContentError: For the first file that cannot be used, is not named after its id, or repeats an id.
    """
    families: dict[str, Family] = {}
    for path in family_files(folder):
        name = f"{folder.name}/{path.parent.name}/{path.name}"
        family = load_family(path, name)
        if family.id != path.stem:
            raise ContentError(name, family.line("id"), "id", repr(family.id), f"the file's own name, {path.stem!r}")
        if family.id in families:
            other = families[family.id].file
            raise ContentError(name, family.line("id"), "id", repr(family.id), f"an id that {other} has not taken")
        families[family.id] = family
    return MappingProxyType(families)


def load_skills(folder: Path) -> Mapping[str, Skill]:
    """
    The closed list of skills by id, in the order of the file.

    Raises:
        ContentError: When the file cannot be used or names a skill twice.
    """
    name, text = f"{folder.name}/{SKILLS_FILE}", (folder / SKILLS_FILE).read_text("utf-8")
    try:
        shape = SkillsShape.model_validate(tomllib.loads(text))
    except tomllib.TOMLDecodeError as error:
        raise not_toml(name, text, error) from None
    except ValidationError as error:
        raise ContentError.of(misshaped(name, key_lines(text), detail) for detail in error.errors()) from None
    skills: dict[str, Skill] = {}
    for at, entry in enumerate(shape.skill):
        if entry.id in skills:
            line = key_lines(text)["skill", at, "id"]
            raise ContentError(name, line, f"skill.{at}.id", repr(entry.id), "an id that stands only once")
        skills[entry.id] = Skill(entry.id, entry.title, entry.id.split(".")[0], entry.about)
    return MappingProxyType(skills)
