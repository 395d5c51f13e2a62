"""Every component in every state, on one page, for those who work on the look. In development only."""

from __future__ import annotations

from flask import Blueprint, render_template
from wtforms import FileField, PasswordField, SelectChoice, SelectField, StringField, TextAreaField

from trainer.calc.catalogue import CATALOGUE
from trainer.calc.message import Message
from trainer.figures.catalogue import draw_figure
from trainer.progress.page import OptionView
from trainer.progress.photos import Photo
from trainer.text.words import say
from trainer.web.forms import SiteForm
from trainer.web.language import language
from trainer.web.photos import PHOTO_LIMITS
from trainer.web.transactions import now
from trainer.web.visitors import Visitor, visitors

__all__ = ["blueprint"]

blueprint = Blueprint("look", __name__)


class SampleForm(SiteForm):
    """One field of each kind."""

    plain = StringField()
    filled = StringField(default="kim.lee")
    wrong = StringField(default="k")
    code = StringField(default="7QKX4WND")
    secret = PasswordField()
    text = TextAreaField(default="Box at 52-3/8 in, from the inside of the wall.")
    file = FileField()
    photo = FileField()
    shows = StringField(default="The rise, with the tape on it.")
    choice = SelectField(
        choices=[
            SelectChoice("home", "At home"),
            SelectChoice("room", "In the room"),
            SelectChoice("paper", "On paper"),
        ]
    )


def bender_choices() -> list[OptionView]:
    """The bender to be put on the tube, as a page has it."""
    words = [
        (
            "mark",
            "mark-near",
            "Mark A, 29-5/8 in from the end where measuring starts",
            "For one way of setting the bender.",
        ),
        ("mark", "mark-far", "Mark B, 41-5/8 in from the end where measuring starts", "For the other way."),
        ("reference", "take-up-mark", "The take-up mark", "The bend runs from it away from the hook."),
        ("reference", "saddle-centre-mark", "The saddle-centre mark", "The middle of the bend comes out on it."),
        ("hook", "measured-end", "Toward the end where measuring starts", "The bend lies on the other side."),
        ("hook", "far-end", "Toward the far end", "The bend lies on the other side."),
    ]
    return [
        OptionView(choice, letter, said, False, None, why, group=group, legend=Message(f"bender.group.{group}"))
        for letter, (group, choice, said, why) in zip("abcdef", words, strict=True)
    ]


@blueprint.get("/look")
@visitors(Visitor.ANYONE)
def components() -> str:
    """All components."""
    form = SampleForm(formdata=None, meta={"csrf": False})
    form.wrong.errors = ["Type 3 to 40 letters from a to z. This sign-in name is too short. For example: kim.lee"]
    offset = CATALOGUE["offset"]
    values = offset.read(offset.example_inputs)
    result, worked = offset.trace(values)
    figure = draw_figure("offset", values, result, say=lambda message: say(message, language()))
    return render_template(
        "look/components.html",
        form=form,
        worked=worked,
        figure=figure,
        bender_choices=bender_choices(),
        moment_now=now(),
        limits=PHOTO_LIMITS,
        pictured=Photo("a", "A hand bender, drawn.", "Kim Lee", 192, 192),
    )
