"""The evidence for a result as plain values with their text: what `trainer solve --explain` adds."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from trainer.calc.calculation import Calculation
from trainer.calc.evidence import Printed, evidence_for
from trainer.calc.evidence_check import Check
from trainer.calc.evidence_rows import Used
from trainer.cli.plain import plain, worked
from trainer.text.values import cell_text, exact_text, residue_text
from trainer.text.words import say

__all__ = ["explained", "explained_sections"]


def explained(calculation: Calculation, typed: Mapping[str, str]) -> dict[str, Any]:
    """
    The solution for inputs as typed, with its evidence.

    Raises:
        InputError: For an input that can't be used.
    """
    evidence = evidence_for(calculation, calculation.read(typed))
    return {
        **worked(calculation, evidence.values, evidence.result, evidence.steps),
        "checks": [_check(check) for check in evidence.checks],
        "published": [_printed(printed) for printed in evidence.printed],
        "published_elsewhere": evidence.cells,
        "tables": [_used(used) for used in evidence.used],
    }


def explained_sections(solution: Mapping[str, Any]) -> list[tuple[str, list[str]]]:
    """Headings and lines for people."""
    return [
        ("A second method", [*_check_lines(solution["checks"])] or ["None: the rule itself is all there is."]),
        ("Published", [*_printed_lines(solution)] or ["Nothing found that names its publisher."]),
        ("Table rows used", [*_used_lines(solution["tables"])] or ["None."]),
    ]


def _check(check: Check) -> dict[str, Any]:
    return {
        "name": check.name,
        "method": say(check.method),
        "unit": check.unit,
        "core": plain(check.core),
        "other": plain(check.other),
        "residue": plain(check.residue),
        "within": check.within,
        "agrees": check.holds,
        "text": _check_text(check),
    }


def _check_text(check: Check) -> str:
    core, other = exact_text(check.core, check.unit), exact_text(check.other, check.unit)
    verdict = {True: "agrees", False: "DOES NOT AGREE", None: "known to differ"}[check.holds]
    return f"{check.name}: {core} here, {other} by it; residue {residue_text(check.residue, check.unit)}: {verdict}"


def _printed(printed: Printed) -> dict[str, Any]:
    figure = printed.figure
    return {
        "inputs": dict(figure.inputs),
        "output": figure.output,
        "expected": figure.expected,
        "core": plain(printed.core),
        "unit": figure.unit,
        "tolerance": figure.tolerance,
        "residue": plain(printed.residue),
        "agrees": printed.agrees,
        "differs": figure.differs,
        "source": figure.source,
        "checked": figure.checked,
        "text": _printed_text(printed),
    }


def _printed_text(printed: Printed) -> str:
    figure = printed.figure
    typed = "; ".join(f"{name} {text}" for name, text in figure.inputs.items())
    said, core = exact_text(figure.expected, figure.unit), exact_text(printed.core, figure.unit)
    why = f": differs. {figure.differs}" if figure.differs else ": agrees" if printed.agrees else ": DOES NOT AGREE"
    return f"{figure.output}: {said} printed, {core} here ({typed}){why}"


def _used(used: Used) -> dict[str, Any]:
    return {
        "table": ".".join(used.group.path),
        "source": used.group.source,
        "columns": list(used.columns),
        "rows": [plain(row) for row in used.rows],
        "checked": list(used.checked),
        "text": [*_row_texts(used)],
    }


def _row_texts(used: Used) -> Iterator[str]:
    """`size 12, diameter 0.13, area 0.0133` for each row; values by name on one line, as far as checked alike."""
    if used.columns:
        for row, checked in zip(used.rows, used.checked, strict=True):
            yield f"{_pairs_text(zip(used.columns, row, strict=True))} ({checked})"
    for checked in dict.fromkeys(() if used.columns else used.checked):
        alike = [row for row, said in zip(used.rows, used.checked, strict=True) if said == checked]
        yield f"{_pairs_text(alike)} ({checked})"


def _pairs_text(pairs: Iterable[Sequence[Any]]) -> str:
    return ", ".join(f"{name} {cell_text(cell)}" for name, cell in pairs if cell is not None)


def _check_lines(checks: Sequence[Mapping[str, Any]]) -> Iterator[str]:
    for method in dict.fromkeys(check["method"] for check in checks):
        yield f"{method[0].upper()}{method[1:]}"
        yield from (f"  {check['text']}" for check in checks if check["method"] == method)


def _printed_lines(solution: Mapping[str, Any]) -> Iterator[str]:
    figures = solution["published"]
    for source, checked in dict.fromkeys((figure["source"], figure["checked"]) for figure in figures):
        yield f"{source} ({checked})"
        same = [figure for figure in figures if (figure["source"], figure["checked"]) == (source, checked)]
        yield from (f"  {figure['text']}" for figure in same)
    if others := solution["published_elsewhere"]:
        yield f"{others} more cells of the printed table are held against the core in its tests."


def _used_lines(tables: Sequence[Mapping[str, Any]]) -> Iterator[str]:
    for used in tables:
        yield f"{used['table']}: {used['source']}"
        yield from (f"  {text}" for text in used["text"])
