"""What is on record, in words: where somebody stands on a skill, and what was typed."""

from __future__ import annotations

from trainer.calc.message import Message
from trainer.problems.model import CHOOSING
from trainer.progress.record import SkillLine
from trainer.web.content import library

__all__ = ["as_read", "below_title"]


def below_title(line: SkillLine) -> Message:
    """The sentence on a skill, for places where the skill's title stands above."""
    kind = line.words.id.rpartition(".")[2]
    return Message(f"record.skill.{kind}", line.words.params)


def as_read(family_id: str, typed: str) -> str:
    """The text as typed; of a choice the options in words, which question files name by what they are."""
    family = library().families.get(family_id)
    return typed.replace("-", " ") if family and family.kind in CHOOSING else typed
