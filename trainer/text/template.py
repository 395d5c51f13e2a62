"""
Question prose with values filled in: `{{ name | format }}`, names and named formats only, no statements.

A format may be left out for words, which then stand as they are.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from types import MappingProxyType

from msgspec import Struct

from trainer.calc.look_over import THINGS, said, why
from trainer.text.formats import FORMATS
from trainer.text.words import say

__all__ = ["Template", "TemplateError", "compile_template"]

BRACES = re.compile(r"\{\{(.*?)\}\}", re.DOTALL)
PLACE = re.compile(r"\s*([a-z][a-z0-9_]*)\s*(?:\|\s*([a-z_]+)\s*)?")


def _look(value: object) -> str:
    """What a thing that is looked over is."""
    return say(said(_thing(value)))


def _look_why(value: object) -> str:
    """Whether it is as it should be."""
    return say(why(_thing(value)))


def _thing(value: object) -> str:
    if not isinstance(value, str) or value not in THINGS:
        raise TypeError(f"a name of something that is looked over, not {value!r}")
    return value


#: Formats whose words the core names: they need the sentences, which need the other formats.
_ALL: Mapping[str, Callable[[object], str]] = MappingProxyType({**FORMATS, "look": _look, "look_why": _look_why})


class TemplateError(ValueError):
    """
    Prose cannot be filled in.

    Attributes:
        given: The part of the prose that is at fault.
        accepted: What may stand there instead, in English: question files have one language so far.
    """

    def __init__(self, given: str, accepted: str) -> None:
        super().__init__(f"given {given!r}; accepted: {accepted}")
        self.given = given
        self.accepted = accepted


class Place(Struct, frozen=True):
    """One `{{ name | format }}`."""

    name: str
    format: str


class Template(Struct, frozen=True):
    """Prose cut at its places: text, place, text, ... text."""

    parts: tuple[str | Place, ...]

    @property
    def places(self) -> tuple[Place, ...]:
        """The places in the order in which they stand."""
        return tuple(part for part in self.parts if isinstance(part, Place))

    def fill(self, values: Mapping[str, object], phrases: Mapping[str, Mapping[str, str]] | None = None) -> str:
        """
        The prose with every place filled.

        Args:
            values: What stands behind each name: numbers in the core's units, or words.
            phrases: Per name, the phrase for each of its words; used by the format `phrase`.

        Raises:
            TemplateError: When a name has no value, or its value does not fit the format.
        """
        return "".join(part if isinstance(part, str) else _written(part, values, phrases or {}) for part in self.parts)

    def outline(self, values: Mapping[str, object]) -> str:
        """
        The prose with "…" at each place that has no value here.

        >>> compile_template("{{ a | length }} above {{ b | length }}").outline({"b": 6.5})
        '… above 6-1/2 in'
        """
        known = (isinstance(part, str) or part.name in values for part in self.parts)
        return "".join(
            Template((part,)).fill(values) if has_value else "…"
            for part, has_value in zip(self.parts, known, strict=True)
        )


def compile_template(text: str) -> Template:
    """
    Read prose once, so that it can be filled many times.

    >>> compile_template("Rise {{ depth | length }} at {{ angle | angle }}.").fill({"depth": 6.5, "angle": 22.5})
    'Rise 6-1/2 in at 22.5°.'

    Raises:
        TemplateError: When braces hold something else than a name and a named format.
    """
    pieces = BRACES.split(text)
    for outside in pieces[::2]:
        if "{{" in outside or "}}" in outside:
            raise TemplateError(outside.strip()[:60], "{{ and }} in pairs around a name")
    return Template(tuple(piece if index % 2 == 0 else _place(piece) for index, piece in enumerate(pieces)))


def _place(inside: str) -> Place:
    match = PLACE.fullmatch(inside)
    if match is None:
        raise TemplateError(f"{{{{{inside}}}}}", "{{ name | format }} with a name in small letters")
    name, chosen = match[1], match[2] or "text"
    if chosen not in _ALL and chosen != "phrase":
        raise TemplateError(f"{{{{{inside}}}}}", f"one of the formats {', '.join([*_ALL, 'phrase'])}")
    return Place(name, chosen)


def _written(place: Place, values: Mapping[str, object], phrases: Mapping[str, Mapping[str, str]]) -> str:
    try:
        value = values[place.name]
        return phrases[place.name][str(value)] if place.format == "phrase" else _ALL[place.format](value)
    except KeyError as error:
        raise TemplateError(f"{{{{ {place.name} | {place.format} }}}}", f"a name with a value, not {error}") from None
    except TypeError as error:
        raise TemplateError(f"{{{{ {place.name} | {place.format} }}}}", str(error)) from None
