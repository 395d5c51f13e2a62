"""What is on record, in words: where somebody stands on a skill, and what was typed."""

from __future__ import annotations

from trainer.calc.bender_settings import Roll
from trainer.calc.marks import End, Reference
from trainer.calc.message import Message
from trainer.problems.bender import MARK
from trainer.problems.model import CHOOSING, AnswerKind
from trainer.progress.record import SkillLine
from trainer.text.words import say
from trainer.web.content import library
from trainer.web.language import language

__all__ = ["as_read", "below_title"]

#: What a setting of the bender is made of besides its pencil mark.
SETTINGS = frozenset[str]((*Reference, *End, *Roll))


def below_title(line: SkillLine) -> Message:
    """The sentence on a skill, for places where the skill's title stands above."""
    kind = line.words.id.rpartition(".")[2]
    return Message(f"record.skill.{kind}", line.words.params)


def as_read(family_id: str, typed: str) -> str:
    """
    The text as typed; of a choice the options in words, which question files name by what they are.

    Steps stand with their numbers, the setting of a bender in the words of the trade.
    """
    family = library().families.get(family_id)
    if not typed or family is None or family.kind not in CHOOSING:
        return typed
    chosen = typed.split(", ")
    if family.kind is AnswerKind.ORDER:
        chosen = [f"{place} {one}" for place, one in enumerate(chosen, 1)]
    if family.kind is AnswerKind.BENDER:
        chosen = [_setting(one) for one in chosen]
    return ", ".join(chosen) if family.kind is AnswerKind.BENDER else ", ".join(chosen).replace("-", " ")


def _setting(choice: str) -> str:
    """One choice of a bender's setting."""
    if choice.startswith(MARK):
        name = choice.removeprefix(MARK).replace("-", " ")
        return say(Message("bender.read.mark", {"name": name}), language())
    return say(Message(f"bender.read.{choice}"), language()) if choice in SETTINGS else choice
