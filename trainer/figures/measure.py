"""
How much room a text takes, and whether two texts collide: the drawings are laid out before any font is known.

All numbers are units of the drawing. Widths are those of a wide sans-serif face, so that a narrower one only leaves
more room.
"""

from __future__ import annotations

from functools import lru_cache

from msgspec import Struct

__all__ = ["FONT_SIZE", "LINE_HEIGHT", "Box", "text_box", "text_width", "wrap"]

#: Font size of every text in a drawing; also set in figures.css.
FONT_SIZE = 13.0
LINE_HEIGHT = 16.0

#: Width of a character in parts of the font size; what is not listed takes `_OTHER`.
_WIDTHS = {
    **dict.fromkeys("ijlI|'", 0.30),
    **dict.fromkeys(".,:; /\\", 0.35),
    **dict.fromkeys('frt()[]-"!J', 0.42),
    **dict.fromkeys("csxyzvk°–", 0.60),
    **dict.fromkeys("mwMWNOQDGHU%&@+=×→←", 0.86),
}
_WIDEST = {"m": 0.98, "W": 1.0, "%": 0.96, "@": 1.02, "—": 1.0}
_OTHER = 0.65
#: Classes whose texts are bold, and how much wider that makes them.
_BOLD = ("fig-heading", "fig-mark-text", "fig-wrong-text", "fig-place-leader-text")
_BOLDER = 1.11


class Box(Struct, frozen=True):
    """A rectangle that a text fills; y grows downward."""

    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: Box) -> bool:
        """Whether the two share more than an edge."""
        across = self.left < other.right and other.left < self.right
        return across and self.top < other.bottom and other.top < self.bottom


@lru_cache(maxsize=8192)
def text_width(words: str, name: str = "") -> float:
    """
    Width that a line of text of class `name` may take; cached, because a layout asks for each text many times.

    >>> text_width("8-1/2 in") < text_width("12-15/16 in")
    True
    """
    wider = _BOLDER if any(bold in name for bold in _BOLD) else 1.0
    return wider * FONT_SIZE * sum(_WIDEST.get(letter, _WIDTHS.get(letter, _OTHER)) for letter in words)


def text_box(x: float, y: float, words: str, anchor: str = "start", name: str = "") -> Box:
    """Room of a line of text of class `name` on the base line `y`, whose start, middle or end lies at `x`."""
    width = text_width(words, name)
    left = {"start": x, "middle": x - width / 2, "end": x - width}[anchor]
    return Box(left, y - 0.8 * FONT_SIZE, left + width, y + 0.25 * FONT_SIZE)


def wrap(words: str, width: float, name: str = "") -> list[str]:
    """
    Lines of class `name` no wider than `width`, broken at spaces; a single word that is wider stands alone.

    >>> wrap("hook toward the obstacle", 110)
    ['hook toward', 'the obstacle']
    """
    lines: list[str] = []
    for word in words.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(longer, name) <= width:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines
