"""
A drawing as it goes on paper: the styles of the pages put into it, since a PDF follows no style sheet.

The style sheets stay where they are and say it once; here their custom properties are worked out, which no reader of a
lone drawing does.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache
from html import unescape

__all__ = ["FONT", "for_print", "told_by"]

FONT = "Libertinus Serif"
"""The face of texts in a drawing: one that the typesetter carries, narrower than the room that drawings keep."""

_COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)
_RULE = re.compile(r"([^{}]+)\{([^{}]*)\}")
_PROPERTY = re.compile(r"(--[a-z-]+)\s*:\s*([^;]+);")
#: A use of a custom property that holds no other use of one.
_USE = re.compile(r"var\(\s*(--[a-z-]+)\s*(?:,\s*([^()]*))?\)")
#: Rules of these properties say how a drawing lies on a page of the site, or need a pointer or a keyboard.
_OF_PAGES = re.compile(
    r"(?:^|;)\s*(?:display|width|max-width|height|margin[a-z-]*|font-family|text-decoration)\s*:[^;]*"
)
_CLASSES = re.compile(r'\bclass="([^"]*)"')
_CLASS = re.compile(r"\.([\w-]+)")
_ROUNDS = 5


def for_print(svg: str, *sheets: str) -> str:
    """
    The drawing with the rules of its classes in it.

    Args:
        svg: A drawing of `trainer.figures`.
        sheets: Style sheets; where two set the same custom property, the last one holds.

    >>> sheet = ".fig { --edge: var(--ink, #111); } .fig .fig-tube { stroke: var(--edge); } :root { --ink: #000; }"
    >>> for_print('<svg class="fig"><path class="fig-tube"/></svg>', sheet)
    '<svg class="fig"><style>.fig { font-family: "Libertinus Serif"; } .fig .fig-tube { stroke: #000 }</style><path class="fig-tube"/></svg>'
    """
    head, end, rest = svg.partition(">")
    return f"{head}{end}<style>{_of_drawing(rest, sheets)}</style>{rest}"


def told_by(svg: str) -> str:
    """
    Title and description of a drawing: what it shows, in words.

    >>> told_by('<svg><title id="a">Offset</title><desc id="b">6 in &amp; 30°</desc></svg>')
    'Offset. 6 in & 30°'
    """
    found = [re.search(rf"<{tag}\b[^>]*>(.*?)</{tag}>", svg, re.DOTALL) for tag in ("title", "desc")]
    return unescape(". ".join(one[1] for one in found if one))


def _of_drawing(drawn: str, sheets: tuple[str, ...]) -> str:
    """The rules that hold for something in this drawing: each that it carries costs time on every page."""
    used = {name for names in _CLASSES.findall(drawn) for name in names.split()}
    own = [rule for wanted, rule in _rules(sheets) if any(one <= used for one in wanted)]
    return " ".join((f'.fig {{ font-family: "{FONT}"; }}', *own))


@lru_cache(maxsize=8)
def _rules(sheets: tuple[str, ...]) -> tuple[tuple[tuple[frozenset[str], ...], str], ...]:
    """
    The rules for drawings in style sheets, without custom properties; worked out once for hundreds of drawings.

    Each with the classes that its selectors want below the drawing itself.
    """
    plain = _COMMENT.sub("", "\n".join(sheets))
    known = dict(_PROPERTY.findall(plain))
    rules = []
    for selectors, body in _RULE.findall(plain):
        kept = _OF_PAGES.sub("", _PROPERTY.sub("", body)).strip(" ;\n")
        if ".fig" in selectors and ":" not in selectors and kept:
            wanted = tuple(frozenset(_CLASS.findall(one)) - {"fig"} for one in selectors.split(","))
            written = f"{' '.join(selectors.split())} {{ {' '.join(_worked_out(kept, known).split())} }}"
            rules.append((wanted, written))
    return tuple(rules)


def _worked_out(text: str, known: Mapping[str, str]) -> str:
    """A value without uses of custom properties; each round takes out the innermost ones."""
    for _ in range(_ROUNDS):
        text = _USE.sub(lambda use: known.get(use[1], use[2] or "none").strip(), text)
    return text
