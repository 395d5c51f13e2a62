"""Tables to open while working: those of the code and the trade, by unit, with their sources."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from flask import Blueprint, abort, render_template, url_for
from werkzeug.wrappers import Response

from trainer.calc.reference_tables import REFERENCE_TABLES, ReferenceTable
from trainer.text.cells import heading_text, is_number, rows_text, title_text
from trainer.web.content import own_local_rules
from trainer.web.language import gettext, language
from trainer.web.papers.handout import tables_paper
from trainer.web.papers.sheet import pdf_file
from trainer.web.sessions import actor
from trainer.web.units import unit_title
from trainer.web.visitors import Visitor, visitors

__all__ = ["blueprint", "tables_for"]

blueprint = Blueprint("tables", __name__, url_prefix="/tables")


#: Units of the course whose tables stand under another one.
ELSEWHERE: Mapping[str, str] = {"cut-lengths": "bends", "pulling": "fill"}
#: Units for which one may need any of them.
ANY = frozenset({"inspection"})


def tables_for(unit: str) -> str:
    """Address of the tables that go with a unit of the course; "" where there are none."""
    if unit in ANY:
        return url_for("tables.listed")
    unit = ELSEWHERE.get(unit, unit)
    return url_for("tables.shown", unit=unit) if _of(unit) else ""


@blueprint.get("")
@visitors(Visitor.SIGNED_IN)
def listed() -> str:
    """Every table, by unit."""
    with_tables = dict.fromkeys(entry.unit for entry in REFERENCE_TABLES.values())
    units = [(unit, unit_title(unit), [title_text(entry, language()) for entry in _of(unit)]) for unit in with_tables]
    return render_template("tables/listed.html", units=units)


@blueprint.get("/<unit>")
@visitors(Visitor.SIGNED_IN)
def shown(unit: str) -> str:
    """The tables of a unit."""
    return render_template(
        "tables/shown.html", unit=unit, title=unit_title(unit), tables=_read(unit), rules=own_local_rules()
    )


@blueprint.get("/<unit>.pdf")
@visitors(Visitor.SIGNED_IN)
def on_paper(unit: str) -> Response:
    """The tables of a unit as a handout."""
    title, rules = unit_title(unit), [str(rule.say) for rule in own_local_rules()]
    return pdf_file(tables_paper(title, _read(unit), rules, actor()), gettext("tables %(unit)s") % {"unit": title})


def _read(unit: str) -> list[dict[str, Any]]:
    """The tables of a unit, as texts."""
    found, said = _of(unit) or abort(404), language()
    return [
        {
            "name": entry.name,
            "title": title_text(entry, said),
            "columns": [
                (heading_text(one, said), nth > 0 and is_number(one)) for nth, one in enumerate(entry.headings)
            ],
            "rows": rows_text(entry, said),
            "source": entry.source,
            "checked": entry.checked,
        }
        for entry in found
    ]


def _of(unit: str) -> list[ReferenceTable]:
    return [entry for entry in REFERENCE_TABLES.values() if entry.unit == unit]
