"""
Small files that every start reads, held against structs.

Whether such a file is sound can be told with what is in memory anyway. The validator of all other files takes a tenth of a
second to load; it is loaded where something is amiss, and says it in its own words, file, line and key.
"""

from __future__ import annotations

from collections.abc import Mapping
from sys import float_info
from typing import Annotated, Any, TypeVar

from msgspec import Meta, Struct, ValidationError, convert

from trainer.problems.lines import KeyPath, key_lines

__all__ = ["Finite", "shaped_struct"]

SomeStruct = TypeVar("SomeStruct", bound=Struct)

#: A number that is neither infinite nor none.
Finite = Annotated[float, Meta(ge=-float_info.max, le=float_info.max)]


def shaped_struct(
    file: str, text: str, data: Mapping[str, Any], shape: type[SomeStruct]
) -> tuple[SomeStruct, Mapping[KeyPath, int]]:
    r"""
    What a text, taken apart already, says in a struct, and the line of each key.

    Args:
        file: For errors.
        text: As read.
        data: Its tables.
        shape: The struct, of texts, numbers, lists, tables and structs; one that forbids unknown fields. Patterns end in
            `\Z`, as `$` lets a line end pass.

    Raises:
        ContentError: For the first finding, with the others in `also`.
    """
    try:
        return convert(data, shape), key_lines(text)
    except ValidationError:
        from trainer.problems.shaping import model_of, shaped  # noqa: PLC0415 - see above

        # A number in quotes is a number to the validator, and so it is taken.
        model, lines = shaped(file, text, data, model_of(shape))
        return convert(model.model_dump(), shape), lines
