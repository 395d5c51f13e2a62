"""It came out wrong: what was wanted and what the tape finds; which slip makes a piece like that, and what saves it."""

from __future__ import annotations

from collections.abc import Mapping

from flask import redirect, render_template, request, url_for
from msgspec import Struct
from werkzeug.wrappers import Response

from trainer.calc.bend_diagnosis import BendDiagnosis
from trainer.calc.catalogue import CATALOGUE
from trainer.calc.message import InputError, Message
from trainer.calc.step import Step
from trainer.web.forms import SHOWN_AGAIN, refusal
from trainer.web.language import Later
from trainer.web.pages.bench.bends import BenchBend
from trainer.web.pages.bench.blueprint import Answer, blueprint, closed_page, here
from trainer.web.pages.bench.pages import address_of, bend_named
from trainer.web.pages.bench.sheet import ReadSheet, read_sheet, text_of
from trainer.web.visitors import Visitor, visitors

__all__ = ["came_out_wrong"]

_DIAGNOSIS = CATALOGUE["bend_diagnosis"]
_OFFSET, _SADDLE = "offset", "three-point-saddle"


class Finding(Struct, frozen=True):
    """Something to measure on the piece: the diagnosis' input, what it is called, how, and in which unit."""

    name: str
    label: Later | str
    hint: Later | str
    unit: str = "in"
    optional: bool = True


class Looked(Struct, frozen=True):
    """The form of the findings, and what came of it."""

    typed: Mapping[str, str]
    errors: Mapping[str, str]
    result: BendDiagnosis | None = None
    steps: tuple[Step, ...] = ()


@blueprint.get("/<bend_id>/wrong")
@visitors(Visitor.SIGNED_IN)
def came_out_wrong(bend_id: str) -> Answer | Response:
    """What may have gone wrong with a bend whose numbers stand in the address; without them its form instead."""
    bend, bench = bend_named(bend_id), here()
    if bench.closed:
        return closed_page()
    sheet = read_sheet(bend, request.args, bench)
    if not bend.diagnosed_as or not sheet.sent or sheet.errors:
        return redirect(address_of("bench.bend", sheet) if sheet.sent else url_for("bench.bend", bend_id=bend.id), 303)
    findings = _findings(bend)
    looked = _look(sheet, findings)
    page = render_template(
        "bench/wrong.html",
        bend=bend,
        sheet=sheet,
        findings=findings,
        looked=looked,
        marks=address_of("bench.bend", sheet),
    )
    return (page, SHOWN_AGAIN) if looked.errors else page


def _findings(bend: BenchBend) -> tuple[Finding, ...]:
    size = next(asked for asked in bend.asked if bend.found_by.get(asked.name) == "wanted")
    found = [
        Finding("measured", size.label, Later("On the bent piece."), optional=False),
        Finding("measured_angle", Later("Angle of the bend"), Later("With a level or a protractor."), "deg"),
    ]
    if bend.diagnosed_as in {_OFFSET, _SADDLE}:
        to = {
            _OFFSET: Later("To the far bend"),
            _SADDLE: Later("To the middle of the saddle"),
        }[bend.diagnosed_as]
        how = Later(
            "From the end where measuring started, along the first leg; to the corner that the legs would make."
        )
        found += [
            Finding("measured_distance", to, how if bend.diagnosed_as == _OFFSET else ""),
            Finding("dog_leg", Later("Out of plane, for each foot"), Later("Lay it on the floor and sight along it.")),
        ]
    return tuple(found)


def _look(sheet: ReadSheet, findings: tuple[Finding, ...]) -> Looked:
    sent = any(one.name in request.args for one in findings)
    typed = {one.name: text_of(request.args, one.name) for one in findings}
    if not sent:
        return Looked(typed, {})
    values, errors = _values(findings, typed)
    if errors:
        return Looked(typed, errors)
    wanted = {sheet.bend.found_by[name]: value for name, value in sheet.values.items() if name in sheet.bend.found_by}
    job = {"bend": sheet.bend.diagnosed_as, "shoe": sheet.shoe.shoe, "basis": sheet.basis}
    try:
        result, steps = _DIAGNOSIS.trace({**job, **wanted, **values})
    except InputError as error:
        return Looked(typed, {error.field if error.field in typed else "measured": refusal(error)})
    return Looked(typed, {}, result, tuple(steps))


def _values(findings: tuple[Finding, ...], typed: Mapping[str, str]) -> tuple[dict[str, object], dict[str, str]]:
    values: dict[str, object] = {}
    errors: dict[str, str] = {}
    for one in findings:
        given = _DIAGNOSIS.input(one.name)
        try:
            if typed[one.name].strip():
                values[one.name] = given.read(typed[one.name])
            elif not one.optional:
                raise given.refuse(Message("input.missing"), "")
        except InputError as error:
            errors[one.name] = refusal(error)
    return values, errors
