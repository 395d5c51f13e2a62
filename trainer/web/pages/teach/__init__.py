"""The leaders' pages: the desk, a class or crew, its people, giving work, and what came of it."""

from __future__ import annotations

from trainer.web.pages.teach import (
    at_desk,
    finding_photos,
    findings,
    giving,
    group,
    groups,
    keys,
    marks,
    more_time,
    people,
    questions,
    results,
    room,
    roster,
    sample,
    sets,
    sheets,
    terms,
    trying,
    watching,
)
from trainer.web.pages.teach.blueprint import blueprint

__all__ = [
    "at_desk",
    "blueprint",
    "finding_photos",
    "findings",
    "giving",
    "group",
    "groups",
    "keys",
    "marks",
    "more_time",
    "people",
    "questions",
    "results",
    "room",
    "roster",
    "sample",
    "sets",
    "sheets",
    "terms",
    "trying",
    "watching",
]
