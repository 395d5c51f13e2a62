"""
A typed answer judged. The rules in their order; the first that holds gives the verdict:

1. It cannot be read: *unreadable*, with the reader's reason; nothing is counted.
2. Its unit measures another quantity ("30°" for a length): *wrong unit*.
3. It lies within the tolerance of an accepted answer, on whatever basis and in whatever unit: *right*.
4. It lies within the tolerance of a known mistake's value: *known mistake*, all of them where several share a value.
5. Its number would be right in another unit (12 for 144 in, meant as feet; 12.5 ft for 12-1/2 in): *wrong unit*.
6. It is an accepted answer rounded to a coarser step than the tolerance allows: *rounded too far*.
7. Nothing on a job can come to it (no length at all, a thousand turns): *unreadable* too, nothing is counted.
8. Else *wrong*.

For choices: right when the choice is the key; a known mistake when it is about an option that was judged wrongly.
For the bender on the tube: right when the combination is one of the keys; a known mistake when it shows the mistake's choice.
For an order: right when it is one of the keys; a known mistake when it puts the mistake's first step before its second.
For places on a run: right when it is one of the keys; a known mistake when the core finds what the mistake shows.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence

from msgspec import Struct
from msgspec.structs import replace

from trainer.calc.length import read_length
from trainer.calc.message import InputError, Message, Quantity
from trainer.calc.reading import read_count, read_number
from trainer.calc.units import UNITS, convert, unit
from trainer.problems.bender import combinations, group_of, nearest, shows
from trainer.problems.impossible import refuse_impossible
from trainer.problems.model import SEVERAL, AnswerKind, Key, Problem, Verdict, VerdictKind
from trainer.problems.ordering import PLACED, in_places, made_before, right_from_the_start

__all__ = ["check"]

#: A tape read to the eighth is off by a sixteenth at most, and that is right; floats shall not spoil it.
FORGIVEN = 1e-9
INCH_STEPS = (Quantity(1 / 8, "in"), Quantity(1 / 4, "in"), Quantity(1 / 2, "in"), Quantity(1, "in"))
PLAIN_STEPS = (0.01, 0.1, 0.5, 1.0)
#: Steps to which people round a length, by the unit in which they typed it.
ROUNDING_STEPS = {
    "in": INCH_STEPS,
    "ft": (*INCH_STEPS, Quantity(0.1, "ft"), Quantity(1, "ft")),
    "mm": (Quantity(5, "mm"), Quantity(10, "mm")),
    "cm": (Quantity(0.5, "cm"), Quantity(1, "cm")),
    "m": (Quantity(0.01, "m"), Quantity(0.1, "m")),
}


class Read(Struct, frozen=True):
    """A typed number in the problem's unit, and in which unit it was typed, if in any."""

    value: float
    unit: str
    unit_given: bool


def check(problem: Problem, typed: str | Sequence[str]) -> Verdict:
    """
    Judge an answer.

    Args:
        problem: The problem as issued.
        typed: The text as typed; the id of an option, its letter in the order shown, or several of them (as a
            sequence, or with commas between) for choices.

    Never raises, whatever was typed.
    """
    try:
        if problem.kind in _CHOSEN:
            return _CHOSEN[problem.kind](problem, typed)
        return _check_number(problem, _read(problem, _text(typed)), _text(typed))
    except InputError as error:
        return _not_read(error)


def _not_read(error: InputError) -> Verdict:
    """Another quantity is a mistake about units; anything else is no answer yet."""
    kind = VerdictKind.UNIT if error.reason.id == "number.other-quantity" else VerdictKind.UNREADABLE
    params = {"reason": error.reason, "accepted": error.accepted, "example": error.example}
    return Verdict(kind, None, reason=Message("check.not-taken", params))


def _text(typed: str | Sequence[str]) -> str:
    return typed if isinstance(typed, str) else " ".join(typed)


def _read(problem: Problem, text: str) -> Read:
    if problem.kind is AnswerKind.LENGTH:
        length = read_length(text, problem.unit)
        return Read(float(length.inches), length.unit, length.unit_given)
    reader = read_count if problem.kind is AnswerKind.COUNT else read_number
    reading = reader(text, problem.unit)
    return Read(reading.value, reading.unit, reading.unit_given)


