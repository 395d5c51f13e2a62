"""
Forms: what every form here does, and small fields around the domain's own readers.

Labels and hints stand in the template, beside the field they belong to. A form sent with something missing or wrong is
shown again with status 422, everything typed kept but passwords.
"""

from __future__ import annotations

from collections.abc import Sequence

from flask_wtf import FlaskForm
from werkzeug.wrappers import Response
from wtforms import Field, Form, PasswordField
from wtforms.validators import StopValidation, ValidationError

from trainer.accounts.refused import Refused
from trainer.calc.message import InputError
from trainer.text.words import error_parts, say
from trainer.web.errors import too_many_tries
from trainer.web.language import Later, gettext, language

__all__ = ["SHOWN_AGAIN", "Filled", "SameAs", "SiteForm", "new_password", "once_more", "refusal", "refused_on"]

SHOWN_AGAIN = 422
"""Status of a form that is shown again because something in it cannot be used."""


class Filled:
    """
    Wants something typed; nothing else is checked when there isn't.

    Args:
        message: What to do.
    """

    field_flags = {"required": True}  # noqa: RUF012 - WTForms reads it so.

    def __init__(self, message: Later) -> None:
        self.message = message

    def __call__(self, form: Form, field: Field) -> None:
        """Refuse an empty field, and one with nothing but space in it."""
        del form
        if not isinstance(field.data, str) or not field.data.strip():
            raise StopValidation(str(self.message))


class SiteForm(FlaskForm):  # type: ignore[misc]  # Flask-WTF carries no types.
    """A form of this site."""

    def refuse(self, field: str, sentence: str) -> None:
        """Put a sentence on a field, for what only the use case could tell."""
        found = self[field]
        found.errors = [*found.errors, sentence]

    def refuse_input(self, error: InputError) -> None:
        """
        Put what a reader of the domain could not use on the field that it names.

        Raises:
            InputError: The same, when it names no field of this form.
        """
        if error.field is None or error.field not in self:
            raise error
        self.refuse(error.field, refusal(error))

    @property
    def sentences(self) -> Sequence[tuple[str, str]]:
        """What is to be looked at again, as the error summary takes it: (id of the field, sentence) each."""
        return [(field.id, str(field.errors[0])) for field in self if field.errors]


class SameAs:
    """
    Wants the same as another field: nobody sees a password that is typed, so a new one is typed twice.

    Args:
        other: Name of the other field.
        message: What to do.
    """

    def __init__(self, other: str, message: Later) -> None:
        self.other = other
        self.message = message

    def __call__(self, form: Form, field: Field) -> None:
        """Refuse a text that differs."""
        if field.data != form[self.other].data:
            raise ValidationError(str(self.message))


def new_password() -> PasswordField:
    """A field for a new password."""
    return PasswordField(validators=[Filled(Later("Type a new password."))])


def once_more() -> PasswordField:
    """The field below it, for the same once more."""
    missing = Filled(Later("Type the new password once more."))
    differs = SameAs("new_password", Later("Type the new password once more, exactly as above: the two differ."))
    return PasswordField(validators=[missing, differs])


def refusal(error: InputError) -> str:
    """What to say beside a field: what to type, why, an example. What was given stands in the field itself."""
    return gettext("Type %(accepted)s. %(reason)s For example: %(example)s") % error_parts(error, language())


def refused_on(form: SiteForm, field: str, outcome: object) -> Response | None:
    """
    Say on a form why something did not work.

    Args:
        form: The form that was sent.
        field: The field that it is about.
        outcome: What came of it; anything but a refusal is let pass.

    Returns:
        The page of too many tries, when there is nothing to do but wait.
    """
    if not isinstance(outcome, Refused):
        return None
    if outcome.wait:
        return too_many_tries(outcome.reason, outcome.wait)
    form.refuse(field, say(outcome.reason, language()))
    return None
