"""What every form here does."""

from __future__ import annotations

import pytest
from wtforms import StringField

from trainer.calc.message import InputError, Message
from trainer.web.forms import Filled, SiteForm
from trainer.web.language import Later


class SampleForm(SiteForm):
    name = StringField(validators=[Filled(Later("Type a name."))])


@pytest.fixture
def sent(app):
    def make(**data):
        with app.test_request_context("/", method="POST", data=data):
            form = SampleForm(meta={"csrf": False})
            return form.validate_on_submit(), form

    return make


@pytest.mark.parametrize("data", [{}, {"name": ""}, {"name": " \t "}])
def test_a_field_that_has_to_be_filled_says_what_to_do(sent, data):
    good, form = sent(**data)

    assert not good
    assert form.sentences == [("name", "Type a name.")]


def test_a_filled_field_is_fine(sent):
    good, form = sent(name=" x ")

    assert good
    assert form.sentences == []


def test_what_the_domain_cannot_use_stands_on_the_field_it_names(sent):
    _, form = sent(name="k")
    error = InputError(
        Message("accounts.sign-in-name-length"),
        given="k",
        accepted=Message("accounts.password-accepted", {"shortest": 3, "longest": 40}),
        example="kim.lee",
        field="name",
    )

    form.refuse_input(error)

    sentence = (
        "Type 3 to 40 characters of any kind, spaces too. This sign-in name is too short or too long."
        " For example: kim.lee"
    )
    assert form.sentences == [("name", sentence)]


@pytest.mark.parametrize("field", [None, "elsewhere"])
def test_an_error_that_names_no_field_of_the_form_is_not_swallowed(sent, field):
    _, form = sent(name="k")
    error = InputError(Message("x"), given="k", accepted=Message("y"), example="z", field=field)

    with pytest.raises(InputError):
        form.refuse_input(error)
