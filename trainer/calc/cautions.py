"""Safety lines by subject; the words are in `trainer/text/english/cautions.toml`."""

from __future__ import annotations

from trainer.calc.message import Message

__all__ = ["AREAS", "cautions_for"]

#: How many lines each subject has beside those that hold everywhere.
AREAS = {
    "bending": 4,
    "boxes": 3,
    "conductors": 3,
    "cutting": 4,
    "fill": 2,
    "grounding": 2,
    "power_bending": 4,
    "pull_boxes": 2,
    "pulling": 4,
    "support": 4,
    "temperature": 1,
    "wet": 3,
}

_EVERYWHERE = 5


def cautions_for(area: str) -> tuple[Message, ...]:
    """
    The cautions of one subject, those that hold everywhere last.

    Args:
        area: One of `AREAS`; "" for the general ones only.

    Raises:
        KeyError: When there is no such subject.

    >>> [caution.id for caution in cautions_for("temperature")][:2]
    ['caution.temperature.1', 'caution.everywhere.1']
    """
    own = [Message(f"caution.{area}.{line}") for line in range(1, AREAS[area] + 1)] if area else []
    return (*own, *(Message(f"caution.everywhere.{line}") for line in range(1, _EVERYWHERE + 1)))
