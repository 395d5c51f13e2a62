"""What every drawing must be, whatever it shows."""

from __future__ import annotations

import re
from functools import partial
from itertools import combinations
from xml.etree import ElementTree as ET

import pytest

from trainer.figures.measure import Box, text_box
from trainer.text.words import say

SVG = "{http://www.w3.org/2000/svg}"


class Sheet:
    """A drawing read back from its text."""

    def __init__(self, svg):
        self.svg = svg
        self.root = ET.fromstring(svg)  # noqa: S314 - our own drawing
        _, self.top, self.width, self.height = map(float, self.root.get("viewBox").split())

    def all(self, tag, name=""):
        return [part for part in self.root.iter(f"{SVG}{tag}") if name in part.get("class", "").split() or not name]

    @property
    def texts(self):
        return [text.text for text in self.all("text")]

    @property
    def boxes(self):
        return [
            (text_box(float(t.get("x")), float(t.get("y")), t.text, t.get("text-anchor"), t.get("class")), t.text)
            for t in self.all("text")
        ]

    def at(self, kind):
        """Position and x of everything drawn at a noted position."""
        found = []
        for group in self.all("g", "fig-at"):
            if group.get("data-kind") == kind:
                first = group[0]
                x = first.get("x1") if first.tag == f"{SVG}line" else float(first.get("x"))
                width = 0.0 if first.tag == f"{SVG}line" else float(first.get("width"))
                found.append((float(group.get("data-position")), float(x), width))
        return found

    def points(self, name):
        """Corners and ends of arcs of the first path of this class."""
        return list(ends_of(self.all("path", name)[0].get("d")))

    def numbers(self):
        """Every point that is drawn, texts aside."""
        for line in self.all("line"):
            yield from (
                (float(line.get("x1")), float(line.get("y1"))),
                (float(line.get("x2")), float(line.get("y2"))),
            )
        for rect in self.all("rect"):
            x, y = float(rect.get("x")), float(rect.get("y"))
            width, height = float(rect.get("width")), float(rect.get("height"))
            assert width >= 0
            assert height >= 0
            yield from ((x, y), (x + width, y + height))
        for circle in self.all("circle"):
            yield float(circle.get("cx")), float(circle.get("cy"))
        for path in self.all("path"):
            yield from ends_of(path.get("d"))


def ends_of(data):
    """The end points of a path's steps."""
    for letter, numbers in re.findall(r"([A-Za-z])([^A-Za-z]*)", data):
        values = [float(number) for number in re.findall(r"-?\d+(?:\.\d+)?", numbers)]
        if values:
            assert letter in "MLAQTC"
            yield values[-2], values[-1]


def assert_sound(svg):
    """Well-formed, named, inside its frame, no text on another, no colours or styles of its own."""
    sheet = Sheet(svg)
    assert sheet.root.tag == f"{SVG}svg"
    assert sheet.root.get("role") == "img"
    ids = [part.get("id") for part in sheet.root.iter() if part.get("id")]
    assert len(ids) == len(set(ids)) == 2
    assert sheet.root.get("aria-labelledby") == sheet.all("title")[0].get("id")
    assert sheet.root.get("aria-describedby") == sheet.all("desc")[0].get("id")
    assert all(part.text.strip() for part in (*sheet.all("title"), *sheet.all("desc"), *sheet.all("text")))
    for part in sheet.root.iter():
        assert not {"style", "fill", "stroke", "onload"} & set(part.keys()), part.attrib
    assert float(sheet.root.get("font-size")) >= 12
    frame = Box(0, sheet.top, sheet.width, sheet.top + sheet.height)
    for x, y in sheet.numbers():
        assert frame.left - 0.5 <= x <= frame.right + 0.5, (x, y)
        assert frame.top - 0.5 <= y <= frame.bottom + 0.5, (x, y)
    for box, text in sheet.boxes:
        assert box.left >= 0, text
        assert box.right <= frame.right, text
        assert box.top >= frame.top, text
        assert box.bottom <= frame.bottom, text
    for (one, first), (other, second) in combinations(sheet.boxes, 2):
        assert not one.meets(other), (first, second)
    return sheet


@pytest.fixture(scope="session")
def sound():
    return assert_sound


@pytest.fixture(scope="session")
def in_english():
    return partial(say, language="en")
