"""Lessons read from their files. Every error names file, line, what was given and what is accepted."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING

from trainer.lessons.directives import ARROW, Context, DirectiveError, read_directive
from trainer.lessons.model import FENCE, Block, Drawing, Lesson, Prose, TryIt
from trainer.lessons.values import lesson_values
from trainer.problems.errors import ContentError
from trainer.problems.parts import Family
from trainer.problems.shelf import Skill
from trainer.text.signs import hidden_sign
from trainer.text.template import Template, TemplateError, compile_template

if TYPE_CHECKING:
    from trainer.lessons.front import Front

__all__ = ["check_references", "load_lesson", "load_lessons"]


def load_lessons(folder: Path) -> Mapping[str, Lesson]:
    """
    Every lesson of a folder by its id, in the order of unit, place in the unit, and id.

    Args:
        folder: The folder `lessons`.

    Raises:
        ContentError: For the first file that cannot be used or is not named after its id.
    """
    lessons = [load_lesson(path, f"{folder.name}/{path.name}") for path in sorted(folder.glob("*.md"))]
    for lesson in lessons:
        stem = Path(lesson.file).stem
        if lesson.id != stem:
            raise ContentError(lesson.file, 2, "id", repr(lesson.id), f"the file's own name, {stem!r}")
    lessons.sort(key=lambda lesson: (lesson.unit, lesson.order, lesson.id))
    return MappingProxyType({lesson.id: lesson for lesson in lessons})


def load_lesson(source: Path | str, name: str = "") -> Lesson:
    """
    Read a lesson.

    Args:
        source: A file, or the text of one.
        name: What errors call it; the file's path when left out.

    Raises:
        ContentError: With every further error of the file in `also`.
    """
    text = source.read_text("utf-8") if isinstance(source, Path) else source
    file = name or (str(source) if isinstance(source, Path) else "lesson")
    toml, first, prose = _halves(file, text)
    # With the first lesson that is read: its shape is a tenth of a second to load with what validates it, and no start
    # needs it.
    from trainer.lessons.front import read_front  # noqa: PLC0415

    front = read_front(file, toml)
    blocks = tuple(_blocks(file, first, prose, front))
    lesson = _lesson(file, text, front, blocks)
    _check_places(lesson)
    return lesson


def _halves(file: str, text: str) -> tuple[str, int, list[str]]:
    """The front matter, the number of the first line of prose, and the lines of prose."""
    lines = text.splitlines()
    if not lines or lines[0].strip() != FENCE:
        raise ContentError(file, 1, "", repr(lines[0] if lines else ""), f"a first line {FENCE}")
    for number, line in enumerate(lines[1:], start=1):
        if line.strip() == FENCE:
            return "\n".join(["", *lines[1:number]]), number + 2, lines[number + 1 :]
    raise ContentError(file, len(lines), "", repr(lines[-1]), f"a line {FENCE} that ends the front matter")


def _blocks(file: str, first: int, lines: list[str], front: Front) -> Iterator[Block]:
    """Prose and directives in the order of the file."""
    context = Context(front.examples, front.tables)
    found = [
        ContentError(file, number, "", f"a sign that nobody sees, {sign}", "signs that can be seen")
        for number, line in enumerate(lines, start=first)
        if (sign := hidden_sign(line))
    ]
    for start, part in _parts(first, lines):
        try:
            if part.startswith(ARROW):
                yield read_directive(part, start, context)
            else:
                yield Prose(start, compile_template(part))
        except (DirectiveError, TemplateError) as error:
            found.append(ContentError(file, _line_of(start, part, error.given), "", repr(error.given), error.accepted))
    if found:
        raise ContentError.of(found)


def _parts(first: int, lines: list[str]) -> Iterator[tuple[int, str]]:
    """Stretches of prose and single directives with the number of their first line."""
    prose: list[str] = []
    start = first
    for number, line in enumerate([*lines, ARROW], start=first):
        if not line.startswith(ARROW):
            prose.append(line)
            continue
        if any(text.strip() for text in prose):
            blank = next(index for index, text in enumerate(prose) if text.strip())
            yield start + blank, "\n".join(prose[blank:]).rstrip()
        if number < first + len(lines):
            yield number, line.strip()
        prose, start = [], number + 1


def _line_of(start: int, part: str, given: str) -> int:
    """The line of a part on which the text at fault stands."""
    return start + part[: max(0, part.find(given))].count("\n")


def _lesson(file: str, body: str, front: Front, blocks: tuple[Block, ...]) -> Lesson:
    shape = front.shape
    return Lesson(
        file=file,
        body=body,
        id=shape.id,
        title=shape.title,
        about=shape.about,
        unit=shape.unit,
        skills=tuple(shape.skills),
        minutes=shape.minutes,
        order=shape.order,
        later=shape.later,
        blocks=blocks,
        examples=front.examples,
        facts=front.facts,
        core_facts=tuple(entry.core for entry in shape.facts.values() if entry.core),
        sources=front.sources,
    )


def _templates(lesson: Lesson) -> Iterator[tuple[int, Template]]:
    """Everything that is filled in, with its line; an example's text counts to the front matter."""
    for block in lesson.blocks:
        if isinstance(block, Prose):
            yield block.line, block.text
        elif isinstance(block, Drawing) and block.caption is not None:
            yield block.line, block.caption
    for example in lesson.examples.values():
        if example.text is not None:
            line = lesson.body[: lesson.body.find(f"[examples.{example.name}]")].count("\n") + 1
            yield line, example.text


def _check_places(lesson: Lesson) -> None:
    """Fill every place once, so that a name without a value is found before anybody reads."""
    values = lesson_values(lesson)
    rows = lesson.body.splitlines()
    found = []
    for start, template in _templates(lesson):
        for place in template.places:
            try:
                Template((place,)).fill(values)
            except TemplateError as error:
                line = next((n for n, row in enumerate(rows[start - 1 :], start) if place.name in row), start)
                known = f"{error.accepted}; known are {', '.join(sorted(values))}"
                found.append(ContentError(lesson.file, line, "", repr(error.given), known))
    if found:
        raise ContentError.of(found)


def check_references(lesson: Lesson, families: Mapping[str, Family], skills: Mapping[str, Skill]) -> None:
    """
    Hold a lesson's try-its and skills against what there is.

    Raises:
        ContentError: When it names a family or a skill that there is not, or has no try-it at all.
    """
    found = [
        ContentError(lesson.file, block.line, "", repr(block.family_id), f"a family: {', '.join(families)}")
        for block in lesson.blocks
        if isinstance(block, TryIt) and block.family_id not in families
    ]
    line = next(n for n, row in enumerate(lesson.body.splitlines(), 1) if row.startswith("skills"))
    found += [
        ContentError(lesson.file, line, "skills", repr(skill), f"a skill: {', '.join(skills)}")
        for skill in lesson.skills
        if skill not in skills
    ]
    if found:
        raise ContentError.of(found)
