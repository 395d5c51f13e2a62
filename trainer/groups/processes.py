"""
Work processes by which hours on the job are entered: an organisation's own list, or the ready-made one beside this file.

Which processes a registered program has, and about how many hours of each, its sponsor settles (29 CFR part 29). The
ready-made list is ours, asks for no hours, and is a start: common practice, no source.
"""

from __future__ import annotations

import tomllib
from collections.abc import Collection, Mapping
from functools import cache
from importlib.resources import files

from msgspec import Struct
from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.records.models import WorkProcess

__all__ = ["Process", "processes_of", "ready_made"]


class Process(Struct, frozen=True):
    """
    A work process.

    Args:
        key: What hours carry.
        title: What it is called.
        required_hours: Hours that the program asks for; None where it asks for no number.
        is_closed: Whether no more hours are entered on it.
    """

    key: str
    title: str
    required_hours: int | None = None
    is_closed: bool = False


@cache
def ready_made() -> tuple[Process, ...]:
    """The list that an organisation starts with, in the order in which work goes."""
    text = files("trainer.groups").joinpath("work_processes.toml").read_text(encoding="utf-8")
    return tuple(Process(one["id"], one["title"]) for one in tomllib.loads(text)["process"])


def processes_of(session: Session, organisations: Collection[int]) -> Mapping[int, tuple[Process, ...]]:
    """The list of each organisation by its key, closed ones too; one query. Who made none goes by the ready-made one."""
    query = select(WorkProcess).where(WorkProcess.organisation_id.in_(organisations)).order_by(WorkProcess.position)
    found: dict[int, list[Process]] = {}
    for row in session.scalars(query) if organisations else ():
        made = Process(row.key, row.title, row.required_hours, row.closed_at is not None)
        found.setdefault(row.organisation_id, []).append(made)
    return {one: tuple(found[one]) if one in found else ready_made() for one in organisations}
