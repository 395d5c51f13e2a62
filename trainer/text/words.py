"""Messages of the pure layers put into words: one plain line each, in the language asked for."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from trainer.calc.message import InputError, Message, Quantity
from trainer.calc.step import write_number
from trainer.text.formats import PLACES, quantity
from trainer.text.sentences import PLACEHOLDER
from trainer.text.translations import sentence

__all__ = ["error_parts", "error_text", "say"]


def say(message: Message, language: str = "en") -> str:
    """
    The sentence of a message with its parameters filled in; plain text, to be escaped where HTML is made.

    Raises:
        SentenceError: When there is no sentence of that id.
        KeyError: When the sentence wants a parameter that the message lacks.
    """
    return _filled(sentence(message.id, language), message.params, language)


def error_text(error: InputError, language: str = "en") -> str:
    """
    One line on something typed that could not be used: which input, why, what is accepted, an example.

    What was given is cut where it is long, so that the line stays one line.
    """
    parts = {
        **error_parts(error, language),
        "given": _given(error.given, language),
        "field": error.field or "",
    }
    return _filled(sentence("error.field" if error.field else "error.plain", language), parts, language)


def error_parts(error: InputError, language: str = "en") -> dict[str, str]:
    """
    The same in parts, for a form that shows what was given in its field.

    Returns:
        "reason", a whole sentence; "accepted", without a full stop; "example", as it would be typed.
    """
    reason = say(error.reason, language)
    if not reason.endswith((".", "?", "!")):
        reason += "."
    accepted = say(error.accepted, language).removesuffix(".")
    return {"reason": reason[0].upper() + reason[1:], "accepted": accepted, "example": error.example}


def _filled(template: str, params: Mapping[str, object], language: str) -> str:
    return PLACEHOLDER.sub(lambda match: _written(params[match[1]], language), template)


def _written(value: object, language: str) -> str:
    match value:
        case str():
            return value
        case Message():
            return say(value, language)
        case Quantity():
            return quantity(value, language)
        case int() | float() | Fraction():
            return write_number(float(value), PLACES)
        case list() | tuple():
            return ", ".join(_written(item, language) for item in value)
    raise TypeError(f"a message's parameter is text, a number, a quantity, a message or a list of them, not {value!r}")


def _given(typed: str, language: str, longest: int = 60) -> str:
    """What was typed on one line: white space squeezed, the end left out where it is long."""
    line = " ".join(typed.split())
    if not line:
        return sentence("error.given-nothing", language)
    short = line if len(line) <= longest else f"{line[: longest - 1]}…"
    return _filled(sentence("error.given", language), {"typed": short}, language)
