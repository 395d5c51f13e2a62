"""
What first answers say about a question itself, each in one sentence: whether its key may be wrong, whether it is harder
than thought, whether it tells people apart, which wrong answers nobody can explain.

Only first tries without a hint, outside of lessons, count. Below its least number of answers each statistic gives its
count and no judgement.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from math import isclose

from msgspec import Struct, field

from trainer.calc.message import Message, Quantity
from trainer.problems.model import CHOOSING, FINDING, ONE, AnswerKind
from trainer.problems.parts import Family
from trainer.progress.called import called
from trainer.progress.statistics import correlation, fisher_upper, fit_z, spread_p, wilson

__all__ = ["LEAST", "FirstTry", "Said", "Standing", "judged"]

LEAST: Mapping[str, int] = {
    "alarm": 1,
    "fit": 20,
    "share": 20,
    "tells-apart": 50,
    "unexplained": 20,
    "unused": 100,
    "ranges": 30,
}
"""Answers from which a statistic says something: of "unexplained" wrong ones, of "ranges" in each range."""

ODD_FIT = 3.0
HARD, EASY = 0.30, 0.95
WEAK = 0.20
SAME_PEOPLE, SAME_SHARE = 3, 0.10
UNUSED = 0.05
BY_LUCK = 0.001
GAVE_UP = "gave-up"

#: What is said while there are too few, of the statistics that do not count every answer.
TOO_FEW = {"unexplained": "report.too-few-wrong", "ranges": "report.too-few-ranges"}


class FirstTry(Struct, frozen=True):
    """
    A first try without a hint.

    Args:
        person_id: Whose.
        verdict: The verdict that counts.
        mistakes: Known mistakes that it shows.
        value: As read.
        typed: As typed.
        expected: Chance of a right answer, before it.
        level: Level of the person before it [logit].
        key: The first accepted value.
        numbers: The drawn numbers and words.
        wrong_choices: Of what could be chosen, the ids of what no accepted answer holds.
    """

    person_id: int
    verdict: str
    mistakes: tuple[str, ...]
    value: object
    typed: str
    expected: float
    level: float
    key: object = None
    numbers: Mapping[str, object] = field(default_factory=dict)
    wrong_choices: tuple[str, ...] = ()

    @property
    def right(self) -> bool:
        """Whether it was right."""
        return self.verdict == "right"


class Standing(Struct, frozen=True):
    """What is known of a question besides its answers: the running alarm, and whether it was raised."""

    alarm: float
    alarmed: bool


class Said(Struct, frozen=True):
    """
    What one statistic says.

    Args:
        what: Which: a key of LEAST.
        count: From how many answers.
        least: How many it takes.
        words: The sentence; with too few answers it says only that.
        flagged: Whether it is something to look at.
    """

    what: str
    count: int
    least: int
    words: Message
    flagged: bool = False


def judged(family: Family, tries: Sequence[FirstTry], standing: Standing) -> list[Said]:
    """Every statistic of a question, in the order in which they are to be read."""
    answered = [one for one in tries if one.verdict != GAVE_UP]
    return [
        _alarm(answered, standing),
        _fit(answered),
        _share(answered),
        _tells_apart(answered),
        _unexplained(family, answered),
        _unused(family, answered),
        _ranges(answered),
    ]


def _alarm(tries: Sequence[FirstTry], standing: Standing) -> Said:
    if standing.alarmed:
        return Said("alarm", len(tries), LEAST["alarm"], Message("report.alarm"), flagged=True)
    return _said("alarm", len(tries), Message("report.alarm-none"))


def _fit(tries: Sequence[FirstTry]) -> Said:
    z = fit_z((one.right, one.expected) for one in tries)
    right, expected = sum(one.right for one in tries), sum(one.expected for one in tries)
    params = {"right": right, "expected": round(expected), "answers": Quantity(len(tries), "answers")}
    words = "report.harder" if z < -ODD_FIT else "report.easier" if z > ODD_FIT else "report.fits"
    return _said("fit", len(tries), Message(words, params), flagged=abs(z) > ODD_FIT)


def _share(tries: Sequence[FirstTry]) -> Said:
    right, of = sum(one.right for one in tries), len(tries)
    low, high = wilson(right, of) if of else (0.0, 1.0)
    params = {"right": right, "of": of, "low": round(100 * low), "high": round(100 * high)}
    share = right / of if of else HARD
    words = "report.share-low" if share < HARD else "report.share-high" if share > EASY else "report.share"
    return _said("share", of, Message(words, params), flagged=share < HARD or share > EASY)


def _tells_apart(tries: Sequence[FirstTry]) -> Said:
    if len(tries) < LEAST["tells-apart"]:
        return _said("tells-apart", len(tries), Message("report.apart"))
    upper = fisher_upper(correlation([(float(one.right), one.level) for one in tries]), len(tries))
    words = "report.apart-reversed" if upper < 0 else "report.apart-weak" if upper < WEAK else "report.apart"
    return _said("tells-apart", len(tries), Message(words), flagged=upper < WEAK)


def _unexplained(family: Family, tries: Sequence[FirstTry]) -> Said:
    wrong = [one for one in tries if one.verdict in {"wrong", "known-mistake"}]
    seen: dict[tuple[str, object], set[int]] = defaultdict(set)
    routes: dict[tuple[str, object], Message] = {}
    for one in wrong:
        for name, sign, words in _routes(family, one) if one.verdict == "wrong" else ():
            seen[name, sign].add(one.person_id)
            routes.setdefault((name, sign), words)
    route = max(seen, key=lambda at: len(seen[at]), default=None)
    people = len(seen[route]) if route else 0
    flagged = people >= SAME_PEOPLE and people >= SAME_SHARE * len(wrong)
    if route is None or not flagged:
        return _said("unexplained", len(wrong), Message("report.explained"))
    params = {"people": people, "wrong": len(wrong), "route": routes[route]}
    return _said("unexplained", len(wrong), Message("report.unexplained", params), flagged=True)


def _routes(family: Family, one: FirstTry) -> Iterable[tuple[str, object, Message]]:
    """What could have been done alike in other numbers: the same value, as far from the key, or as many times it."""
    if family.kind in CHOOSING:
        yield "chosen", one.typed, Message("report.route-chosen", {"chosen": one.typed.replace("-", " ")})
        return
    if not isinstance(one.value, int | float):
        return
    value = float(one.value)
    yield "value", round(value, 2), Message("report.route-value", {"value": _short(value)})
    if not isinstance(one.key, int | float) or isclose(value, one.key):
        return
    off = value - one.key
    words = "report.route-more" if off > 0 else "report.route-less"
    yield "off", round(off, 2), Message(words, {"by": _short(abs(off))})
    if one.key:
        yield "times", round(value / one.key, 2), Message("report.route-times", {"times": _short(value / one.key)})


def _short(value: float) -> str:
    """A number with two decimals at the most."""
    return f"{value:.2f}".rstrip("0").rstrip(".")


def _unused(family: Family, tries: Sequence[FirstTry]) -> Said:
    shown = Counter(mistake for one in tries for mistake in {*one.mistakes})
    names = dict.fromkeys(mistake.id for mistake in family.mistakes)
    idle = [called(mistake, family) for mistake in names if shown[mistake] < UNUSED * len(tries)]
    idle += [choice.replace("-", " ") for choice in _never_taken(family, tries)]
    words = Message("report.unused", {"mistakes": "; ".join(idle)}) if idle else Message("report.used")
    return _said("unused", len(tries), words, flagged=bool(idle))


def _never_taken(family: Family, tries: Sequence[FirstTry]) -> list[str]:
    """Wrong choices that were offered often enough, and that hardly anybody takes: they test nothing."""
    if family.kind not in ONE | FINDING | {AnswerKind.CHOICES}:
        return []
    offered = Counter(choice for one in tries for choice in one.wrong_choices)
    taken = Counter(choice for one in tries for choice in {*_chosen(one)} & {*one.wrong_choices})
    return [choice for choice, of in sorted(offered.items()) if of >= LEAST["unused"] and taken[choice] < UNUSED * of]


def _chosen(one: FirstTry) -> Iterable[str]:
    """What an answer chose."""
    return (one.value,) if isinstance(one.value, str) else one.value if isinstance(one.value, list | tuple) else ()


def _ranges(tries: Sequence[FirstTry]) -> Said:
    """Each drawn number in two halves, each drawn word for itself; the one whose parts differ the most."""
    best: tuple[float, str, list[tuple[str, int, int]]] | None = None
    names = {name for one in tries for name in one.numbers}
    for name in sorted(names):
        parts = [(label, right, of) for label, right, of in _parts(name, tries) if of >= LEAST["ranges"]]
        if len(parts) > 1:
            p = spread_p([(right, of) for _, right, of in parts])
            best = min(best or (2.0, "", []), (p, name, parts), key=lambda entry: entry[0])
    if best is None:
        return _said("ranges", 0, Message("report.ranges-alike"))
    p, name, parts = best
    count = min(of for _, _, of in parts)
    if p >= BY_LUCK:
        return _said("ranges", count, Message("report.ranges-alike"))
    hardest = min(parts, key=lambda part: part[1] / part[2])
    params = {"name": name.replace("_", " "), "part": hardest[0], "right": hardest[1], "of": hardest[2]}
    return _said("ranges", count, Message("report.ranges-differ", params), flagged=True)


def _parts(name: str, tries: Sequence[FirstTry]) -> Iterable[tuple[str, int, int]]:
    drawn = [(one.numbers[name], one.right) for one in tries if name in one.numbers]
    numbers = [(float(value), right) for value, right in drawn if isinstance(value, int | float)]
    if numbers:
        middle = sorted(value for value, _ in numbers)[len(numbers) // 2]
        low, high = ([right for value, right in numbers if (value >= middle) is above] for above in (False, True))
        yield f"below {_short(middle)}", sum(low), len(low)
        yield f"from {_short(middle)} on", sum(high), len(high)
        return
    words: dict[str, list[bool]] = defaultdict(list)
    for value, right in drawn:
        words[str(value)].append(right)
    for word, rights in words.items():
        yield word, sum(rights), len(rights)


def _said(what: str, count: int, words: Message, *, flagged: bool = False) -> Said:
    least = LEAST[what]
    if count < least:
        params = {"answers": Quantity(count, "answers"), "count": count, "least": least}
        return Said(what, count, least, Message(TOO_FEW.get(what, "report.too-few"), params))
    return Said(what, count, least, words, flagged)
