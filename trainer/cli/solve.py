"""`trainer solve`: the calculation core from the shell."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from typing import Any, NoReturn

import click

from trainer.calc.calculation import Calculation
from trainer.calc.catalogue import CATALOGUE, find_calculation
from trainer.calc.message import InputError, Message
from trainer.calc.step import write_number
from trainer.cli.explained import explained, explained_sections
from trainer.cli.plain import error_line, listed, solved

__all__ = ["solve"]

EXIT_BAD_INPUT = 2


EXAMPLES = """\b
trainer solve offset depth=6 angle=30 distance=40
trainer solve strap_count "run_length=42 ft"
trainer solve cut_plan "pieces=8x47 in, 3x70 in" kerf=1/16
trainer solve offset depth=6 angle=45 distance=40 --explain
"""


@click.command(epilog=EXAMPLES)
@click.argument("name", required=False)
@click.argument("inputs", nargs=-1, metavar="[INPUT=VALUE]...")
@click.option("--list", "list_all", is_flag=True, help="List every calculation: inputs, outputs, units, sources.")
@click.option("--explain", is_flag=True, help="Add a second method, published figures, and the table rows used.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
def solve(name: str | None, inputs: tuple[str, ...], list_all: bool, explain: bool, as_json: bool) -> None:
    """
    Work out one calculation: results, worked steps, sources and cautions.

    NAME is one of those that `trainer solve --list` shows. Each input is given as INPUT=VALUE; a length takes every
    form that people write: 40-1/2, 3ft4-1/2, "3 ft 4 1/2 in", 1028mm. Quote a value that has spaces.
    """
    try:
        if list_all:
            _print_list(name, as_json=as_json)
        else:
            _print_solution(find_calculation(name or ""), inputs, explain=explain, as_json=as_json)
    except InputError as error:
        _refuse(error)


def _print_list(name: str | None, *, as_json: bool) -> None:
    calculations = [find_calculation(name)] if name else list(CATALOGUE.values())
    plain = [listed(calculation) for calculation in calculations]
    if as_json:
        _print_json({"calculations": plain})
        return
    for entry in plain:
        click.echo(_list_text(entry))


def _print_solution(calculation: Calculation, words: Sequence[str], *, explain: bool, as_json: bool) -> None:
    typed = _typed(calculation, words)
    plain = explained(calculation, typed) if explain else solved(calculation, typed)
    if as_json:
        _print_json(plain)
    else:
        click.echo(_solution_text(plain, explained_sections(plain) if explain else []))


def _typed(calculation: Calculation, words: Sequence[str]) -> dict[str, str]:
    """The inputs as typed, by name."""
    typed: dict[str, str] = {}
    for word in words:
        name, sign, text = word.partition("=")
        if not sign or name in typed:
            reason = Message("solve.twice" if sign else "solve.no-sign")
            raise InputError(reason, given=word, accepted=Message("solve.accepted"), example=calculation.example)
        typed[name] = text
    return typed


def _print_json(plain: object) -> None:
    click.echo(json.dumps(plain, ensure_ascii=False, indent=2))


def _refuse(error: InputError) -> NoReturn:
    click.echo(error_line(error), err=True)
    raise click.exceptions.Exit(EXIT_BAD_INPUT)


def _list_text(entry: Mapping[str, Any]) -> str:
    """One calculation of the list."""
    lines = [click.style(entry["name"], bold=True), f"  {entry['about']}"]
    lines += [f"    takes {_input_text(given)}" for given in entry["inputs"]]
    lines += [f"    gives {_output_text(output)}" for output in entry["outputs"]]
    lines += [f"    source: {source}" for source in entry["sources"]]
    return "\n".join([*lines, f"    example: {entry['example']}", ""])


def _input_text(given: Mapping[str, Any]) -> str:
    unit = f" [{given['unit']}]" if given["unit"] else ""
    name = f"[{given['name']}]" if given["optional"] else given["name"]
    return f"{name}{unit}: {given['accepted']} Example: {given['example']}"


def _output_text(output: Mapping[str, Any]) -> str:
    unit = f" [{output['unit']}]" if output["unit"] else ""
    basis = f", {output['basis']}" if output["basis"] else ""
    return f"{output['name']}{unit}{basis}"


def _solution_text(plain: Mapping[str, Any], evidence: Sequence[tuple[str, Sequence[str]]]) -> str:
    """Results, steps, evidence, sources and cautions, each under its heading."""
    parts = [f"{plain['calculation']}: {_inputs_line(plain['inputs'])}"]
    parts += _section("Results", _result_lines(plain["results"]))
    parts += _section("Steps", [step["text"] for step in plain["steps"]])
    for title, lines in evidence:
        parts += _section(title, lines)
    parts += _section("Sources", plain["sources"])
    parts += _section("Mind", plain["cautions"])
    return "\n".join(parts)


def _inputs_line(inputs: Mapping[str, Mapping[str, Any]]) -> str:
    """The inputs as they were read, on one line; the parts of a list with commas."""
    texts = {name: valued["text"] for name, valued in inputs.items()}
    return "; ".join(f"{name} {', '.join(text) if isinstance(text, list) else text}" for name, text in texts.items())


def _section(title: str, lines: Sequence[str]) -> list[str]:
    return ["", click.style(title, bold=True), *(f"  {line}" for line in lines)]


def _result_lines(results: Mapping[str, Mapping[str, Any]]) -> list[str]:
    """A line a result; one that there isn't is left out, several sentences stand below their name."""
    lines: list[str] = []
    for name, valued in results.items():
        if valued["value"] is None or valued["text"] == []:
            continue
        if isinstance(valued["text"], list):
            lines += [name, *(f"  {sentence}" for sentence in valued["text"])]
        else:
            lines.append(f"{name} = {valued['text']}{_decimals(valued)}")
    return lines


def _decimals(valued: Mapping[str, Any]) -> str:
    """What the tape's sixteenth rounds away."""
    value = valued["value"]
    if valued["unit"] != "in" or not isinstance(value, float) or (16 * value).is_integer():
        return ""
    return f" ({write_number(value)})"
