"""The learner's pages: what to do today, lessons, practice, the problem itself, assigned work, the record."""

from __future__ import annotations

from trainer.web.pages.learn import (
    claims,
    findings,
    jobs,
    lessons,
    placement,
    practice,
    problem,
    proof,
    record,
    sheet,
    taken_out,
    today,
    work,
)
from trainer.web.pages.learn.blueprint import blueprint

__all__ = [
    "blueprint",
    "claims",
    "findings",
    "jobs",
    "lessons",
    "placement",
    "practice",
    "problem",
    "proof",
    "record",
    "sheet",
    "taken_out",
    "today",
    "work",
]
