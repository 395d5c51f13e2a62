"""What is on record, in words: where somebody stands on a skill, and what was typed."""

from __future__ import annotations

from textwrap import shorten

from trainer.calc.bender_settings import Roll
from trainer.calc.fitting_choice import FITTING_IDS
from trainer.calc.marks import End, Reference
from trainer.calc.message import Message
from trainer.problems.bender import MARK
from trainer.problems.model import CHOOSING, AnswerKind
from trainer.problems.parts import Family
from trainer.progress.record import SkillLine
from trainer.text.words import say
from trainer.web.content import library
from trainer.web.language import language

__all__ = ["as_read", "below_title"]

#: What a setting of the bender is made of besides its pencil mark.
SETTINGS = frozenset[str]((*Reference, *End, *Roll))

#: How much of an option stands in a row, in letters.
LONGEST = 64
#: Fewer letters than this say nothing where the number is missing.
FEWEST_LETTERS = 6


def below_title(line: SkillLine) -> Message:
    """The sentence on a skill, for places where the skill's title stands above."""
    kind = line.words.id.rpartition(".")[2]
    return Message(f"record.skill.{kind}", line.words.params)


def as_read(family_id: str, typed: str) -> str:
    """
    The text as typed; of a choice the options in the words that the learner chose by, shortened where they are long.

    Numbers that were drawn for the learner are left open ("…"): they stand on the page of the problem. Steps stand with
    their numbers and short names, for each is a whole sentence; the setting of a bender in the words of the trade.
    """
    family = library().families.get(family_id)
    if not typed or family is None or family.kind not in CHOOSING:
        return typed
    chosen = typed.split(", ")
    if family.kind is AnswerKind.BENDER:
        return ", ".join(_setting(one) for one in chosen)
    if family.kind is AnswerKind.ORDER:
        return ", ".join(f"{place} {one}" for place, one in enumerate(chosen, 1)).replace("-", " ")
    return (", " if family.kind is AnswerKind.PLACES else "; ").join(_option(family, one) for one in chosen)


def _option(family: Family, chosen: str) -> str:
    """One option by its id; what is no option of the family any more, or a letter off a sheet, as it was sent."""
    if family.shape.ask.options is not None and chosen in FITTING_IDS:
        return say(Message(f"fitting.{chosen}"), language())
    outlines = {one.id: one.text.outline(family.facts).replace("*", "") for one in family.statements}
    said = outlines.get(chosen, "")
    # A sentence that differs from another by a drawn number alone, or is little else, says less than its name.
    alike = list(outlines.values()).count(said) > 1
    if "…" in said and (alike or sum(letter.isalpha() for letter in said) < FEWEST_LETTERS):
        said = ""
    return shorten(said, LONGEST, placeholder=" …") if said else chosen.replace("-", " ")


def _setting(choice: str) -> str:
    """One choice of a bender's setting."""
    if choice.startswith(MARK):
        name = choice.removeprefix(MARK).replace("-", " ")
        return say(Message("bender.read.mark", {"name": name}), language())
    return say(Message(f"bender.read.{choice}"), language()) if choice in SETTINGS else choice
