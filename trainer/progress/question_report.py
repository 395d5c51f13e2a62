"""
What first answers say about a question itself, each in one sentence: whether its key may be wrong, whether it is harder
than thought, whether it tells people apart, which wrong answers nobody can explain.

Only first tries without a hint, outside of lessons, count. Below its least number of answers each statistic gives its
count and no judgement.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterator, Mapping

from msgspec import Struct

from trainer.calc.message import Message, Quantity
from trainer.problems.parts import Family
from trainer.progress.called import called
from trainer.progress.question_counts import AT, BILLION, CHOSEN, TIMES, Count, Counts, Part
from trainer.progress.statistics import correlation_of_sums, fisher_upper, fit_z, spread_p, wilson

__all__ = ["LEAST", "Said", "judged"]

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
NONE = Count(0)

#: What is said while there are too few, of the statistics that do not count every answer.
TOO_FEW = {"unexplained": "report.too-few-wrong", "ranges": "report.too-few-ranges"}


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


def judged(family: Family, counts: Counts, *, alarmed: bool) -> list[Said]:
    """
    Every statistic of a question, in the order in which they are to be read.

    Args:
        family: The question.
        counts: What is counted of its answers.
        alarmed: Whether the running alarm of its key was raised.
    """
    answered = counts.get(Part("answered"), NONE)
    return [
        _alarm(answered, alarmed=alarmed),
        _fit(answered, counts),
        _share(answered),
        _tells_apart(answered, counts),
        _unexplained(counts),
        _unused(family, answered, counts),
        _ranges(counts),
    ]


def _alarm(answered: Count, *, alarmed: bool) -> Said:
    if alarmed:
        return Said("alarm", answered.counted, LEAST["alarm"], Message("report.alarm"), flagged=True)
    return _said("alarm", answered.counted, Message("report.alarm-none"))


def _fit(answered: Count, counts: Counts) -> Said:
    expected, spread = (_sum(counts, name).counted / BILLION for name in ("expected", "spread"))
    z = fit_z(answered.hits, expected, spread)
    params = {
        "right": answered.hits,
        "expected": round(expected),
        "answers": Quantity(answered.counted, "answers"),
    }
    words = "report.harder" if z < -ODD_FIT else "report.easier" if z > ODD_FIT else "report.fits"
    return _said("fit", answered.counted, Message(words, params), flagged=abs(z) > ODD_FIT)


def _share(answered: Count) -> Said:
    of, right = answered
    low, high = wilson(right, of) if of else (0.0, 1.0)
    params = {"right": right, "of": of, "low": round(100 * low), "high": round(100 * high)}
    share = right / of if of else HARD
    words = "report.share-low" if share < HARD else "report.share-high" if share > EASY else "report.share"
    return _said("share", of, Message(words, params), flagged=share < HARD or share > EASY)


def _tells_apart(answered: Count, counts: Counts) -> Said:
    of, right = answered
    if of < LEAST["tells-apart"]:
        return _said("tells-apart", of, Message("report.apart"))
    level, square = _sum(counts, "level"), _sum(counts, "square")
    # Right is 1 and not right is 0, so the sum of its squares is its sum, and that of the products the levels of the right.
    correlated = correlation_of_sums(
        of, (right, right), (level.counted / BILLION, square.counted / BILLION), level.hits / BILLION
    )
    upper = fisher_upper(correlated, of)
    words = "report.apart-reversed" if upper < 0 else "report.apart-weak" if upper < WEAK else "report.apart"
    return _said("tells-apart", of, Message(words), flagged=upper < WEAK)


def _sum(counts: Counts, name: str) -> Count:
    return counts.get(Part("sum", name), NONE)


def _unexplained(counts: Counts) -> Said:
    wrong = counts.get(Part("wrong"), NONE).counted
    people, route = 0, Part("route")
    for part, count in sorted(_of(counts, "route")):
        if count.counted > people:
            people, route = count.counted, part
    if not (people >= SAME_PEOPLE and people >= SAME_SHARE * wrong):
        return _said("unexplained", wrong, Message("report.explained"))
    params = {"people": people, "wrong": wrong, "route": _in_words(route)}
    return _said("unexplained", wrong, Message("report.unexplained", params), flagged=True)


def _in_words(route: Part) -> Message:
    """What those did who went one way to a wrong answer."""
    if route.name == CHOSEN:
        return Message("report.route-chosen", {"chosen": route.value.replace("-", " ")})
    value = float(route.value)
    if route.name == AT:
        return Message("report.route-value", {"value": _short(value)})
    if route.name == TIMES:
        return Message("report.route-times", {"times": _short(value)})
    return Message("report.route-more" if value > 0 else "report.route-less", {"by": _short(abs(value))})


def _short(value: float) -> str:
    """A number with two decimals at the most."""
    return f"{value:.2f}".rstrip("0").rstrip(".")


def _unused(family: Family, answered: Count, counts: Counts) -> Said:
    names = dict.fromkeys(mistake.id for mistake in family.mistakes)
    seldom = UNUSED * answered.counted
    idle = [called(name, family) for name in names if counts.get(Part("mistake", name), NONE).counted < seldom]
    # A wrong choice that was offered often enough, and that hardly anybody takes, tests nothing.
    idle += [
        part.name.replace("-", " ")
        for part, (offered, taken) in sorted(_of(counts, "choice"))
        if offered >= LEAST["unused"] and taken < UNUSED * offered
    ]
    words = Message("report.unused", {"mistakes": "; ".join(idle)}) if idle else Message("report.used")
    return _said("unused", answered.counted, words, flagged=bool(idle))


def _ranges(counts: Counts) -> Said:
    """Each drawn number in two halves, each drawn word for itself; the one whose parts differ the most."""
    best: tuple[float, str, list[tuple[str, Count]]] | None = None
    for name, drawn in sorted(_drawn(counts).items()):
        parts = [(label, count) for label, count in drawn if count.counted >= LEAST["ranges"]]
        if len(parts) > 1:
            p = spread_p([(count.hits, count.counted) for _, count in parts])
            best = min(best or (2.0, "", []), (p, name, parts), key=lambda entry: entry[0])
    if best is None:
        return _said("ranges", 0, Message("report.ranges-alike"))
    p, name, parts = best
    least = min(count.counted for _, count in parts)
    if p >= BY_LUCK:
        return _said("ranges", least, Message("report.ranges-alike"))
    label, hardest = min(parts, key=lambda part: part[1].hits / part[1].counted)
    params = {"name": name.replace("_", " "), "part": label, "right": hardest.hits, "of": hardest.counted}
    return _said("ranges", least, Message("report.ranges-differ", params), flagged=True)


def _drawn(counts: Counts) -> dict[str, list[tuple[str, Count]]]:
    """What was drawn under each name, in parts; where numbers were, only those."""
    words, numbers = defaultdict(list), defaultdict(list)
    for part, count in sorted(_of(counts, "word")):
        words[part.name].append((part.value, count))
    for part, count in _of(counts, "number"):
        numbers[part.name].append((float(part.value), count))
    return words | {name: _halves(values) for name, values in numbers.items()}


def _halves(values: Collection[tuple[float, Count]]) -> list[tuple[str, Count]]:
    """Those below the middle one of all answers, and the rest."""
    place, middle = sum(count.counted for _, count in values) // 2, 0.0
    for value, count in sorted(values):
        middle, place = value, place - count.counted
        if place < 0:
            break
    below = [count for value, count in values if value < middle]
    rest = [count for value, count in values if value >= middle]
    labels = f"below {_short(middle)}", f"from {_short(middle)} on"
    return [
        (label, Count(sum(count.counted for count in half), sum(count.hits for count in half)))
        for label, half in zip(labels, (below, rest), strict=True)
    ]


def _of(counts: Counts, what: str) -> Iterator[tuple[Part, Count]]:
    return ((part, count) for part, count in counts.items() if part.what == what)


def _said(what: str, count: int, words: Message, *, flagged: bool = False) -> Said:
    least = LEAST[what]
    if count < least:
        params = {"answers": Quantity(count, "answers"), "count": count, "least": least}
        return Said(what, count, least, Message(TOO_FEW.get(what, "report.too-few"), params))
    return Said(what, count, least, words, flagged)
