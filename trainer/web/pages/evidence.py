"""How each calculation can be proved: what the core says, what another method and the published sources say."""

from __future__ import annotations

from collections.abc import Mapping

from flask import Blueprint, abort, render_template, request
from msgspec import Struct

from trainer.calc.calculation import Calculation
from trainer.calc.catalogue import CATALOGUE
from trainer.calc.evidence import Evidence, evidence_for
from trainer.calc.inputs import Input
from trainer.calc.message import InputError, Message
from trainer.web.content import edition_of
from trainer.web.forms import SHOWN_AGAIN, refusal
from trainer.web.language import Later
from trainer.web.pages.bench.blueprint import Answer, closed_page, here
from trainer.web.pages.bench.sheet import text_of
from trainer.web.pages.evidence_shown import compared, figures, results, tabled
from trainer.web.transactions import reading
from trainer.web.visitors import Visitor, visitors

__all__ = ["blueprint"]

blueprint = Blueprint("evidence", __name__, url_prefix="/calculations")

#: What calculations are about, by the area of their cautions, in the order of the page.
AREAS: Mapping[Later, frozenset[str]] = {
    Later("Bends"): frozenset({"bending", "power_bending"}),
    Later("Supports and cutting"): frozenset({"support", "cutting"}),
    Later("Connectors"): frozenset({"wet"}),
    Later("Raceway fill and pulling"): frozenset({"fill", "pulling"}),
    Later("Boxes"): frozenset({"boxes", "pull_boxes"}),
    Later("Conductors and circuits"): frozenset({"conductors", "grounding", "temperature"}),
}


class Sheet(Struct, frozen=True):
    """The numbers as typed, those of the example at first; sentences by input for what can't be used, and the evidence."""

    typed: Mapping[str, str]
    errors: Mapping[str, str]
    evidence: Evidence | None


@blueprint.get("")
@visitors(Visitor.SIGNED_IN)
def listed() -> Answer:
    """Every calculation, by what it is about; closed like the bench while a question of a proof run is open."""
    if here().closed:
        return closed_page()
    groups = [
        (about, [(entry, Message(f"calculation.{entry.name}")) for entry in CATALOGUE.values() if entry.area in areas])
        for about, areas in AREAS.items()
    ]
    return render_template("evidence/listed.html", groups=groups)


@blueprint.get("/<calculation_name>")
@visitors(Visitor.SIGNED_IN)
def shown(calculation_name: str) -> Answer:
    """The evidence for one calculation, with its example or with numbers of the reader's own, which the address holds."""
    calculation = CATALOGUE.get(calculation_name) or abort(404)
    if here().closed:
        return closed_page()
    sheet = _sheet(calculation)
    proved = sheet.evidence
    page = render_template(
        "evidence/shown.html",
        calculation=calculation,
        about=Message(f"calculation.{calculation.name}"),
        sheet=sheet,
        results=results(proved) if proved else [],
        compared=compared(proved) if proved else [],
        figures=figures(proved) if proved else [],
        tabled=tabled(proved) if proved else [],
    )
    return (page, SHOWN_AGAIN) if sheet.errors else page


def _sheet(calculation: Calculation) -> Sheet:
    sent = any(given.name in request.args for given in calculation.inputs)
    usual = {} if sent else _usual(calculation)
    typed = {given.name: text_of(request.args, given.name, usual.get(given.name, "")) for given in calculation.inputs}
    errors = {given.name: said for given in calculation.inputs if (said := _refused(given, typed[given.name]))}
    if errors:
        return Sheet(typed, errors, None)
    try:
        return Sheet(typed, {}, evidence_for(calculation, calculation.read(typed)))
    except InputError as error:
        return Sheet(typed, {error.field or calculation.inputs[0].name: refusal(error)}, None)


def _usual(calculation: Calculation) -> Mapping[str, str]:
    """The inputs of the example, by the edition that the site follows."""
    if not any(given.name == "edition" for given in calculation.inputs):
        return calculation.example_inputs
    with reading() as session:
        return {**calculation.example_inputs, "edition": edition_of(session)}


def _refused(given: Input, text: str) -> str:
    """What to say beside a field; "" where it can be used."""
    try:
        if text.strip():
            given.read(text)
        elif not given.optional:
            raise given.refuse(Message("input.missing"), text)
    except InputError as error:
        return refusal(error)
    return ""
