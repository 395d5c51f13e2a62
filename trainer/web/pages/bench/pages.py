"""What are you bending; the form of each bend with its marks; the slip for print."""

from __future__ import annotations

from urllib.parse import urlencode

from flask import abort, render_template, request, url_for
from msgspec.structs import replace

from trainer.calc.message import InputError
from trainer.groups.shoes import Bench
from trainer.web.forms import SHOWN_AGAIN, refusal
from trainer.web.pages.bench.bends import BENDS, BenchBend
from trainer.web.pages.bench.blueprint import Answer, blueprint, closed_page, here
from trainer.web.pages.bench.sheet import BASES, ReadSheet, read_sheet, shoe_choices
from trainer.web.pages.bench.worked import Worked, work
from trainer.web.transactions import now
from trainer.web.visitors import Visitor, visitors

__all__ = ["address_of", "bend", "bend_named", "list_bends", "slip"]


@blueprint.get("")
@visitors(Visitor.SIGNED_IN)
def list_bends() -> Answer:
    """What are you bending."""
    bench = here()
    return closed_page() if bench.closed else render_template("bench/bends.html", bends=BENDS.values(), bench=bench)


@blueprint.get("/<bend_id>")
@visitors(Visitor.SIGNED_IN)
def bend(bend_id: str) -> Answer:
    """The form of one bend, and its marks once it is filled in. The address holds all of it."""
    wanted, bench = bend_named(bend_id), here()
    if bench.closed:
        return closed_page()
    sheet, worked = _worked(wanted, bench)
    page = render_template(
        "bench/bend.html",
        bend=wanted,
        sheet=sheet,
        worked=worked,
        shoes=shoe_choices(bench),
        bases=BASES,
        slip=address_of("bench.slip", sheet),
        wrong=address_of("bench.came_out_wrong", sheet) if wanted.diagnosed_as else "",
    )
    return (page, SHOWN_AGAIN) if sheet.errors else page


@blueprint.get("/<bend_id>/slip")
@visitors(Visitor.SIGNED_IN)
def slip(bend_id: str) -> Answer:
    """The marks on one sheet of paper; without numbers the form instead."""
    wanted, bench = bend_named(bend_id), here()
    if bench.closed:
        return closed_page()
    sheet, worked = _worked(wanted, bench)
    if worked is None:
        return bend(bend_id)
    back = address_of("bench.bend", sheet)
    return render_template(
        "bench/slip.html", bend=wanted, sheet=sheet, worked=worked, bases=BASES, back_to=back, at=now()
    )


def address_of(endpoint: str, sheet: ReadSheet) -> str:
    """A page of this bend with the same numbers."""
    path = url_for(endpoint, bend_id=sheet.bend.id)
    return f"{path}?{urlencode(sheet.address)}"


def bend_named(bend_id: str) -> BenchBend:
    """The bend of this name in addresses; answers "not found" when there is none."""
    return BENDS.get(bend_id) or abort(404)


def _worked(wanted: BenchBend, bench: Bench) -> tuple[ReadSheet, Worked | None]:
    """The form as it was sent, and its marks when nothing in it has to be looked at again."""
    sheet = read_sheet(wanted, request.args, bench)
    if not sheet.sent or sheet.errors:
        return sheet, None
    try:
        return sheet, work(sheet)
    except InputError as error:
        named = error.field if error.field in {*sheet.typed, "run"} else wanted.asked[0].name
        return replace(sheet, errors={str(named): refusal(error)}), None
