"""Job types of our own, ready to be copied by an owner and edited."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import cache
from pathlib import Path

from msgspec import Struct

from trainer.progress.points import Line

__all__ = ["JobTypeText", "ready_made"]


class JobTypeText(Struct, frozen=True):
    """
    A job type as it is written down or typed.

    Args:
        name: What it is called.
        about: What is done on it; may be empty.
        supervision: The supervision that it needs, in a sentence.
        watched: Whether only watched proof runs count.
        valid_days: How long a run or a check counts [days]; None where only fading ends it.
        trade_sizes: Trade sizes that are used on it.
        skills: The skills that it needs, with the line of each.
        checks: Kinds of hands-on checks, each wanted in every trade size.
        registration: The card that must be entered and in date: "registration", "licence", or "" for none. No ready-made
            one asks for any: which are needed differs by state.
    """

    name: str
    about: str
    supervision: str
    watched: bool
    valid_days: int | None
    trade_sizes: tuple[str, ...]
    skills: Mapping[str, Line]
    checks: tuple[str, ...]
    registration: str = ""


@cache
def ready_made() -> Mapping[str, JobTypeText]:
    """The ready-made ones by id, in the order in which people come to them."""
    rows = tomllib.loads(Path(__file__).with_name("ready_made.toml").read_text("utf-8"))["job_type"]
    return {
        row["id"]: JobTypeText(
            name=row["name"],
            about=row["about"],
            supervision=row["supervision"],
            watched=row["watched"],
            valid_days=row["valid_days"],
            trade_sizes=tuple(row["trade_sizes"]),
            skills={skill: Line(line) for skill, line in row["skills"].items()},
            checks=tuple(row["checks"]),
        )
        for row in rows
    }
