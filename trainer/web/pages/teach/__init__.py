"""The leaders' pages: the desk, a class or crew, its people, giving work, and what came of it."""

from __future__ import annotations

from trainer.web.pages.teach import (
    finding_photos,
    findings,
    giving,
    group,
    groups,
    keys,
    people,
    results,
    room,
    sample,
    sheets,
    watching,
)
from trainer.web.pages.teach.blueprint import blueprint

__all__ = [
    "blueprint",
    "finding_photos",
    "findings",
    "giving",
    "group",
    "groups",
    "keys",
    "people",
    "results",
    "room",
    "sample",
    "sheets",
    "watching",
]
