"""Trials of many families, by several processes where that is asked."""

from __future__ import annotations

import multiprocessing
from collections.abc import Sequence

from trainer.problems.errors import ContentError
from trainer.problems.family import Family
from trainer.problems.trial import trial

__all__ = ["trials"]

#: What the processes find in their memory: families hold compiled code, which cannot be sent to a process.
_tried: Sequence[Family] = ()

Finding = tuple[str, int, str, str, str]


def trials(families: Sequence[Family], draws: int, *, workers: int = 1) -> list[list[ContentError]]:
    """
    What is wrong with each family, in their order (`trainer.problems.trial`).

    Args:
        families: The families.
        draws: How many problems to draw of each.
        workers: Processes that share the families; where the system cannot copy a process, one after the other.
    """
    if workers == 1 or "fork" not in multiprocessing.get_all_start_methods():
        return [trial(family, draws) for family in families]
    global _tried  # noqa: PLW0603 - taken over by the processes that are forked next, and by nobody else
    _tried = families
    try:
        with multiprocessing.get_context("fork").Pool(workers) as pool:
            found = pool.starmap(_findings, [(place, draws) for place in range(len(families))], chunksize=1)
    finally:
        _tried = ()
    return [[ContentError(*finding) for finding in findings] for findings in found]


def _findings(place: int, draws: int) -> list[Finding]:
    """The findings of one family in what can be sent back."""
    return [(one.file, one.line, one.key, one.given, one.accepted) for one in trial(_tried[place], draws)]
