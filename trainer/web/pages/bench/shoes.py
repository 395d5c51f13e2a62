"""The shop's shoes: listed, measured from a bend in a scrap, kept, taken out of use."""

from __future__ import annotations

from collections.abc import Mapping

from flask import flash, redirect, render_template, request, url_for
from msgspec import Struct
from werkzeug.wrappers import Response

from trainer.calc.catalogue import CATALOGUE
from trainer.calc.measure_shoe import MeasuredShoe
from trainer.calc.message import InputError, Message, Quantity
from trainer.calc.shoes import DEFAULT_SHOES
from trainer.calc.step import Step
from trainer.groups.shoes import Shop, end_shoe, keep_shoe, shop_of_staff
from trainer.text.formats import quantity
from trainer.web.forms import SHOWN_AGAIN, refusal
from trainer.web.language import Later, gettext, language
from trainer.web.pages.bench.blueprint import Answer, blueprint, closed_page, here
from trainer.web.pages.bench.sheet import text_of
from trainer.web.sessions import actor
from trainer.web.transactions import now, reading, writing
from trainer.web.visitors import Visitor, visitors

__all__ = ["end", "keep", "listed", "measure"]

KEEPERS = (Visitor.OWNER, Visitor.FOREMAN, Visitor.INSTRUCTOR)
_MEASURE = CATALOGUE["measure_shoe"]

#: The tape readings, in the order in which they are taken.
READINGS: Mapping[str, tuple[Later, Later]] = {
    "stick": (Later("The scrap, before the bend"), Later("Cut square; 30 in and more is easy to read.")),
    "mark": (Later("Your pencil mark"), Later("From the end that the hook will point at.")),
    "stub": (Later("The stub, after the bend"), Later("From the same end to the back of the 90.")),
    "other_leg": (Later("The other leg"), Later("From the other end to the back of the 90.")),
}


class Measured(Struct, frozen=True):
    """The form of the readings: texts, what to look at again, and what came of it."""

    typed: Mapping[str, str]
    errors: Mapping[str, str]
    result: MeasuredShoe | None
    steps: tuple[Step, ...]


@blueprint.get("/shoes")
@visitors(Visitor.SIGNED_IN)
def listed() -> Answer:
    """The shoes of the reader's shops, and what a usual hand bender measures."""
    bench = here()
    if bench.closed:
        return closed_page()
    return render_template("bench/shoes.html", bench=bench, usual=DEFAULT_SHOES, inches=_inches)


@blueprint.get("/shoes/<organisation_id>/measure")
@visitors(*KEEPERS)
def measure(organisation_id: str) -> Answer:
    """Measure a shoe: tape readings in, its figures out. Nothing is kept yet."""
    shop = _shop(organisation_id)
    measured = _read(request.args)
    page = _page(shop, measured, text_of(request.args, "name"))
    return (page, SHOWN_AGAIN) if measured.errors else page


@blueprint.post("/shoes/<organisation_id>/measure")
@visitors(*KEEPERS)
def keep(organisation_id: str) -> Response | tuple[str, int]:
    """Keep a shoe under a name; its figures are worked out again from the readings."""
    shop, measured, name = _shop(organisation_id), _read(request.form), text_of(request.form, "name")
    if measured.result is None:
        return _page(shop, measured, name), SHOWN_AGAIN
    try:
        with writing() as session:
            keep_shoe(session, actor(), organisation_id, name=name, shoe=measured.result.shoe, now=now())
    except InputError as error:
        return _page(shop, measured, name, refusal(error)), SHOWN_AGAIN
    flash(gettext("Kept: %(name)s. It now stands first at the bench.") % {"name": name.strip()}, "done")
    return redirect(url_for("bench.listed"), 303)


@blueprint.post("/shoes/<organisation_id>/<shoe_id>/end")
@visitors(*KEEPERS)
def end(organisation_id: str, shoe_id: str) -> Response:
    """Take a shoe out of use."""
    with writing() as session:
        end_shoe(session, actor(), organisation_id, shoe_id, now())
    flash(gettext("This shoe is offered at the bench no longer."), "done")
    return redirect(url_for("bench.listed"), 303)


def _shop(organisation_id: str) -> Shop:
    with reading() as session:
        return shop_of_staff(session, actor(), organisation_id)


def _page(shop: Shop, measured: Measured, name: str, name_error: str = "") -> str:
    return render_template(
        "bench/measure.html",
        shop=shop,
        measured=measured,
        readings=READINGS,
        sizes=tuple(DEFAULT_SHOES),
        name=name,
        name_error=name_error,
        inches=_inches,
    )


def _inches(value: float) -> str:
    return quantity(Quantity(value, "in"), language())


def _read(sent: Mapping[str, str]) -> Measured:
    """The readings as they were sent; an empty form where none was."""
    typed = {name: text_of(sent, name) for name in (*READINGS, "trade_size")}
    if not any(name in sent for name in READINGS):
        return Measured({**typed, "trade_size": next(iter(DEFAULT_SHOES))}, {}, None, ())
    errors, values = _values(typed)
    if errors:
        return Measured(typed, errors, None, ())
    try:
        result, steps = _MEASURE.trace(values)
    except InputError as error:
        return Measured(typed, {error.field or "stick": refusal(error)}, None, ())
    return Measured(typed, {}, result, tuple(steps))


def _values(typed: Mapping[str, str]) -> tuple[dict[str, str], dict[str, object]]:
    errors: dict[str, str] = {}
    values: dict[str, object] = {}
    for name, text in typed.items():
        given = _MEASURE.input(name)
        try:
            if not text.strip():
                raise given.refuse(Message("input.missing"), "")
            values[name] = given.read(text)
        except InputError as error:
            errors[name] = refusal(error)
    return errors, values