def _check_number(problem: Problem, read: Read, typed: str) -> Verdict:
    keys = sorted(_numbers(problem.keys), key=lambda pair: abs(pair[0] - read.value))
    nearest, key = keys[0]
    if _within(read.value, nearest, problem.tolerance):
        return Verdict(VerdictKind.RIGHT, read.value, basis=key.basis)
    if mistakes := _mistakes_at(problem, read.value):
        return Verdict(VerdictKind.MISTAKE, read.value, mistakes)
    if meant := _unit_meant(problem, read):
        return Verdict(VerdictKind.UNIT, read.value, reason=meant)
    if (step := _rounding(problem, read)) is not None:
        return Verdict(VerdictKind.ROUNDED, read.value, reason=_rounded_to(problem, step))
    refuse_impossible(problem, read.value, typed)
    return Verdict(VerdictKind.WRONG, read.value)


def _numbers(keys: Iterable[Key]) -> list[tuple[float, Key]]:
    return [(key.value, key) for key in keys if isinstance(key.value, int | float)]


def _within(value: float, other: float, tolerance: float) -> bool:
    return abs(value - other) <= tolerance + FORGIVEN


def _mistakes_at(problem: Problem, value: float) -> tuple[str, ...]:
    """Ids of the known mistakes whose value it is, each once, in the family's order."""
    near = (
        mistake.id
        for mistake in problem.mistakes
        if isinstance(mistake.value, int | float) and _within(value, mistake.value, problem.tolerance)
    )
    return tuple(dict.fromkeys(near))


def _unit_meant(problem: Problem, read: Read) -> Message | None:
    """The unit in which the number typed would be right, as a message; None when there is none."""
    typed = unit(read.unit)
    number = convert(read.value, problem.unit, typed.id)
    for other in UNITS.values():
        if other.quantity != typed.quantity or other.id == typed.id:
            continue
        converted = convert(number, other.id, problem.unit)
        if any(_within(converted, key, problem.tolerance) for key, _ in _numbers(problem.keys)):
            params = {"meant": Quantity(number, other.id), "taken": _quantity(problem, read.value)}
            return Message("check.other-unit" if read.unit_given else "check.bare-number", params)
    return None


def _quantity(problem: Problem, value: float) -> Quantity:
    return Quantity(value, problem.unit)


def _rounding(problem: Problem, read: Read) -> Quantity | None:
    """The finest step to which an accepted answer was rounded; None when the value is no rounded answer, or is 0."""
    if problem.kind is AnswerKind.COUNT or not read.value:
        return None
    keys = [key for key, _ in _numbers(problem.keys)]
    for step in ROUNDING_STEPS.get(read.unit) or [Quantity(size, read.unit) for size in PLAIN_STEPS]:
        size = convert(step.value, step.unit, problem.unit)
        times = read.value / size
        if abs(times - round(times)) < 1e-6 and any(_within(read.value, key, size / 2) for key in keys):
            return step
    return None


def _rounded_to(problem: Problem, step: Quantity) -> Message:
    return Message("check.rounded", {"step": step, "tolerance": _quantity(problem, problem.tolerance)})


def _one_option(problem: Problem, typed: str | Sequence[str]) -> str:
    chosen = _options(problem, typed)
    if len(chosen) != 1:
        raise _refused(problem, typed, Message("check.one-only"))
    return chosen[0]


def _options(problem: Problem, typed: str | Sequence[str]) -> tuple[str, ...]:
    """Ids of the options chosen, sorted, each once; InputError when one is unknown or none is named."""
    return tuple(sorted(set(_named(problem, typed))))


def _named(problem: Problem, typed: str | Sequence[str]) -> tuple[str, ...]:
    """Ids of the options named, as typed; InputError when one is unknown or none is named."""
    words = typed.split(",") if isinstance(typed, str) else list(typed)
    named = [word.strip() for word in words[:40] if word.strip()]
    if not named:
        raise _refused(problem, typed, Message("check.nothing-chosen"))
    ids = {option.id for option in problem.options}
    letters = {chr(ord("a") + place): option.id for place, option in enumerate(problem.options)}
    chosen = tuple(word if word in ids else letters.get(word.lower(), "") for word in named)
    if "" in chosen:
        raise _refused(problem, typed, Message("check.no-such-option"))
    return chosen


