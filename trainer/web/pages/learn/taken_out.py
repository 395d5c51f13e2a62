"""The own record to take along, at any time and without asking: tables as CSV, and all of it on paper."""

from __future__ import annotations

from flask import Response

from trainer.accounts.access import NotFoundError
from trainer.groups.own_record import own_record
from trainer.groups.own_tables import OWN_TABLES, own_rows
from trainer.progress.taken_out import TABLES, answer_rows, proof_rows, skill_rows
from trainer.web.content import library
from trainer.web.downloads import as_csv
from trainer.web.language import gettext
from trainer.web.pages.learn.blueprint import blueprint
from trainer.web.papers.record import record_paper
from trainer.web.papers.sheet import pdf_file
from trainer.web.sessions import actor
from trainer.web.transactions import now, reading
from trainer.web.visitors import Visitor, visitors

__all__ = ["record_on_paper", "record_out"]


@blueprint.get("/record/out/<table>.csv")
@visitors(Visitor.SIGNED_IN)
def record_out(table: str) -> Response:
    """One table of the record."""
    columns = {**TABLES, **OWN_TABLES}
    if table not in columns:
        raise NotFoundError
    me, zone = actor().person_id, actor().zone
    with reading() as session:
        if table in OWN_TABLES:
            rows = own_rows(session, library(), actor(), table)
        elif table == "answers":
            rows = answer_rows(session, library(), me, zone)
        elif table == "skills":
            rows = skill_rows(session, library(), me, now(), zone)
        else:
            rows = proof_rows(session, library(), me, zone)
    return as_csv(f"my {table}", columns[table], rows)


@blueprint.get("/record/out.pdf")
@visitors(Visitor.SIGNED_IN)
def record_on_paper() -> Response:
    """The whole record as a paper that a stranger can read."""
    with reading() as session:
        found = own_record(session, library(), actor(), now())
    return pdf_file(record_paper(found), gettext("training record %(person)s") % {"person": actor().display_name})
