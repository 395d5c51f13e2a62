"""
Signs that nobody sees and no text needs: controls, those that turn the direction of what stands beside them, and what is
no character at all. HTML allows the first and the last nowhere.
"""

from __future__ import annotations

import re

__all__ = ["hidden_sign", "without_hidden"]

_TURNING = "\u202a-\u202e\u2066-\u2069"
_NO_CHARACTERS = "\ud800-\udfff\ufdd0-\ufdef" + "".join(
    f"{chr(plane + 0xFFFE)}{chr(plane + 0xFFFF)}" for plane in range(0, 0x110000, 0x10000)
)
#: Ends of lines that some programs write, a soft one among them.
_BREAKS = re.compile("\r\n|[\r\x0b\x0c\x85\u2028\u2029]")
_BROKEN = "\x0b\x0c\x85\u2028\u2029"
_HIDDEN = re.compile(f"[\x00-\x08\x0e-\x1f\x7f-\x84\x86-\x9f{_TURNING}{_NO_CHARACTERS}]")
_AMISS = re.compile(f"{_HIDDEN.pattern[:-1]}{_BROKEN}]")


def without_hidden(text: str) -> str:
    r"""
    The text without such signs; whatever ends a line, ends it as `\n`.

    >>> without_hidden("back\x07 of\u202e bend\r\n12 in\x0b6 in")
    'back of bend\n12 in\n6 in'
    """
    return _HIDDEN.sub("", _BREAKS.sub("\n", text))


def hidden_sign(text: str) -> str:
    r"""
    How the first such sign of a text is called, an unusual end of a line among them; "" where there is none.

    >>> hidden_sign("3/4 \u202eEMT"), hidden_sign("one\r\ntwo")
    ('U+202E', '')
    """
    found = _AMISS.search(text)
    return f"U+{ord(found[0]):04X}" if found else ""
