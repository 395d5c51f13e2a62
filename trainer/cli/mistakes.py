"""`trainer mistakes`: wrong routes of a numeric family that its question file could name, for those who write one."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Mapping

import click

from trainer.calc.length import write_length
from trainer.calc.step import write_number
from trainer.cli.content import named_family
from trainer.problems.errors import DrawError
from trainer.problems.model import CHOOSING, AnswerKind
from trainer.problems.parts import Family
from trainer.problems.wrong_routes_found import Found, search

__all__ = ["mistakes"]

#: Rows that are shown unless all are wanted: what stands alone often enough to be worth a known mistake.
WORTH_SHARE = 0.5
MOST_ROWS = 30


@click.command(epilog="\b\ntrainer mistakes offset-near-mark\ntrainer mistakes strap-count --draws 50 --all")
@click.argument("family", metavar="FAMILY")
@click.option("--draws", default=200, show_default=True, type=click.IntRange(1, 10_000), help="Problems to try.")
@click.option("--all", "all_rows", is_flag=True, help="Show every route, the rare and the odd too.")
def mistakes(family: str, draws: int, all_rows: bool) -> None:
    """
    Search for wrong routes that people may take in a family with a typed answer.

    Each is a turn taken on the calculation's own steps, inputs or answer. Shown are those whose value stands away from
    every accepted answer and every known mistake, with an expression to paste where there is one; then what the known
    mistakes of the file cover; then what nobody could tell from a right answer. Whether people really do it, you judge.
    """
    chosen = named_family(family)
    if chosen.kind in CHOOSING:
        raise click.ClickException(f"{chosen.id} is answered by choosing; only typed answers have routes of numbers.")
    try:
        found = search(chosen, draws)
    except DrawError as error:
        raise click.ClickException(str(error)) from None
    for line in _table(chosen, found, draws, all_rows=all_rows):
        click.echo(line)


def _table(family: Family, found: list[Found], draws: int, *, all_rows: bool) -> Iterator[str]:
    known = {mistake.id: [row for row in found if row.mistake == mistake.id] for mistake in family.mistakes}
    untold = [row for row in found if not row.mistake and row.untold]
    new = [row for row in found if not row.mistake and not row.untold]
    worth = new if all_rows else [row for row in new if row.alone >= WORTH_SHARE * draws][:MOST_ROWS]
    yield f"{family.id}: {len(found)} wrong routes in {draws} problems"
    yield ""
    yield click.style("Stand alone: could be a known mistake", bold=True)
    for row in worth:
        yield from _row(family, row, draws)
    if len(worth) < len(new):
        yield f"  ... and {len(new) - len(worth)} that stand alone more seldom: --all shows them."
    yield ""
    yield click.style("Known already", bold=True)
    yield from _known(known)
    yield ""
    yield click.style("Cannot be told from a right answer", bold=True)
    for row in untold:
        yield f"  {row.right * 100 // max(row.taken, 1):3d} %  {_did(row)}"


def _row(family: Family, row: Found, draws: int) -> Iterator[str]:
    """Share of the problems, an example, what was done; below it what can be pasted."""
    value = write_length(row.value) if family.kind is AnswerKind.LENGTH else write_number(row.value, 3)
    yield f"  {row.alone * 100 // draws:3d} %  {value:>12} with #{row.seed:<4} {_did(row)}"
    if row.expressions:
        texts = ", ".join(f'"{text}"' for text in row.expressions)
        yield f"{'':28} value = {texts if len(row.expressions) == 1 else f'[{texts}]'}"


def _known(known: Mapping[str, list[Found]]) -> Iterator[str]:
    width = max(map(len, known), default=0)
    for id_, rows in known.items():
        yield f"  {id_:{width}}  {'; '.join(_did(row) for row in rows[:3]) or 'a route of its own'}"


def _did(row: Found) -> str:
    """What was done, and how many other routes lead to the same."""
    more = f" (and {len(row.did) - 1} alike)" if len(row.did) > 1 else ""
    return textwrap.shorten(row.did[0], 90, placeholder=" ...") + more
