"""
A job: one set of numbers, one scene, and several questions that hang together.

Each part of a job is a family of its own, with rules, words, mistakes and a skill of its own, so that everything that is
done with a family is done with a part. A part that knows its job says where it stands in it (`Family.job`).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from msgspec import Struct

from trainer.problems.parts import Family, Parameter

__all__ = ["Job", "Place"]


@dataclass(frozen=True, eq=False)
class Job:
    """
    A job: its file in parts.

    Args:
        id: Kebab-case, unique; the file's name. A part's id is this, a dot and the part's own: `garage-run.tube`.
        title: What it is about, in a few words.
        parameters: What is drawn, once for all parts.
        titles: Of the parts, without the job's.
        parts: In their order, each as a family that stands for itself.
        carries: Of each part: the names that it takes over, each with the place (from 0) of the part that it takes the
            answer of.
    """

    id: str
    title: str
    parameters: tuple[Parameter, ...]
    titles: tuple[str, ...]
    parts: tuple[Family, ...]
    carries: tuple[Mapping[str, int], ...]

    def __repr__(self) -> str:
        return f"Job({self.id!r})"

    @property
    def skill(self) -> str:
        """The skill of its first part: where it is listed."""
        return self.parts[0].skill

    @property
    def level(self) -> int:
        """Always 3."""
        return self.parts[0].level

    @property
    def later(self) -> bool:
        """Whether it is work of a later year."""
        return self.parts[0].later


class Place(Struct, frozen=True):
    """Where a part stands in its job; `at` counts from 0."""

    job: Job
    at: int

    @property
    def parts(self) -> tuple[Family, ...]:
        """All parts of the job, each knowing its place."""
        return tuple(replace(part, job=Place(self.job, at)) for at, part in enumerate(self.job.parts))

    @property
    def nth(self) -> int:
        """Which part it is, from 1."""
        return self.at + 1

    @property
    def title(self) -> str:
        """The part's own title."""
        return self.job.titles[self.at]

    @property
    def first(self) -> bool:
        """Whether the job begins with it."""
        return self.at == 0

    @property
    def last(self) -> bool:
        """Whether the job ends with it."""
        return self.nth == len(self.job.parts)
