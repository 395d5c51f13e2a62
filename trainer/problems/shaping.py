"""What a file says, held against the shape of its kind; every finding names line and key."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any, TypeVar

from msgspec import NODEFAULT, Struct, inspect
from pydantic import BaseModel, ConfigDict, Field, ValidationError, create_model
from pydantic_core import ErrorDetails

from trainer.problems.errors import ContentError
from trainer.problems.lines import KeyPath, key_lines, line_of

__all__ = ["misshaped", "model_of", "shaped"]

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


def model_of(shape: type[Struct]) -> type[BaseModel]:
    """
    The model that takes what a struct takes, see `struct_shaping`.

    Raises:
        TypeError: When the struct has a field of a type that no file has needed yet.
    """
    kind = inspect.type_info(shape)
    if not isinstance(kind, inspect.StructType):
        raise TypeError(f"{shape!r} is no struct")
    return _model(kind)


def _model(kind: inspect.StructType) -> type[BaseModel]:
    fields: dict[str, Any] = {field.encode_name: (_taken(field.type), _default(field)) for field in kind.fields}
    return create_model(kind.cls.__name__, __config__=ConfigDict(extra="forbid", allow_inf_nan=False), **fields)


def _default(field: inspect.Field) -> Any:
    if field.required:
        return ...
    return Field(default_factory=field.default_factory) if field.default is NODEFAULT else field.default


def _taken(kind: inspect.Type) -> Any:
    """What a field takes; the bounds of a number stand for its being finite, which the model's own settings say."""
    # What a list or table holds is worked out as it runs, which the types of a list and a dict are not made for.
    match kind:
        case inspect.StructType():
            return _model(kind)
        case inspect.ListType():
            return list[_taken(kind.item_type)]  # type: ignore[misc]
        case inspect.DictType():
            return dict[_taken(kind.key_type), _taken(kind.value_type)]  # type: ignore[misc]
        case inspect.StrType():
            pattern = kind.pattern and kind.pattern.replace(r"\Z", "$")
            return Annotated[str, Field(min_length=kind.min_length, max_length=kind.max_length, pattern=pattern)]
        case inspect.FloatType():
            return float
    raise TypeError(f"no file has needed a {type(kind).__name__} yet")
