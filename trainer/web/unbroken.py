"""Lengths that stay on one line: a browser would break 46-3/8 in after the stroke, and it would read as two numbers."""

from __future__ import annotations

import re

from markupsafe import Markup, escape

__all__ = ["unbroken"]

#: Of a bounded length: what somebody typed may be a line full of digits, and that has to break.
NUMBER = r"\d{1,6}(?:\.\d{1,6})?(?:-\d{1,4}/\d{1,4}|/\d{1,4})?"
MIXED = r"\d{1,6}-\d{1,4}/\d{1,4}"
UNIT = r"(?:in|ft|mm|cm|m)\b"
TAG_OR_LENGTH = re.compile(rf"(<[^>]*>)|{NUMBER} {UNIT}(?: {NUMBER} {UNIT})?|{MIXED}")


def unbroken(text: str) -> Markup:
    """
    A text, or clean HTML marked as such, with each length in it kept together.

    Args:
        text: Plain text is escaped; Markup is taken as it is.

    >>> unbroken("Mark at 46-3/8 in & go on")
    Markup('Mark at <span class="whole">46-3/8 in</span> &amp; go on')
    >>> unbroken(Markup('<a title="3 ft 4-1/2 in">3 ft 4-1/2 in</a>'))
    Markup('<a title="3 ft 4-1/2 in"><span class="whole">3 ft 4-1/2 in</span></a>')
    """
    kept = TAG_OR_LENGTH.sub(lambda match: match[1] or f'<span class="whole">{match[0]}</span>', str(escape(text)))
    return Markup(kept)  # noqa: S704 - escaped above, or clean before.
