"""
Putting the bender on the tube: what is chosen, which combinations are right, which slip a combination shows.

The answer is one choice of each group that a family asks for: the pencil mark, the bender's reference on it, the hook's
direction, the roll before the bend. The core judges every combination by the bend that it makes. A known mistake is a
choice that is wrong when an answer is held against the right combination that is nearest to it.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from itertools import pairwise, product
from typing import Any

from trainer.calc.bender_settings import Fit, Roll, Setting, SettingJob, setting_job
from trainer.calc.expression import ExpressionError
from trainer.calc.marks import Datum, End, Reference
from trainer.calc.message import InputError, Message, Quantity
from trainer.problems.drawn import DrawnOption
from trainer.problems.misfit import Misfit
from trainer.problems.model import AnswerKind, BenderGroup, Problem
from trainer.problems.parts import BenderAsk, Family, KnownMistake

__all__ = [
    "MARK",
    "Combination",
    "choices_of",
    "combinations",
    "draw_bender",
    "group_of",
    "grouped",
    "job_of",
    "letters_of",
    "nearest",
    "pencils_of",
    "setting_of",
    "shows",
    "slipped",
    "ways",
    "ways_of",
]

Combination = tuple[str, ...]
MARK = "mark-"
#: Pencil marks that lie nearer to each other are no two marks to choose from [in].
_MARKS_APART = 1.0
#: Rolls that are told by where one looks from.
_SEEN_FROM = (Roll.CLOCKWISE, Roll.COUNTERCLOCKWISE)
_CHOICES: Mapping[BenderGroup, tuple[str, ...]] = {
    BenderGroup.REFERENCE: tuple(Reference),
    BenderGroup.HOOK: tuple(End),
    BenderGroup.ROLL: tuple(Roll),
}


def group_of(choice: str) -> BenderGroup:
    """
    The group that a choice belongs to; a pencil mark's id begins with "mark-".

    >>> group_of("mark-near").value, group_of("far-end").value
    ('mark', 'hook')
    """
    return next((group for group, choices in _CHOICES.items() if choice in choices), BenderGroup.MARK)


def combinations(problem: Problem) -> tuple[Combination, ...]:
    """Every right combination; none for other kinds of answer."""
    if problem.kind is not AnswerKind.BENDER:
        return ()
    return tuple(key.value for key in problem.keys if isinstance(key.value, tuple))


def grouped(problem: Problem, choice: str) -> dict[str, Any]:
    """The group of a choice and what that asks, as a page takes them; nothing for other kinds of answer."""
    if problem.kind is not AnswerKind.BENDER:
        return {}
    group = group_of(choice)
    return {"group": str(group), "legend": Message(f"bender.group.{group}")}


def ways(problem: Problem) -> int:
    """How many answers can be given by choosing; the options where each is an answer by itself."""
    if problem.kind is not AnswerKind.BENDER:
        return len(problem.options)
    groups = [group_of(option.id) for option in problem.options]
    return _product(groups.count(group) for group in set(groups))


def ways_of(asked: BenderAsk) -> int:
    """How many combinations a family of this kind has."""
    names = [name for name, _ in asked.pencils]
    return _product(len(choices_of(names, group)) for group in asked.groups)


def choices_of(pencils: Iterable[str], group: BenderGroup) -> tuple[str, ...]:
    """Ids of what can be chosen in a group, with the pencil marks' names in the file's order."""
    return _CHOICES.get(group) or tuple(MARK + name for name in pencils)


def pencils_of(family: Family, known: Mapping[str, float]) -> dict[str, float]:
    """
    The pencil marks by their ids, from where measuring starts onward [in].

    Raises:
        Misfit: When one has no place with these numbers, or two can't be told apart.
    """
    asked = _asked(family)
    try:
        found = {MARK + name: float(at(known)) for name, at in asked.pencils}
    except ExpressionError as error:
        raise Misfit(f"a pencil mark has no place here: {error.reason.id}") from None
    along = dict(sorted(found.items(), key=lambda pair: pair[1]))
    if any(after - before < _MARKS_APART for before, after in pairwise([0.0, *along.values()])):
        raise Misfit("two pencil marks too near each other, or one at the tube's end")
    return along


def job_of(family: Family, values: Mapping[str, Any], result: Any) -> SettingJob:
    """
    The bend that is asked for.

    Raises:
        Misfit: When there are no marks on the family's basis with these numbers, or they can't be bent.
    """
    asked = _asked(family)
    marks = getattr(result, asked.marks)
    if all(mark.order != asked.bend for mark in marks):
        raise Misfit("no marks on this basis")
    read = {name: family.calculation.input(name).value(value) for name, value in values.items()}
    try:
        return setting_job(read, marks, asked.bend, any_left=asked.any_left)
    except InputError as error:
        raise Misfit(f"the marks can't be bent: {error.reason.id}") from None


def letters_of(pencils: Mapping[str, float], job: SettingJob) -> dict[str, float]:
    """The pencil marks by the letters that the page calls them by; where there is none to choose, the mark of the bend."""
    return dict(zip("ABCDEFGH", pencils.values() or [job.wanted[0].mark.position], strict=False))


def setting_of(chosen: Iterable[str], pencils: Mapping[str, float]) -> Setting:
    """A combination as the core takes it."""
    by_group = {group_of(one): one for one in chosen}
    mark, reference, hook, roll = (by_group.get(group) for group in BenderGroup)
    return Setting(
        pencils[mark] if mark else None,
        Reference(reference) if reference else None,
        End(hook) if hook else None,
        Roll(roll) if roll else None,
    )


def draw_bender(
    family: Family, values: Mapping[str, Any], result: Any, known: Mapping[str, float], possible: Iterable[KnownMistake]
) -> tuple[tuple[Combination, ...], tuple[tuple[str, Combination], ...], tuple[DrawnOption, ...]]:
    """
    The right combinations, the known mistakes by what is chosen in them, and the choices in their order.

    Args:
        family: Of this kind.
        values: Inputs of its calculation.
        result: What that gave.
        known: Numbers for the places of the pencil marks.
        possible: The known mistakes that these numbers allow.

    Raises:
        Misfit: When no combination is right, or a wrong one can't be told from a right one on the tube.
    """
    asked, job, pencils = _asked(family), job_of(family, values, result), pencils_of(family, known)
    choices = {group: tuple(pencils) if group is BenderGroup.MARK else _CHOICES[group] for group in asked.groups}
    fits = {chosen: job.fit(setting_of(chosen, pencils)) for chosen in product(*choices.values())}
    right = tuple(chosen for chosen, fit in fits.items() if fit is Fit.RIGHT)
    if not right or Fit.UNCLEAR in fits.values():
        raise Misfit("no setting right" if not right else "a wrong setting that can't be told from a right one")
    own = {choice for group in choices.values() for choice in group}
    mistakes = tuple(
        (mistake.id, slip)
        for mistake in possible
        for slip in mistake.chose
        if set(slip) <= own and slipped(right, slip)
    )
    options = tuple(DrawnOption(choice, words) for choice, words in _words(choices, pencils, job))
    return right, mistakes, options


def shows(chosen: Collection[str], slip: Collection[str], right: Iterable[Collection[str]]) -> bool:
    """Whether an answer shows a slip: held against a nearest right combination, just this was chosen wrongly."""
    return any(set(slip) <= set(chosen) - set(key) for key in nearest(chosen, right))


def nearest(chosen: Collection[str], right: Iterable[Collection[str]]) -> list[Collection[str]]:
    """The right combinations that share the most with an answer."""
    keys = list(right)
    most = max(len(set(key) & set(chosen)) for key in keys)
    return [key for key in keys if len(set(key) & set(chosen)) == most]


def slipped(right: Sequence[Combination], slip: Combination) -> Combination | None:
    """A right combination with a slip made in it; None where that shows no slip, or is right again."""
    by_group = {group_of(one): one for one in slip}
    for key in right:
        made = tuple(by_group.get(group_of(one), one) for one in key)
        if made not in right and shows(made, slip, right):
            return made
    return None


def _words(
    choices: Mapping[BenderGroup, Sequence[str]], pencils: Mapping[str, float], job: SettingJob
) -> Iterator[tuple[str, tuple[Message, Message]]]:
    """What each choice says, and what it does."""
    start, letters = job.measured_from, dict(zip(pencils, "ABCDEFGH", strict=False))
    behind = "-behind-a-bend" if start == Datum.BACK else ""
    for group, ids in choices.items():
        for choice in ids:
            if group is BenderGroup.MARK:
                place = {"letter": letters[choice], "position": Quantity(pencils[choice], "in")}
                text = Message("bender.mark", {**place, "measured_from": Message(f"mark.{start}")})
                yield choice, (text, Message("bender.why.mark"))
            elif group is BenderGroup.HOOK:
                yield choice, (Message(f"bender.hook.{choice}{behind}"), Message("bender.why.hook"))
            else:
                seen = behind if choice in _SEEN_FROM else ""
                yield choice, (Message(f"bender.{group}.{choice}{seen}"), Message(f"bender.why.{choice}"))


def _asked(family: Family) -> BenderAsk:
    if family.bender is None:
        raise TypeError(f"{family.id} asks for no bender on its tube")
    return family.bender


def _product(counts: Iterable[int]) -> int:
    found = 1
    for count in counts:
        found *= count
    return found
