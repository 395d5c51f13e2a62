"""Problems kept and shown again."""

from __future__ import annotations

import json

import pytest

from trainer.calc.message import Message, Quantity
from trainer.problems import draw as drawing_module
from trainer.problems.draw import draw
from trainer.problems.family import load_family
from trainer.problems.store import message_from_json, message_to_json, restore, store


def through_json(value):
    return json.loads(json.dumps(value))


def test_every_family_comes_back_from_json_to_the_last_bit(shelf):
    for family in shelf.values():
        for seed in range(40):
            problem = draw(family, seed)

            assert restore(family, seed, "2023", through_json(store(problem))) == problem


def test_nothing_is_drawn_or_computed_on_the_way_back(family, monkeypatch):
    problem = draw(family, 3)
    stored = through_json(store(problem))
    monkeypatch.setattr(type(family.calculation), "solve", lambda *_: pytest.fail("computed"))
    monkeypatch.setattr(drawing_module.random, "Random", lambda *_: pytest.fail("drawn"))

    assert restore(family, 3, "2023", stored) == problem


def test_an_old_problem_takes_the_words_of_its_family_and_keeps_its_numbers(sound, family):
    problem = draw(family, 3)
    reworded = load_family(sound.replace("How far apart?", "What is the spacing?"))
    again = restore(reworded, 3, "2023", through_json(store(problem)))

    assert again.text == problem.text.replace("How far apart?", "What is the spacing?")
    assert (again.keys, again.numbers) == (problem.keys, problem.numbers)


def test_a_family_without_the_stored_mistake_is_another_version(sound, family):
    other = load_family(sound.replace('id = "times-sine"', 'id = "times-cosine"'))

    with pytest.raises(KeyError, match="times-sine"):
        restore(other, 3, "2023", store(draw(family, 3)))


def test_a_family_without_the_stored_option_is_another_version(choices):
    family = load_family(choices)
    other = load_family(choices.replace('id = "kick"', 'id = "kink"'))

    with pytest.raises(KeyError, match="kick"):
        restore(other, 3, "2023", store(draw(family, 3)))


@pytest.mark.parametrize(
    "message",
    [
        Message("a.b"),
        Message("a.b", {"n": 3, "x": 2.5, "word": "left", "q": Quantity(0.5, "in")}),
        Message(
            "a.b",
            {"inner": Message("c.d", {"deep": Message("e.f")}), "list": ["a", Quantity(1.0, "ft"), Message("g.h")]},
        ),
    ],
)
def test_a_message_comes_back_with_everything_inside_it(message):
    assert message_from_json(through_json(message_to_json(message))) == message


def test_a_parameter_that_json_does_not_know_is_an_error():
    with pytest.raises(TypeError, match="parameter"):
        message_to_json(Message("a.b", {"what": object()}))
