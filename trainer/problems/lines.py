"""
On which line of a TOML text each key stands: `tomllib` does not say, and an error without its line is half an error.

The text has been read by `tomllib` before, so its syntax is sound; this scan only has to know where strings and brackets
end. Keys inside an inline table or an array of tables on several lines count as standing where the outer key stands.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property

__all__ = ["KeyPath", "key_lines", "line_of"]

KeyPath = tuple[str | int, ...]

PART = r"""(?:[A-Za-z0-9_-]+|"[^"]*"|'[^']*')"""
HEADER = re.compile(rf"\s*(\[\[?)\s*({PART}(?:\s*\.\s*{PART})*)\s*\]\]?")
KEY = re.compile(rf"\s*({PART}(?:\s*\.\s*{PART})*)\s*=")
TOKEN = re.compile(r'''"""|\'\'\'|"(?:\\.|[^"\\])*"|'[^']*'|\#.*|[\[\]{}]''')
CLOSING = {'"""': re.compile(r'(?:\\.|[^\\])*?"""', re.DOTALL), "'''": re.compile(r".*?'''", re.DOTALL)}


def key_lines(toml: str) -> Mapping[KeyPath, int]:
    r"""
    Line (from 1) of each table and key by its path; tables of an array carry their index. The text is gone through when
    a line is first asked for: of a sound file none is.

    >>> key_lines('id = "a"\n[[hints]]\nsay = "b"')[("hints", 0, "say")]
    3
    """
    return _Lines(toml)


def line_of(found: Mapping[KeyPath, int], path: Sequence[str | int]) -> int:
    """The line of a key, or of the nearest table or key around it; 1 when nothing around it is known."""
    for length in range(len(path), 0, -1):
        if tuple(path[:length]) in found:
            return found[tuple(path[:length])]
    return 1


class _Lines(Mapping[KeyPath, int]):
    """Lines of the keys of a text, found at the first question."""

    def __init__(self, toml: str) -> None:
        self.toml = toml

    @cached_property
    def found(self) -> Mapping[KeyPath, int]:
        scan = _Scan()
        for number, line in enumerate(self.toml.splitlines(), start=1):
            scan.take(line, number)
        return scan.found

    def __getitem__(self, path: KeyPath) -> int:
        return self.found[path]

    def __iter__(self) -> Iterator[KeyPath]:
        return iter(self.found)

    def __len__(self) -> int:
        return len(self.found)


class _Scan:
    """Where the scan stands: inside which table, which open string, how many brackets deep."""

    def __init__(self) -> None:
        self.found: dict[KeyPath, int] = {}
        self.table: KeyPath = ()
        self.counts: dict[KeyPath, int] = {}
        self.open_string = ""
        self.depth = 0

    def take(self, line: str, number: int) -> None:
        if self.open_string or self.depth:
            self._skip(line)
        elif header := HEADER.match(line):
            self.table = self._table(_parts(header[2]), is_array=header[1] == "[[")
            self.found.setdefault(self.table, number)
        elif key := KEY.match(line):
            self.found[self.table + tuple(_parts(key[1]))] = number
            self._skip(line[key.end() :])

    def _table(self, parts: Sequence[str], *, is_array: bool) -> KeyPath:
        path: KeyPath = ()
        for part in parts[:-1]:
            path = self._latest((*path, part))
        path = (*path, parts[-1])
        if is_array:
            self.counts[path] = self.counts.get(path, 0) + 1
        return self._latest(path)

    def _latest(self, path: KeyPath) -> KeyPath:
        """The newest table of an array, or the path itself where it is no array."""
        return (*path, self.counts[path] - 1) if path in self.counts else path

    def _skip(self, text: str) -> None:
        """Go over a value, or a part of one, keeping count of what it leaves open."""
        at = 0
        while at < len(text):
            if self.open_string:
                end = CLOSING[self.open_string].match(text, at)
                if end is None:
                    return
                at, self.open_string = end.end(), ""
                continue
            mark = TOKEN.search(text, at)
            if mark is None:
                return
            at = mark.end()
            self._note(mark[0])

    def _note(self, mark: str) -> None:
        if mark in CLOSING:
            self.open_string = mark
        elif mark in {"[", "{"}:
            self.depth += 1
        elif mark in {"]", "}"}:
            self.depth -= 1


def _parts(dotted: str) -> list[str]:
    return [part.strip("\"'") for part in re.findall(PART, dotted)]
