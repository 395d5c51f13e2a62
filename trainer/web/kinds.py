"""The three kinds of assigned work in words: what each is called, and its rule in one sentence."""

from __future__ import annotations

from trainer.calc.message import Message
from trainer.web.language import Later

__all__ = ["KIND_WORDS", "rule_of"]

KIND_WORDS = {"room": Later("In the room"), "home": Later("At home"), "paper": Later("On paper")}


def rule_of(kind: str) -> Message:
    """
    The rule of a kind, as leaders and learners both read it.

    >>> rule_of("room").id
    'work.rule.room'
    """
    return Message(f"work.rule.{kind}")
