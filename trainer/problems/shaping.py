"""What a file says, held against the shape of its kind; every finding names line and key."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from trainer.problems.errors import ContentError
from trainer.problems.lines import KeyPath, key_lines, line_of

__all__ = ["misshaped", "shaped"]

SomeShape = TypeVar("SomeShape", bound=BaseModel)


def shaped(
    file: str, text: str, data: Mapping[str, Any], shape: type[SomeShape]
) -> tuple[SomeShape, Mapping[KeyPath, int]]:
    """
    What a text, taken apart already, says in a shape, and the line of each key.

    Raises:
        ContentError: For the first finding, with the others in `also`.
    """
    lines = key_lines(text)
    try:
        return shape.model_validate(data), lines
    except ValidationError as error:
        raise ContentError.of(misshaped(file, lines, detail) for detail in error.errors()) from None


def misshaped(file: str, lines: Mapping[KeyPath, int], detail: ErrorDetails) -> ContentError:
    """One finding of the validator in our own form."""
    path = _own_keys(detail["loc"])
    given = "nothing" if detail["type"] == "missing" else repr(detail["input"])[:80]
    accepted = "no such key" if detail["type"] == "extra_forbidden" else detail["msg"].lower()
    return ContentError(file, line_of(lines, path), ".".join(map(str, path)), given, accepted)


def _own_keys(path: KeyPath) -> KeyPath:
    """The path without what the validator adds: the tag of a drawn entry's shape, the type tried at the end."""
    if path[0] == "draw" and len(path) > 2:
        path = path[:2] + path[3:]
    typed = isinstance(path[-1], str) and (path[-1] == "float" or path[-1].startswith("constrained-"))
    return path[:-1] if typed else path
