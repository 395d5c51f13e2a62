"""What people type, or paste, as every page reads it: without signs that nobody sees, which no page may show again."""

from __future__ import annotations

from typing import Any

from flask import Flask, Request
from werkzeug.datastructures import ImmutableMultiDict

from trainer.text.signs import without_hidden

__all__ = ["Typed", "TypedRequest", "read_what_is_typed"]

#: Fields that are never shown again, and that have to come to the same as they did when they were set.
AS_TYPED = ("password", "once_more")


class Typed(ImmutableMultiDict[str, Any]):
    r"""
    The fields of a form, or what stands behind the question mark.

    >>> Typed([("note", "two\u202e\x07 bends\r\nlean"), ("old_password", "a\x07b")])
    Typed([('note', 'two bends\nlean'), ('old_password', 'a\x07b')])
    """

    def __init__(self, mapping: Any = None) -> None:
        read = ImmutableMultiDict(mapping)
        super().__init__([(_clean(name), _value(name, value)) for name, value in read.items(multi=True)])


class TypedRequest(Request):
    """A request whose texts are read so."""

    parameter_storage_class = Typed


def read_what_is_typed(app: Flask) -> None:
    """Read all requests so, and the names of things in their addresses too."""
    app.request_class = TypedRequest
    app.url_value_preprocessor(_clean_names)


def _clean_names(_endpoint: str | None, names: dict[str, Any] | None) -> None:
    if names:
        names.update({name: _clean(value) for name, value in names.items()})


def _value(name: str, value: Any) -> Any:
    return _clean(value) if not any(part in name for part in AS_TYPED) else value


def _clean(value: Any) -> Any:
    # A file comes the same way.
    return without_hidden(value) if isinstance(value, str) else value