def _order(problem: Problem, typed: str | Sequence[str]) -> tuple[str, ...]:
    """The steps in the order named or numbered; InputError when one is named twice or left out."""
    words = [word.strip() for word in (typed.split(",") if isinstance(typed, str) else typed)[:40]]
    numbers = [match[1] for word in words if (match := PLACED.fullmatch(word))]
    if numbers and len(set(numbers)) < len(numbers):
        twice = next(number for number in numbers if numbers.count(number) > 1)
        raise _not_numbered(problem, typed, Message("check.number-twice", {"number": int(twice)}))
    if numbers and len(numbers) < len(problem.options):
        raise _not_numbered(problem, typed, Message("check.number-missing"))
    named = _named(problem, in_places(words))
    if len(set(named)) < len(named):
        raise _refused(problem, typed, Message("check.step-twice"))
    if len(named) < len(problem.options):
        raise _refused(problem, typed, Message("check.step-missing"))
    return named


def _not_numbered(problem: Problem, typed: str | Sequence[str], reason: Message) -> InputError:
    count = len(problem.options)
    accepted = Message("check.accepted-numbers", {"count": count})
    example = ", ".join(str(place) for place in (2, 1, *range(3, count + 1)))
    return InputError(reason, given=_text(typed), accepted=accepted, example=example)


def _combination(problem: Problem, typed: str | Sequence[str]) -> tuple[str, ...]:
    """One choice of each group, in the order of the groups; InputError when one is missing or there twice."""
    named = _named(problem, typed)
    by_group = {group_of(one): one for one in named}
    if len(by_group) < len(named):
        twice = next(one for one in named if by_group[group_of(one)] != one or named.count(one) > 1)
        raise _refused(problem, typed, Message("check.group-twice", {"group": _group(twice)}))
    groups = dict.fromkeys(group_of(option.id) for option in problem.options)
    for group in groups:
        if group not in by_group:
            missing = next(option.id for option in problem.options if group_of(option.id) is group)
            raise _refused(problem, typed, Message("check.group-missing", {"group": _group(missing)}))
    return tuple(by_group[group] for group in groups)


def _group(choice: str) -> Message:
    return Message(f"bender.group.{group_of(choice)}")


def _refused(problem: Problem, typed: str | Sequence[str], reason: Message) -> InputError:
    letters = ", ".join(chr(ord("a") + place) for place in range(len(problem.options)))
    if problem.kind is AnswerKind.ORDER:
        example = ", ".join(reversed(letters.split(", ")))
        accepted = Message("check.accepted-order", {"letters": letters})
        return InputError(reason, given=_text(typed), accepted=accepted, example=example)
    if problem.kind is AnswerKind.BENDER:
        first = {group_of(option.id): letter for letter, option in zip("abcdefghijklm", problem.options, strict=False)}
        accepted = Message("check.accepted-groups")
        return InputError(reason, given=_text(typed), accepted=accepted, example=", ".join(first.values()))
    several = problem.kind in SEVERAL
    accepted = Message("check.accepted-choices" if several else "check.accepted-choice", {"letters": letters})
    return InputError(reason, given=_text(typed), accepted=accepted, example="a, b" if several else "a")


def _check_choice(problem: Problem, chosen: str) -> Verdict:
    if any(key.value == chosen for key in problem.keys):
        return Verdict(VerdictKind.RIGHT, chosen)
    mistakes = tuple(mistake.id for mistake in problem.mistakes if mistake.value == chosen)
    return Verdict(VerdictKind.MISTAKE if mistakes else VerdictKind.WRONG, chosen, mistakes)


def _check_choices(problem: Problem, chosen: tuple[str, ...]) -> Verdict:
    """A known mistake names an option; it is made by choosing it wrongly, or by leaving it out wrongly."""
    key = set(problem.keys[0].value) if isinstance(problem.keys[0].value, tuple) else set()
    too_many, missing = set(chosen) - key, key - set(chosen)
    if not too_many and not missing:
        return Verdict(VerdictKind.RIGHT, chosen)
    reason = Message("check.choices", {"too_many": len(too_many), "missing": len(missing)})
    mistakes = tuple(mistake.id for mistake in problem.mistakes if mistake.value in too_many | missing)
    return Verdict(VerdictKind.MISTAKE if mistakes else VerdictKind.WRONG, chosen, mistakes, reason)


def _check_fault(problem: Problem, chosen: str) -> Verdict:
    """As for a choice; what was taken for the fault is cleared by its own numbers."""
    verdict = _check_choice(problem, chosen)
    if verdict.kind is VerdictKind.RIGHT:
        return verdict
    return replace(verdict, reason=_sound(problem, [chosen]))


