"""The evidence for a result as its page shows it: rows of text, with what agrees and what does not."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from msgspec import Struct

from trainer.calc.evidence import Evidence, Printed
from trainer.calc.evidence_check import Check
from trainer.calc.evidence_rows import Used
from trainer.calc.step import write_number
from trainer.text.values import cell_text, exact_text, plain_names, residue_text, value_text
from trainer.text.words import say
from trainer.web.language import Later, gettext, language

__all__ = [
    "AGREES",
    "KNOWN",
    "MISSES",
    "Compared",
    "Figure",
    "Figures",
    "Tabled",
    "compared",
    "figures",
    "results",
    "tabled",
]

AGREES, KNOWN, MISSES = "agrees", "known", "misses"
#: Sixteenths that decimals with three places don't show [1/16 in].
_AS_PRINTED = 0.008
#: Tables in which the book leaves a cell blank; the core's files have 0 there.
_BLANK_WHERE_ZERO = frozenset(
    {("ampacity", "ambient"), ("ampacity", "base"), ("conductors", "insulation"), ("conductors", "properties")}
)


class Compared(Struct, frozen=True):
    """What one second method says: its words, AGREES, KNOWN or MISSES, and rows of name, core, other and residue."""

    method: str
    verdict: str
    rows: Sequence[tuple[str, str, str, str]]


class Figure(Struct, frozen=True):
    """One published figure: its output, its inputs, printed, core, residue, AGREES, KNOWN or MISSES, and why."""

    output: str
    inputs: str
    printed: str
    core: str
    residue: str
    verdict: str
    why: str


class Figures(Struct, frozen=True):
    """Figures of one source."""

    source: str
    checked: str
    rows: Sequence[Figure]


class Tabled(Struct, frozen=True):
    """Rows of one table: its name and source, headings, and cells with how each row was checked at the end."""

    name: str
    source: str
    columns: Sequence[str]
    rows: Sequence[Sequence[str]]


def results(evidence: Evidence) -> list[tuple[str, str | list[str]]]:
    """Each output that there is, by name; several sentences for marks and cuts."""
    outputs = evidence.calculation.results(evidence.result)
    found = {name: (value, unit) for name, (value, unit) in outputs.items() if value is not None and value != ()}
    return [(name, _result(value, unit)) for name, (value, unit) in found.items()]


def _result(value: Any, unit: str) -> str | list[str]:
    """As people write it, and in decimals what a tape's sixteenth rounds away."""
    text = value_text(value, unit, language())
    rounded = unit == "in" and isinstance(value, float) and abs(16 * value - round(16 * value)) > _AS_PRINTED
    return f"{text} ({write_number(value)})" if rounded else text


def compared(evidence: Evidence) -> list[Compared]:
    """The checks, by method."""
    methods = dict.fromkeys(say(check.method, language()) for check in evidence.checks)
    return [
        _by_method(method, [check for check in evidence.checks if say(check.method, language()) == method])
        for method in methods
    ]


def _by_method(method: str, checks: Sequence[Check]) -> Compared:
    holding = {check.holds for check in checks}
    verdict = MISSES if False in holding else KNOWN if None in holding else AGREES
    return Compared(_sentence_case(method), verdict, [_row(check) for check in checks])


def _sentence_case(text: str) -> str:
    """A capital at the front, but none of a formula's letters: π is not Π."""
    return text[:1].upper() + text[1:] if text[:1].isascii() else text


def _row(check: Check) -> tuple[str, str, str, str]:
    core, other = (exact_text(value, check.unit, language()) for value in (check.core, check.other))
    return check.name, core, other, _residue(check.residue, check.unit)


def _residue(residue: float, unit: str) -> str:
    """With a minus, not a dash."""
    return residue_text(residue, unit).replace("-", "−")


def figures(evidence: Evidence) -> list[Figures]:
    """The published figures, by source."""
    said = dict.fromkeys((printed.figure.source, printed.figure.checked) for printed in evidence.printed)
    return [Figures(source, checked, list(_of_source(evidence, source, checked))) for source, checked in said]


def _of_source(evidence: Evidence, source: str, checked: str) -> Iterator[Figure]:
    for printed in evidence.printed:
        if (printed.figure.source, printed.figure.checked) == (source, checked):
            yield _figure(printed)


def _figure(printed: Printed) -> Figure:
    figure = printed.figure
    verdict = AGREES if printed.agrees else KNOWN if figure.differs else MISSES
    return Figure(
        figure.output,
        ", ".join(f"{plain_names(name)} {text}" for name, text in figure.inputs.items()),
        exact_text(figure.expected, figure.unit, language()),
        exact_text(printed.core, figure.unit, language()),
        "" if printed.residue is None else _residue(printed.residue, figure.unit),
        verdict,
        figure.differs,
    )


def tabled(evidence: Evidence) -> list[Tabled]:
    """The table rows used, by table."""
    return [
        Tabled(": ".join(used.group.path), used.group.source, _columns(used), _cells(used)) for used in evidence.used
    ]


_VALUES = (Later("name"), Later("value"))


def _columns(used: Used) -> list[str]:
    return [*(used.columns or map(str, _VALUES)), gettext("checked")]


def _cells(used: Used) -> list[list[str]]:
    rows: Sequence[tuple[Any, ...]] = used.rows
    if tuple(used.group.path) in _BLANK_WHERE_ZERO:
        rows = [tuple("–" if cell == 0 else cell for cell in row) for row in rows]
    plain = [[*map(cell_text, row), checked] for row, checked in zip(rows, used.checked, strict=True)]
    return [[plain_names(cell) for cell in row] for row in plain]
