"""Every message that the core can raise or say has its sentence, and every placeholder its parameter."""

from __future__ import annotations

import ast
import re
from importlib.resources import files

import pytest

from trainer.calc.catalogue import CATALOGUE
from trainer.calc.cautions import AREAS, cautions_for
from trainer.calc.expression import ExpressionError, compile_expression
from trainer.calc.fitting_choice import FITTING_IDS
from trainer.calc.message import InputError, Message
from trainer.text.sentences import english
from trainer.text.words import error_text, say

#: Modules whose messages are written out in full: every text that looks like an id is one.
AN_ID = re.compile(r"(number|length|input|solve|offset|stub_up|strap_count|bend_total|cut_plan|fitting)\.[a-z.-]+")


def ids_in_the_source():
    found = set()
    for file in files("trainer.calc").iterdir():
        if file.name.endswith(".py"):
            tree = ast.parse(file.read_text("utf-8"))
            texts = (node.value for node in ast.walk(tree) if isinstance(node, ast.Constant))
            found |= {text for text in texts if isinstance(text, str) and AN_ID.fullmatch(text)}
    return {text for text in found if not text.endswith((".", "-"))}  # Such an end is the start of an f-string.


def test_every_id_written_in_the_core_has_its_sentence():
    assert len(ids_in_the_source()) > 60
    assert ids_in_the_source() <= set(english())


@pytest.mark.parametrize("entry", CATALOGUE.values(), ids=list(CATALOGUE))
def test_each_example_can_be_put_into_words(entry):
    result, steps = entry.trace(entry.example_inputs)
    said = [step.note for step in steps if step.note]
    said += [
        part.message()
        for value, _ in entry.results(result).values()
        for part in (value if isinstance(value, tuple) else ())
        if hasattr(part, "message")
    ]
    said += [Message(f"calculation.{entry.name}"), *entry.cautions, *(given.accepted() for given in entry.inputs)]

    for message in said:
        assert say(message)


@pytest.mark.parametrize("entry", CATALOGUE.values(), ids=list(CATALOGUE))
@pytest.mark.parametrize(
    "text", ["", "none of it", "-1", "1e9", "4 1/0", "99999999", "0", "90 in", "1,1", "3 x", "½ mm"]
)
def test_whatever_is_typed_the_error_is_one_line(entry, text):
    for given in entry.inputs:
        try:
            given.read(text)
        except InputError as error:
            line = error_text(error)
            assert "\n" not in line
            assert line.startswith(f"{given.name}: ")
            assert given.example in line


def test_every_caution_has_its_sentence():
    for area in AREAS:
        for caution in cautions_for(area):
            assert say(caution).endswith(".")


def test_every_connector_has_a_name_and_a_reason():
    for fitting in FITTING_IDS:
        assert say(Message(f"fitting.{fitting}"))
        assert say(Message(f"fitting.why.{fitting}"))


@pytest.mark.parametrize(
    "text", ["", "2 ** 4", "a.b", "'x'", "sin", "open(a)", "min(*a)", "a and a", "b", "1 < a < 2", "0x1"]
)
def test_every_refused_formula_is_told_in_words(text):
    with pytest.raises(ExpressionError) as caught:
        compile_expression(text, ["a"])

    assert "{" not in error_text(caught.value)
