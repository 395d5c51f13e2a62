"""How many problems of which family are asked: as a list that is given, or kept as a set."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from msgspec import Struct

from trainer.calc.message import InputError, Message
from trainer.library.shelf import Library
from trainer.problems.family import Family
from trainer.problems.job import Job

__all__ = ["MOST_LINES", "MOST_OF_ONE", "FamilyCount", "check_counts", "lines_for"]

MOST_OF_ONE = 10
MOST_LINES = 60


class FamilyCount(Struct, frozen=True):
    """How many problems of a family are asked, or how many runs of a job, by the job's id."""

    family_id: str
    count: int = 1


def check_counts(library: Library, families: Sequence[FamilyCount]) -> None:
    """
    See to it that these can be given.

    Args:
        library: The content, with the local rules of the school or shop.
        families: What is asked.

    Raises:
        InputError: With `field` "families": no such question, too many of one, none or too many in all.
    """
    for asked in families:
        if asked.family_id not in library.givable:
            raise _refused("groups.family", asked.family_id, "groups.family-accepted", "offset-spacing")
        if not 1 <= asked.count <= MOST_OF_ONE:
            raise _refused("groups.count", str(asked.count), "groups.count-accepted", "3")
    number = len(lines_for(library, families))
    if not 1 <= number <= MOST_LINES:
        raise _refused("groups.lines", str(number), "groups.lines-accepted", "10")


def lines_for(library: Library, families: Iterable[FamilyCount]) -> list[str]:
    """The family of each line; a job takes as many as it has parts. What is no longer on the shelf takes none."""
    return [
        part
        for asked in families
        if asked.family_id in library.givable
        for _ in range(asked.count)
        for part in _parts(library.givable[asked.family_id])
    ]


def _parts(given: Family | Job) -> list[str]:
    """A family, or the parts of a job in their order, which take a line each."""
    return [given.id] if isinstance(given, Family) else [part.id for part in given.parts]


def _refused(reason: str, given: str, accepted: str, example: str) -> InputError:
    limits = {"most": MOST_OF_ONE, "lines": MOST_LINES}
    return InputError(
        Message(reason), given=given[:400], accepted=Message(accepted, limits), example=example, field="families"
    )
