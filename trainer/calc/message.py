"""What the pure layers say to people: an identifier with parameters; the words are put in by `trainer.text`."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct, field

__all__ = ["InputError", "Message", "Quantity"]


class Quantity(Struct, frozen=True):
    """
    A value with its unit, written for people by `trainer.text.formats`.

    Args:
        value: The number, not rounded.
        unit: A unit of `trainer.calc.units`: "in", "deg", "count", "sq in", "cu in", "%", "lbf", ...
    """

    value: float
    unit: str


class Message(Struct, frozen=True):
    """
    Something to say, in no language yet.

    Args:
        id: Name of the sentence, such as "length.zero-denominator"; `trainer.text` holds one for each.
        params: What the sentence's placeholders are filled with: text, numbers, Quantity or Message.
    """

    id: str
    params: Mapping[str, object] = field(default_factory=dict)


class InputError(ValueError):
    """
    Something typed could not be used.

    Raised by every reader of the core. It carries its parts, so that a form, the shell and a test can each
    show them in their own way; `trainer.text.words.error_text` makes the sentence.

    Attributes:
        reason: What is wrong with it.
        given: The text as it was given.
        accepted: What would be taken instead.
        example: One text that would be taken.
        field: Name of the input, when one is known.
    """

    def __init__(
        self, reason: Message, *, given: str, accepted: Message, example: str, field: str | None = None
    ) -> None:
        super().__init__(f"{field or 'input'}: {reason.id} {dict(reason.params)} given {given!r}, e.g. {example!r}")
        self.reason = reason
        self.given = given
        self.accepted = accepted
        self.example = example
        self.field = field

    def for_field(self, field: str) -> InputError:
        """The same error with the name of the input that it belongs to."""
        return InputError(self.reason, given=self.given, accepted=self.accepted, example=self.example, field=field)