def _check_faults(problem: Problem, chosen: tuple[str, ...]) -> Verdict:
    """As for choices; each one that is as it should be is cleared by its own numbers."""
    verdict = _check_choices(problem, chosen)
    key = problem.keys[0].value
    sound = [one for one in chosen if isinstance(key, tuple) and one not in key]
    if verdict.kind is VerdictKind.RIGHT or not sound or verdict.reason is None:
        return verdict
    both = {"one": verdict.reason, "other": _sound(problem, sound)}
    return replace(verdict, reason=Message("check.and", both))


def _sound(problem: Problem, chosen: Sequence[str]) -> Message:
    """Why these are no faults, in the family's words."""
    letters = {option.id: (chr(ord("A") + place), option.why) for place, option in enumerate(problem.options)}
    said = [Message("check.sound", {"letter": letters[one][0], "why": letters[one][1].strip()}) for one in chosen]
    joined = said[0]
    for one in said[1:]:
        joined = Message("check.and", {"one": joined, "other": one})
    return joined


def _check_bender(problem: Problem, chosen: tuple[str, ...]) -> Verdict:
    """A known mistake names choices; it is made where they are what is wrong beside the nearest right combination."""
    right = combinations(problem)
    if chosen in right:
        return Verdict(VerdictKind.RIGHT, chosen)
    slips = ((mistake.id, mistake.value) for mistake in problem.mistakes)
    shown = [one for one, slip in slips if isinstance(slip, tuple) and shows(chosen, slip, right)]
    wrong = min(len(set(chosen) - set(key)) for key in nearest(chosen, right))
    reason = Message("check.combination", {"right": len(chosen) - wrong, "groups": len(chosen)})
    kind = VerdictKind.MISTAKE if shown else VerdictKind.WRONG
    return Verdict(kind, chosen, tuple(dict.fromkeys(shown)), reason)


def _check_order(problem: Problem, order: tuple[str, ...]) -> Verdict:
    """
    A known mistake names two steps; it is made by putting the first before the second.

    The first step that stands wrong comes too early: every right order that begins like this one has it further on.
    """
    keys = [key.value for key in problem.keys if isinstance(key.value, tuple)]
    if order in keys:
        return Verdict(VerdictKind.RIGHT, order)
    right = right_from_the_start(order, keys)
    wrong = next(option for option in problem.options if option.id == order[right])
    early = {"number": right + 1, "step": wrong.text.strip(), "why": wrong.why.strip()}
    told = {
        "one": Message("check.order", {"right": right, "steps": len(order)}),
        "other": Message("check.early", early),
    }
    pairs = ((mistake.id, mistake.value) for mistake in problem.mistakes)
    mistakes = tuple(one for one, pair in pairs if isinstance(pair, tuple) and made_before(order, *pair))
    kind = VerdictKind.MISTAKE if mistakes else VerdictKind.WRONG
    return Verdict(kind, order, mistakes, Message("check.and", told))


def _check_places(problem: Problem, chosen: tuple[str, ...]) -> Verdict:
    """A known mistake names what the core sees in a choice; the core also says what is wrong, stretch by stretch."""
    if problem.run is None:
        raise TypeError("a problem about places has the run that they lie on")
    if any(key.value == chosen for key in problem.keys):
        return Verdict(VerdictKind.RIGHT, chosen)
    fewest = len(problem.keys[0].value) if isinstance(problem.keys[0].value, tuple) else 0
    straps = problem.run.positions(chosen)
    slips = problem.run.slips(straps, fewest)
    mistakes = tuple(mistake.id for mistake in problem.mistakes if mistake.value in slips)
    kind = VerdictKind.MISTAKE if mistakes else VerdictKind.WRONG
    return Verdict(kind, chosen, mistakes, problem.run.judged(straps, fewest))


#: Judges of what is chosen: reads it, then holds it against the keys.
_CHOSEN: Mapping[AnswerKind, Callable[[Problem, str | Sequence[str]], Verdict]] = {
    AnswerKind.CHOICE: lambda problem, typed: _check_choice(problem, _one_option(problem, typed)),
    AnswerKind.CHOICES: lambda problem, typed: _check_choices(problem, _options(problem, typed)),
    AnswerKind.FAULT: lambda problem, typed: _check_fault(problem, _one_option(problem, typed)),
    AnswerKind.FAULTS: lambda problem, typed: _check_faults(problem, _options(problem, typed)),
    AnswerKind.ORDER: lambda problem, typed: _check_order(problem, _order(problem, typed)),
    AnswerKind.BENDER: lambda problem, typed: _check_bender(problem, _combination(problem, typed)),
    AnswerKind.PLACES: lambda problem, typed: _check_places(problem, _options(problem, typed)),
}
