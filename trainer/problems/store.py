"""
A problem as plain values for keeping, and back: what was settled is kept, words are put to it again from the family.

Nothing is drawn or computed on the way back, so a problem once issued is shown and graded in the same way for ever, even
where the calculation has been mended since. The words come from the family of the same content version.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from trainer.calc.message import Message, Quantity
from trainer.problems.drawn import Drawn, DrawnOption, dress
from trainer.problems.model import Key, Problem, Value
from trainer.problems.parts import Family

__all__ = ["message_from_json", "message_to_json", "restore", "store"]


def store(problem: Problem) -> dict[str, Any]:
    """What a problem settled, as JSON takes it; floats come back to the last bit."""
    return {
        "numbers": dict(problem.numbers),
        "outputs": dict(problem.outputs),
        "keys": [{"value": _plain(key.value), "basis": key.basis} for key in problem.keys],
        "mistakes": [{"id": mistake.id, "value": _plain(mistake.value)} for mistake in problem.mistakes],
        "options": [
            {"id": option.id, "from_core": [message_to_json(message) for message in option.from_core or ()]}
            for option in problem.options
        ],
    }


def restore(family: Family, seed: int, edition: str, stored: Mapping[str, Any], *, language: str = "en") -> Problem:
    """
    The problem that was stored, with the family's words.

    Args:
        family: Of the content version with which it was drawn.
        seed: With which it was drawn.
        edition: For which it was drawn.
        stored: What `store` gave.
        language: In which the core's own words are said.

    Raises:
        KeyError: When the family has not the mistakes or options that were stored: another version.
    """
    drawn = Drawn(
        numbers=stored["numbers"],
        outputs=stored["outputs"],
        keys=tuple(Key(_value(key["value"]), key["basis"]) for key in stored["keys"]),
        mistakes=tuple((mistake["id"], _value(mistake["value"])) for mistake in stored["mistakes"]),
        options=tuple(_option(option) for option in stored["options"]),
    )
    return dress(family, seed, edition, drawn, language)


def message_to_json(message: Message) -> dict[str, Any]:
    """A message as JSON takes it, with the messages and quantities inside it."""
    return {"id": message.id, "params": {name: _param(value) for name, value in message.params.items()}}


def message_from_json(stored: Mapping[str, Any]) -> Message:
    """
    The message again.

    >>> message_from_json(message_to_json(Message("a.b", {"step": Quantity(0.5, "in")})))
    Message(id='a.b', params={'step': Quantity(value=0.5, unit='in')})
    """
    return Message(stored["id"], {name: _param_back(value) for name, value in stored["params"].items()})


def _param(value: object) -> object:
    match value:
        case Message():
            return message_to_json(value)
        case Quantity():
            return {"value": float(value.value), "unit": value.unit}
        case list() | tuple():
            return [_param(item) for item in value]
        case str() | int() | float():
            return value
    raise TypeError(f"a message's parameter is text, a number, a quantity, a message or a list of them, not {value!r}")


def _param_back(value: object) -> object:
    match value:
        case {"id": str(sentence), "params": dict(params)}:
            return message_from_json({"id": sentence, "params": params})
        case {"value": float(number), "unit": str(unit)}:
            return Quantity(number, unit)
        case list():
            return [_param_back(item) for item in value]
    return value


def _plain(value: Value) -> object:
    return list(value) if isinstance(value, tuple) else value


def _value(stored: Any) -> Value:
    return tuple(stored) if isinstance(stored, list) else stored


def _option(stored: Mapping[str, Any]) -> DrawnOption:
    messages = [message_from_json(message) for message in stored["from_core"]]
    return DrawnOption(stored["id"], (messages[0], messages[1]) if messages else None)
