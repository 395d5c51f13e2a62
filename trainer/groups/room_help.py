"""Whom the leader of work in the room goes to first, and why: for his own screen."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime, timedelta

from msgspec import Struct

from trainer.calc.message import Message
from trainer.groups.lines import WorkLine
from trainer.groups.tally import Learner
from trainer.groups.tries import Given, Tried
from trainer.problems.model import VerdictKind
from trainer.progress.called import called
from trainer.progress.effect import TELLS_NOTHING

__all__ = ["NOT_WRONG", "Helped", "helped"]

STUCK_AFTER = timedelta(minutes=5)
"""A question that was opened so long ago, and has no answer, is told to the leader."""
NOT_WRONG = frozenset({VerdictKind.RIGHT.value, *TELLS_NOTHING})
WRONG_FROM = 2
"""From so many first answers that are not right, and at least half of all, somebody is told to the leader."""


class Helped(Struct, frozen=True):
    """Somebody to go to, and why."""

    person: str
    display_name: str
    why: tuple[Message, ...]


def helped(
    members: Iterable[Learner],
    lines: Sequence[WorkLine],
    firsts: Mapping[tuple[int, int], Given],
    begun: Sequence[Tried],
    now: datetime,
) -> list[Helped]:
    """
    Whom to go to: those with the most wrong answers first.

    Args:
        members: Who learns in the group.
        lines: The questions.
        firsts: The answer that counts of each person and line.
        begun: What was opened in the room while it is open; nothing once it is ended.
        now: This moment.
    """
    found = []
    for member in members:
        own = {at: given for (person, at), given in firsts.items() if person == member.id}
        wrong = sum(given.verdict not in NOT_WRONG for given in own.values())
        why = list(_why(own, lines, wrong))
        if stuck := _stuck(member, own, begun, now):
            why.append(stuck)
        if why:
            found.append((wrong, Helped(member.public_id, member.display_name, tuple(why))))
    return [one for _, one in sorted(found, key=lambda pair: -pair[0])]


def _why(own: Mapping[int, Given], lines: Sequence[WorkLine], wrong: int) -> Iterable[Message]:
    if wrong >= WRONG_FROM and 2 * wrong >= len(own):
        yield Message("room.not-right", {"wrong": wrong, "answered": len(own)})
    family_at = {line.position: line.family for line in lines}
    made = Counter((mistake, called(mistake, family_at[at])) for at, given in own.items() for mistake in given.mistakes)
    for (_, words), times in made.most_common():
        if times >= WRONG_FROM:
            yield Message("room.twice", {"times": times, "mistake": words})


def _stuck(member: Learner, own: Mapping[int, Given], begun: Sequence[Tried], now: datetime) -> Message | None:
    """The question that was opened last, where that is long ago and it has no answer."""
    last = max((one for one in begun if one.person_id == member.id), key=lambda one: one.issued_at or now, default=None)
    if last is None or last.issued_at is None or last.position in own or now - last.issued_at < STUCK_AFTER:
        return None
    minutes = int((now - last.issued_at) / timedelta(minutes=1))
    return Message("room.stuck", {"nth": last.position, "minutes": minutes})
