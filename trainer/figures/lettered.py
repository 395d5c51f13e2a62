"""Letters in a drawing that name what can be chosen below it, each a link to its box or button where there is one."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct, field

__all__ = ["PLAIN", "Lettered"]


class Lettered(Struct, frozen=True):
    """
    The letters of one drawing.

    Args:
        letters: Letter by the name of the place that it stands at; empty where the drawing letters itself.
        links: Where a letter leads on the page, by letter; empty where nothing is to be chosen any more.
    """

    letters: Mapping[str, str] = field(default_factory=dict)
    links: Mapping[str, str] = field(default_factory=dict)

    def link(self, letter: str) -> str:
        """Where a letter leads, "" for nowhere."""
        return self.links.get(letter, "")

    def at(self, place: str) -> str:
        """Where the letter at a place leads, "" for nowhere."""
        return self.link(self.letters.get(place, ""))


#: No letters and no links.
PLAIN = Lettered()
