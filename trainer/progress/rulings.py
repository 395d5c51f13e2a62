"""
What was decided about a key that is in doubt, and how a problem is judged because of it.

A ruling speaks of the rules of a family, so of everything that was drawn by them. The latest one holds:

- doubt: nothing is graded again; the family leaves practice and proof runs.
- credit: whoever answers has the point. Of the skill it tells nothing.
- also: another value is right too, worked out from the problem's own numbers.
- set-aside: the question counts nowhere.
- new-key: the file was mended; where the same seed draws the same numbers, its new key is the one that judges.
- stands: the key is right after all; everything is graded as it first was.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from enum import StrEnum

from msgspec.structs import replace

from trainer.calc.expression import ExpressionError, compile_expression
from trainer.calc.length import read_length
from trainer.calc.message import InputError, Message
from trainer.library.shelf import Library
from trainer.problems.draw import draw
from trainer.problems.errors import DrawError
from trainer.problems.family import Family
from trainer.problems.local import laid_over
from trainer.problems.model import ONE, AnswerKind, Key, Problem
from trainer.progress.effect import CREDITED, NOT_COUNTED
from trainer.records.models import KeyRuling

__all__ = [
    "DESK",
    "Remedy",
    "also_accepted",
    "by_new_key",
    "corrects",
    "on_shelf",
    "read_accepts",
    "ruled_instead",
    "under_ruling",
]

DESK = "desk"
"""Basis of an answer that is accepted because it was decided so."""

#: Kinds whose answer is one number.
NUMBERS = frozenset({AnswerKind.LENGTH, AnswerKind.COUNT, AnswerKind.NUMBER})

_NAME = re.compile(r"[a-z][a-z0-9_]*")


class Remedy(StrEnum):
    """What is done about a key."""

    DOUBT = "doubt"
    CREDIT = "credit"
    ALSO = "also"
    SET_ASIDE = "set-aside"
    NEW_KEY = "new-key"
    STANDS = "stands"


def corrects(remedy: Remedy) -> bool:
    """Whether it says that the key was wrong."""
    return remedy in {Remedy.CREDIT, Remedy.ALSO, Remedy.SET_ASIDE, Remedy.NEW_KEY}


def ruled_instead(ruling: KeyRuling | None, *, answered: bool) -> str:
    """The verdict that a ruling puts in place of what the answer was judged to be; "" where it does not."""
    remedy = ruling.remedy if ruling else ""
    if remedy == Remedy.CREDIT and answered:
        return CREDITED
    return NOT_COUNTED if remedy in {Remedy.CREDIT, Remedy.SET_ASIDE} else ""


def under_ruling(
    library: Library, ruling: KeyRuling | None, family: Family, problem: Problem, *, language: str = "en"
) -> tuple[Family, Problem]:
    """A problem and its family as a ruling wants them judged and shown."""
    if ruling is None:
        return family, problem
    if ruling.remedy == Remedy.ALSO:
        value = also_accepted(ruling.accepts, problem)
        return family, problem if value is None else replace(problem, keys=(*problem.keys, Key(value, DESK)))
    if ruling.remedy == Remedy.NEW_KEY:
        return by_new_key(library, family, problem, language=language) or (family, problem)
    return family, problem


def on_shelf(library: Library, family: Family) -> Family | None:
    """
    A family on record as its file stands now, under the local rules under which it was asked.

    Args:
        library: The content as the code has it, under no local rule.
        family: The family in the version that was used.

    Returns:
        None where the file is gone, or one of the rules is not as it was.
    """
    laid = laid_over(family, library.local_rules.values())
    return None if laid is None else library.under([rule.id for rule in laid]).families.get(family.id)


def by_new_key(
    library: Library, family: Family, problem: Problem, *, language: str = "en"
) -> tuple[Family, Problem] | None:
    """The same problem by the file as it stands now; None where the file has not changed, or asks something else."""
    shelf = on_shelf(library, family)
    # The numbers of a job's part hang on the parts before it.
    if shelf is None or shelf.rules_hash == family.rules_hash or family.job or shelf.job:
        return None
    try:
        again = draw(shelf, problem.seed, edition=problem.edition, language=language)
    except (DrawError, InputError):
        return None
    same = (
        dict(again.numbers) == dict(problem.numbers)
        and (again.kind, again.unit) == (problem.kind, problem.unit)
        and [one.id for one in again.options] == [one.id for one in problem.options]
    )
    return (shelf, again) if same else None


def also_accepted(accepts: str, problem: Problem) -> float | str | None:
    """What a ruling accepts too with the numbers of a problem; None where it has no value with them."""
    if problem.kind in ONE:
        return accepts if any(option.id == accepts for option in problem.options) else None
    if problem.kind not in NUMBERS:
        return None
    try:
        value = compile_expression(accepts, [*_names(problem)])(_names(problem))
    except ExpressionError:
        return None
    return None if isinstance(value, bool) else value


def read_accepts(typed: str, problem: Problem) -> str:
    """
    What else is to be accepted, as typed at the desk: a formula, a plain value, or the id of an option.

    Args:
        typed: As typed; a length may be written as learners write it.
        problem: One problem of the family.

    Returns:
        What `also_accepted` takes.

    Raises:
        InputError: With `field` "accepts", when it cannot be used.
    """
    text = typed.strip()
    if problem.kind in ONE:
        if any(option.id == text for option in problem.options):
            return text
    elif problem.kind in NUMBERS:
        for read in (text, _as_length(text, problem)):
            if read and also_accepted(read, problem) is not None:
                return read
    names = sorted(_names(problem))
    raise InputError(
        Message("keys.accepts"),
        given=text[:400],
        accepted=Message("keys.accepts-accepted", {"names": ", ".join(names) or "–"}),
        example="12 1/2" if not names else f"{names[0]} * 2",
        field="accepts",
    )


def _as_length(text: str, problem: Problem) -> str:
    """A length as a plain number of the problem's unit; "" where it is none."""
    if problem.kind is not AnswerKind.LENGTH:
        return ""
    try:
        return repr(float(read_length(text, problem.unit).inches))
    except InputError:
        return ""


def _names(problem: Problem) -> Mapping[str, float]:
    """The numbers that a formula may name: what was drawn, and what the core worked out."""
    known = {**problem.outputs, **problem.numbers}
    return {
        name: float(value) for name, value in known.items() if isinstance(value, int | float) and _NAME.fullmatch(name)
    }
