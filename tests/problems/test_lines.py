"""Which line a key stands on."""

from __future__ import annotations

import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.problems.lines import key_lines, line_of

TOML = '''\
id = "a"
text = """many
id = 3 [ {
"""
list = ["]", # ]
  "b" ]
"quoted key" = 1
[draw]
depth = { from = "2 in", to = 3 }
keep = [
  "x",
]
[ask.options]
a.b = 1
[[mistakes]]
id = 1
[[mistakes]]
id = 2
[mistakes.sub]
raw = \'\'\'a
[b]\'\'\'
last = 'c'
open = """a \\""" b"""
end = 1
'''


@pytest.mark.parametrize(
    ("path", "line"),
    [
        (("id",), 1),
        (("text",), 2),
        (("list",), 5),
        (("quoted key",), 7),
        (("draw",), 8),
        (("draw", "depth"), 9),
        (("draw", "keep"), 10),
        (("ask", "options"), 13),
        (("ask", "options", "a", "b"), 14),
        (("mistakes", 0, "id"), 16),
        (("mistakes", 1), 17),
        (("mistakes", 1, "id"), 18),
        (("mistakes", 1, "sub", "raw"), 20),
        (("mistakes", 1, "sub", "last"), 22),
        (("mistakes", 1, "sub", "open"), 23),
        (("mistakes", 1, "sub", "end"), 24),
    ],
)
def test_each_key_and_table_has_its_line(path, line):
    tomllib.loads(TOML)

    assert key_lines(TOML)[path] == line


def test_nothing_inside_a_text_or_a_list_is_taken_for_a_key():
    assert ("id", 3) not in key_lines(TOML)
    assert ("mistakes", 1, "sub", "b") not in key_lines(TOML)


def test_a_key_without_a_line_of_its_own_has_that_of_what_stands_around_it():
    found = key_lines(TOML)

    assert line_of(found, ("draw", "depth", "from")) == 9
    assert line_of(found, ("draw", "unknown")) == 8
    assert line_of(found, ("unknown",)) == 1


@given(
    value=st.recursive(st.text(max_size=8) | st.integers(0, 9), lambda inner: st.lists(inner, max_size=3), max_leaves=6)
)
def test_a_key_after_any_value_is_found_on_its_line(value):
    text = f"first = {_toml(value)}\nsecond = 1\n"
    tomllib.loads(text)

    assert key_lines(text)["second",] == 2


def _toml(value):
    if isinstance(value, list):
        return "[" + ", ".join(map(_toml, value)) + "]"
    if isinstance(value, int):
        return str(value)
    return (
        '"'
        + "".join(
            sign if sign.isalnum() or sign in "[]{}#= '" else f"\\U{ord(sign):08X}"
            for sign in value
            if not 0xD800 <= ord(sign) < 0xE000
        )
        + '"'
    )
