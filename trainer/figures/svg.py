"""
A drawing as Scalable Vector Graphics: parts with classes, a title and a description, nothing else.

Colours, line widths and dashes stand in figures.css under the classes used here, so that a drawing follows the page
into dark mode and onto paper. The drawing is 360 units wide, about the width of a phone's column; y grows downward.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Sequence
from html import escape

from trainer.figures.measure import FONT_SIZE, LINE_HEIGHT, Box, text_box, wrap

__all__ = ["MARGIN", "WIDTH", "Drawing", "Point", "polyline", "units"]

WIDTH = 360.0
MARGIN = 12.0
#: Height of what a finger is to hit.
_FINGER = 27.0

Point = tuple[float, float]


def units(value: float) -> str:
    """
    A number of the drawing, to the hundredth and without needless digits.

    >>> units(12.5), units(-0.0001), units(300)
    ('12.5', '0', '300')
    """
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def polyline(points: Iterable[Point], *, closed: bool = False) -> str:
    """Path data of straight lines from point to point."""
    steps = " L ".join(f"{units(x)} {units(y)}" for x, y in points)
    return f"M {steps} Z" if closed else f"M {steps}"


class Drawing:
    """
    The parts of one figure in the order in which they are painted, and the room that its texts take.

    Attributes:
        boxes: Where texts stand; a layout asks `is_free` before it adds one.
    """

    def __init__(self) -> None:
        self._shapes: list[str] = []
        self._texts: list[str] = []
        self._links = 0
        self.boxes: list[Box] = []

    def line(self, start: Point, end: Point, name: str) -> None:
        """A straight line of class `name`."""
        self._shapes.append(
            f'<line class="{name}" x1="{units(start[0])}" y1="{units(start[1])}" '
            f'x2="{units(end[0])}" y2="{units(end[1])}"/>'
        )

    def path(self, data: str, name: str) -> None:
        """A path of class `name` from its path data."""
        self._shapes.append(f'<path class="{name}" d="{data}"/>')

    def shape(self, points: Sequence[Point], name: str) -> None:
        """A closed polygon of class `name`."""
        self.path(polyline(points, closed=True), name)

    def rectangle(self, corner: Point, width: float, height: float, name: str) -> None:
        """A rectangle of class `name` from its upper left corner."""
        self._shapes.append(
            f'<rect class="{name}" x="{units(corner[0])}" y="{units(corner[1])}" '
            f'width="{units(width)}" height="{units(height)}"/>'
        )

    def circle(self, centre: Point, radius: float, name: str) -> None:
        """A circle of class `name`."""
        self._shapes.append(
            f'<circle class="{name}" cx="{units(centre[0])}" cy="{units(centre[1])}" r="{units(radius)}"/>'
        )

    def open_group(self, name: str, **data: float | str) -> None:
        """Begin a group whose `data-` attributes say what is drawn; `close_group` ends it."""
        notes = "".join(
            f' data-{key.replace("_", "-")}="{escape(value if isinstance(value, str) else f"{value:.6g}")}"'
            for key, value in data.items()
        )
        self._shapes.append(f'<g class="{name}"{notes}>')

    def close_group(self) -> None:
        """End the group that `open_group` began."""
        self._shapes.append("</g>")

    def text(self, at: Point, words: str, name: str = "fig-text", anchor: str = "start") -> Box:
        """
        A line of text on the base line through `at`.

        Texts are painted after all lines and carry a halo of the paper's colour, so that a line never strikes one out.

        Returns:
            The room that it takes.
        """
        self._texts.append(
            f'<text class="{name}" x="{units(at[0])}" y="{units(at[1])}" text-anchor="{anchor}">{escape(words)}</text>'
        )
        box = text_box(*at, words, anchor, name)
        self.boxes.append(box)
        return box

    def link(self, at: Point, words: str, href: str, name: str = "fig-text", anchor: str = "start") -> Box:
        """A line of text that leads elsewhere on the page, with room for a finger; plain text where `href` is ""."""
        box = self.text(at, words, name, anchor)
        if href:
            self._links += 1
            middle, half = (box.top + box.bottom) / 2, _FINGER / 2
            left, width = min(box.left, (box.left + box.right - _FINGER) / 2), max(box.right - box.left, _FINGER)
            room = (
                f'<rect class="fig-hit" x="{units(left)}" y="{units(middle - half)}" '
                f'width="{units(width)}" height="{units(_FINGER)}"/>'
            )
            self._texts[-1] = f'<a href="{escape(href)}">{room}{self._texts[-1]}</a>'
        return box

    def paragraph(self, top: float, words: str, name: str = "fig-text") -> float:
        """Lines of text over the whole width from `top` down; returns where they end."""
        for words_of_line in wrap(words, WIDTH - 2 * MARGIN, name):
            self.text((MARGIN, top + FONT_SIZE), words_of_line, name)
            top += LINE_HEIGHT
        return top + 4

    @property
    def highest(self) -> float:
        """Upper end of the highest text, 0 when there is none."""
        return min((box.top for box in self.boxes), default=0.0)

    @property
    def lowest(self) -> float:
        """Lower end of the lowest text, 0 when there is none."""
        return max((box.bottom for box in self.boxes), default=0.0)

    def is_free(self, box: Box) -> bool:
        """Whether a text in this room would stay inside the drawing's width and touch no other."""
        inside = box.left >= 2 and box.right <= WIDTH - 2
        return inside and not any(box.meets(other) for other in self.boxes)

    def finish(self, top: float, bottom: float, title: str, description: str, key: str = "") -> str:
        """
        The whole figure as one `<svg>` element.

        Args:
            top: Upper end of the drawing; it may lie above 0, where labels have grown upward.
            bottom: Lower end of the drawing; its width is `WIDTH`.
            title: Name of the figure, read out first.
            description: What it shows, in a sentence with the numbers.
            key: Tells apart two equal figures on one page, whose ids would otherwise be equal.
        """
        inner = "".join(self._shapes) + "".join(self._texts)
        told = f"{key}|{title}|{description}|{inner}"
        role = "group" if self._links else "img"  # An image has no links in it.
        name = "fig-" + hashlib.sha256(told.encode()).hexdigest()[:12]
        return (
            f'<svg class="fig" xmlns="http://www.w3.org/2000/svg" viewBox="0 {units(top)} {units(WIDTH)} {units(bottom - top)}" '
            f'font-size="{units(FONT_SIZE)}" role="{role}" aria-labelledby="{name}-title" aria-describedby="{name}-desc">'
            f'<title id="{name}-title">{escape(title)}</title><desc id="{name}-desc">{escape(description)}</desc>'
            f"{inner}</svg>"
        )
