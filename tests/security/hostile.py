"""What nobody means well with: strings for fields, and what must not come back."""

from __future__ import annotations

import html
import re
from urllib.parse import quote_plus

#: A tag and attributes that no page of ours has, so that one of them in an answer was let through.
TAG = "<zq9 onzq=1>"

STRINGS = (
    "",
    " ",
    f"<script>zq()</script>{TAG}",
    f'" onzq="1">{TAG}',
    f"' onzq='1'>{TAG}",
    f"</textarea></title></select>{TAG}",
    f"<svg onload=zq()>{TAG}",
    "javascript:zq()//",
    "[zq](javascript:zq()) ![zq](x) <!--",
    "]]>&amp;&#60;zq9&#62;&lt;",
    "{{ 7*7 }}{% raw %}${7*7}#{7*7}<%= 7*7 %>",
    "%s %(name)s %n %d {0} {name} {0.__class__}",
    "' OR '1'='1'; DROP TABLE person; --",
    "../../../../etc/passwd",
    "..\\..\\windows",
    "a\x00b",
    "\x01\x02\x07\x1b[31m\x7f\x85\u2028",
    "a\r\nSet-Cookie: zq=1\r\n\r\n",
    "\ud800",
    "\udfff\ud800",
    "\ufffe\uffff",
    "\u202egnp.exe\u202d\u2066",
    "\u200b\u200d\ufeff",
    "e\u0301" * 30,
    "\U0001f9f0\U0001f469\u200d\U0001f52c",
    "１２３",
    "٣٤",
    "²³¹⁄₂",
    "NaN",
    "Infinity",
    "-inf",
    "1e999",
    "-0",
    "-1",
    "0",
    "1/0",
    "0x10",
    "1_000",
    "9" * 30,
    "9" * 5000,
    "-9223372036854775809",
    "0000-00-00",
    "0001-01-01",
    "9999-12-31",
    "2026-02-30",
    "10000-01-01",
    "T" * 25,
    "=1+1",
    "on",
    "true",
    "null",
    "a" * 400,
    "a b " * 25_000,
)


def encoded(pairs):
    """A form's body as a browser sends it; halves of a pair go as the bytes that nobody else would send."""
    return "&".join(
        f"{quote_plus(name)}={quote_plus(value.encode('utf-8', 'surrogatepass'))}" for name, value in pairs
    ).encode()


#: Signs that HTML allows nowhere, and that turn the direction of the text around them.
HIDDEN = re.compile("[\x00-\x08\x0b\x0e-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069\ud800-\udfff\ufdd0-\ufdef\ufffe\uffff]")


def came_back(text, sent):
    """What of a string stands in a page as it was sent though it could do something there."""
    if found := HIDDEN.search(text):
        yield f"{found[0]!r}, which no page may hold"
    for mark in (
        "<zq9",
        'onzq="1',
        "onzq='1",
        "<script>zq",
        "<svg onload=zq",
        'href="javascript:zq',
    ):
        if mark in text:
            yield f"{mark!r} unescaped"
    if any(sign in sent for sign in "<>\"'") and len(sent) > 3 and sent in text:
        yield "unescaped"


def is_kept(text, sent):
    """Whether what was typed stands in the form again."""
    return html.escape(sent, quote=True).replace("&#x27;", "&#39;").replace("&quot;", "&#34;") in text


def can_be_kept(sent):
    """What a form is held to keep: text that a field takes as it stands; signs that nobody sees are taken out."""
    return sent.isprintable() and sent == sent.strip() and 0 < len(sent) <= 400


#: In the place of a name in an address, percent-encoded as a browser would.
PATHS = tuple(
    quote_plus(one.encode("utf-8", "surrogatepass")).replace("+", "%20")
    for one in (
        f'"{TAG}', "..", "....", "-1", "0", "9" * 30, "9" * 22, "a\x00b", "\ud800", "\u202e", "１", "²", "a" * 22, "A" * 5000,
        "%s", "{{7*7}}", "' OR 1=1 --", "nan", "con", ".git", "_" * 22, "-" * 22,
    )
)  # fmt: skip
