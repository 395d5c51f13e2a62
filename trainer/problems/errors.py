"""What can be wrong with a question file, and with a draw from it."""

from __future__ import annotations

from collections.abc import Iterable

__all__ = ["ContentError", "DrawError"]


class ContentError(ValueError):
    """
    A content file cannot be used as it stands.

    Attributes:
        file: Name of the file, as it was given to the reader.
        line: Line of the key, from 1.
        key: Dotted path of the key, "draw.depth.step"; "" for the file as a whole.
        given: What stands there.
        accepted: What may stand there instead.
        also: Further errors, so that one reading shows all of them.
    """

    def __init__(
        self, file: str, line: int, key: str, given: str, accepted: str, *, also: tuple[ContentError, ...] = ()
    ) -> None:
        super().__init__(f"{file}:{line}: {key}: given {given}; accepted: {accepted}")
        self.file = file
        self.line = line
        self.key = key
        self.given = given
        self.accepted = accepted
        self.also = also

    @classmethod
    def of(cls, errors: Iterable[ContentError]) -> ContentError:
        """The first of several errors, by file and line, with the others in `also`; there must be one at least."""
        first, *others = sorted(errors, key=lambda error: (error.file, error.line))
        return cls(first.file, first.line, first.key, first.given, first.accepted, also=tuple(others))

    @property
    def every(self) -> tuple[ContentError, ...]:
        """Itself and the further ones, in the order of their lines."""
        return (self, *self.also)


class DrawError(ValueError):
    """
    A family's numbers found no fit: its file asks for too much. An error of the family, not of the learner.

    Attributes:
        family_id: Which family.
        seed: With which seed.
        reasons: How many tries each reason threw out, most frequent first.
    """

    def __init__(self, family_id: str, seed: int, reasons: dict[str, int]) -> None:
        told = "; ".join(f"{reason} ({count})" for reason, count in reasons.items())
        super().__init__(f"{family_id}: no fit in {sum(reasons.values())} tries with seed {seed}: {told}")
        self.family_id = family_id
        self.seed = seed
        self.reasons = reasons
