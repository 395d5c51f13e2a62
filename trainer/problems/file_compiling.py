"""
Question files of both kinds, taken apart already, held against their shapes and compiled: one with a single family, and one
with the parts of a job.

With this come the shapes and all that compiles, a sixth of what a start would take; `job_file` loads it with the first file.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from pydantic import ValidationError

from trainer.problems.compiling import compile_family
from trainer.problems.errors import ContentError
from trainer.problems.job import Job, Place
from trainer.problems.job_shape import JobShape, PlacedShape, part_lines, part_tables
from trainer.problems.lines import KeyPath, key_lines
from trainer.problems.model import CHOOSING
from trainer.problems.parts import Family
from trainer.problems.shape import FamilyShape
from trainer.problems.shaping import misshaped, shaped

__all__ = ["families_of", "family_of"]


def families_of(data: Mapping[str, Any], file: str, text: str) -> tuple[Family, ...]:
    """
    The one family that a text describes, or the parts of its job in their order.

    Raises:
        ContentError: With every further error of the file in `also`.
    """
    return _job_parts(file, text, data) if "parts" in data else (family_of(data, file, text),)


def family_of(data: Mapping[str, Any], file: str, text: str) -> Family:
    """
    The family that a text, taken apart already, describes.

    Raises:
        ContentError: With every further error of the file in `also`.
    """
    shape, lines = shaped(file, text, data, FamilyShape)
    return compile_family(file, text, shape, lines)


def _job_parts(file: str, text: str, data: Mapping[str, Any]) -> tuple[Family, ...]:
    lines = key_lines(text)
    try:
        shape = JobShape.model_validate(data)
        shapes = [PlacedShape.model_validate(table) for table in part_tables(data)]
    except ValidationError as error:
        raise ContentError.of(misshaped(file, lines, detail) for detail in error.errors()) from None
    parts: list[Family] = []
    errors: list[ContentError] = []
    for at, placed in enumerate(shapes):
        try:
            parts.append(compile_family(file, text, placed, part_lines(lines, at), carried=tuple(placed.carry)))
        except ContentError as error:
            errors += error.every
    errors += _unfit(file, lines, shape, shapes)
    if errors:
        raise ContentError.of({str(error): error for error in errors}.values())
    job = Job(
        id=shape.id,
        title=shape.title,
        parameters=parts[0].parameters,
        titles=tuple(part.title for part in shape.parts),
        parts=tuple(parts),
        carries=tuple(_places(shape, at) for at in range(len(parts))),
    )
    return Place(job, 0).parts


def _places(shape: JobShape, at: int) -> Mapping[str, int]:
    """What a part takes over, by the place of the part that it comes from."""
    ids = [part.id for part in shape.parts]
    return {name: ids.index(before) for name, before in shape.parts[at].carry.items()}


def _unfit(file: str, lines: Mapping[KeyPath, int], shape: JobShape, shapes: list[PlacedShape]) -> list[ContentError]:
    """Ids that stand twice, and numbers that are carried from where there is none."""
    errors = []
    for at, part in enumerate(shape.parts):
        line = lines.get(("parts", at), 1)
        before = {
            one.id for one, placed in zip(shape.parts[:at], shapes, strict=False) if placed.ask.kind not in CHOOSING
        }
        if part.id in {one.id for one in shape.parts[:at]}:
            errors.append(ContentError(file, line, f"parts.{at}.id", part.id, "an id that stands only once"))
        for name, wanted in part.carry.items():
            if wanted not in before:
                accepted = f"an earlier part that is answered with a number: {', '.join(sorted(before)) or 'none'}"
                errors.append(ContentError(file, line, f"parts.{at}.carry.{name}", wanted, accepted))
    return errors
