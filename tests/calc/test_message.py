from __future__ import annotations

from trainer.calc.message import InputError, Message


def test_an_error_can_be_given_the_name_of_its_input():
    error = InputError(Message("number.empty"), given="", accepted=Message("length.accepted"), example="40-1/2 in")

    named = error.for_field("depth")

    assert (error.field, named.field) == (None, "depth")
    assert (named.reason, named.given, named.accepted, named.example) == (error.reason, "", error.accepted, "40-1/2 in")
    assert "depth: number.empty" in str(named)
