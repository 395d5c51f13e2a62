"""
Bench night: a class or crew at the benches, one phone that goes from one to the next.

What is open, what was signed today, how many sticks the open pieces take, and which misses came up how often.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, time
from zoneinfo import ZoneInfo

from msgspec import Struct
from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.accounts.access import GroupRef, group_led_by
from trainer.accounts.actor import Actor
from trainer.calc.cut_plan import cut_plan
from trainer.calc.tables import table
from trainer.problems.hands_on import KINDS
from trainer.progress.hands_on import Check, checks_where, tally
from trainer.records.models import HandsOnCheck, Membership, Person

__all__ = ["BenchNight", "Sticks", "bench_night", "sticks_for"]

_STICK: float = table("cutting")["stick"]["length"]


class Sticks(Struct, frozen=True):
    """New sticks that the open checks of one trade size take, and what is cut from each [in], the longest piece first."""

    trade_size: str
    count: int
    cuts: tuple[tuple[float, ...], ...]


class BenchNight(Struct, frozen=True):
    """
    The list of an evening.

    Args:
        group: The class or crew.
        members: Public id and name of each learner, by name.
        open: Checks that nobody has signed, by name of the learner.
        today: Checks that were signed today, by name of the learner.
        before: Those that were signed before, the newest first.
        sticks: What the open checks take.
        misses: Of those signed today: title of the kind, what was missed, in how many of how many.
    """

    group: GroupRef
    members: tuple[tuple[str, str], ...]
    open: tuple[Check, ...]
    today: tuple[Check, ...]
    before: tuple[Check, ...]
    sticks: tuple[Sticks, ...]
    misses: tuple[tuple[str, str, int, int], ...]


def bench_night(session: Session, actor: Actor, group_public_id: str, now: datetime) -> BenchNight:
    """
    The list, for who leads the group.

    Raises:
        NotFoundError: When the group is not his to know of.
        NotAllowedError: When he does not lead it.
    """
    group = group_led_by(session, actor, group_public_id)
    found = checks_where(session, HandsOnCheck.group_id == group.id, HandsOnCheck.dropped_at.is_(None))
    midnight = _midnight(now, group.organisation.time_zone)
    by_name = sorted(found, key=lambda one: (one.display_name, one.issued_at))
    open_ = tuple(one for one in by_name if one.state == "open")
    today = tuple(one for one in by_name if one.signings and one.signings[0].signed_at >= midnight)
    before = tuple(one for one in found if one.signings and one.signings[0].signed_at < midnight)
    return BenchNight(group, _members(session, group.id), open_, today, before, sticks_for(open_), tuple(tally(today)))


def sticks_for(checks: Sequence[Check]) -> tuple[Sticks, ...]:
    """
    New sticks for these checks, by trade size in the order of the sizes; the core's cut plan counts them.

    A piece that is longer than a stick is made of whole sticks and one piece.
    """
    pieces: dict[str, list[float]] = {}
    for one in checks:
        for piece in one.sheet.pieces:
            whole, rest = divmod(piece, _STICK)
            pieces.setdefault(one.sheet.trade_size, []).extend([_STICK] * int(whole) + ([rest] if rest else []))
    sizes = [size for size in _sizes() if size in pieces]
    return tuple(_sticks(size, pieces[size]) for size in sizes)


def _sticks(size: str, pieces: Sequence[float]) -> Sticks:
    plan = cut_plan(tuple(pieces))
    return Sticks(size, plan.sticks, tuple(one.pieces for one in plan.cuts))


def _sizes() -> tuple[str, ...]:
    return tuple(dict.fromkeys(size for kind in KINDS.values() for size in kind.sizes))


def _midnight(now: datetime, zone: str) -> datetime:
    here = now.astimezone(ZoneInfo(zone))
    return datetime.combine(here.date(), time(), here.tzinfo)


def _members(session: Session, group_id: int) -> tuple[tuple[str, str], ...]:
    query = (
        select(Person.public_id, Person.display_name)
        .join(Membership, Membership.person_id == Person.id)
        .where(Membership.group_id == group_id, Membership.role == "learner", Membership.ended_at.is_(None))
        .order_by(Person.display_name, Person.id)
    )
    return tuple((public_id, name) for public_id, name in session.execute(query))
