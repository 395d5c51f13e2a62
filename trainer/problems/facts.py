"""Numbers of the core's tables by their path, and how each was checked: what question files and lessons may name."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from trainer.calc.tables import table

__all__ = ["fact", "how_checked"]


def fact(path: str) -> float | None:
    """
    The number at `file.group.key` of the tables, members of a list by their place; None when there is none.

    >>> fact("cutting.stick.length"), fact("bends.hand_bender_shoe.rows.0.take_up"), fact("cutting.stick.colour")
    (120.0, 5.0, None)
    """
    try:
        *_, value = _along(path)
    except (FileNotFoundError, KeyError, TypeError, ValueError, IndexError):
        return None
    return float(value) if isinstance(value, int | float) else None


def how_checked(path: str) -> str:
    """
    How a number was checked: the nearest `checked` around it goes before one further out, its own before both.

    >>> how_checked("bends.room_on_the_tube.hook_needs")
    'from memory'
    """
    last = path.rsplit(".", 1)[-1]
    words = [value.get(f"{last}_checked") or value.get("checked") for value in _along(path) if isinstance(value, dict)]
    return next((str(word) for word in reversed(words) if word), "")


def _along(path: str) -> Iterator[Any]:
    """The whole table, the group, ... and at last what stands at the path."""
    name, *keys = path.split(".")
    value: Any = table(name)
    yield value
    for key in keys:
        value = value[int(key) if isinstance(value, list) else key]
        yield value
