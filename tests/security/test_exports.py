"""Whatever anybody can take along as a table: no cell of it is a formula, whoever typed what."""

from __future__ import annotations

import csv
from io import BytesIO, StringIO
from zipfile import ZipFile

from sqlalchemy import String, update

from trainer.records.models import (
    AssignedWork,
    ClassDay,
    FieldFinding,
    FindingPhoto,
    Group,
    JobHours,
    KeyClaim,
    Organisation,
    Person,
    Registration,
)
from trainer.text.separated import ARMED

FORMULA = '=HYPERLINK("https://elsewhere.example","Look")'
#: What people type about themselves and others, and the names of places and things.
TYPED = (
    *(Person.display_name, Group.name, Organisation.name, AssignedWork.title, ClassDay.topic, Registration.words),
    *(FieldFinding.note, FindingPhoto.shows, JobHours.note, KeyClaim.own_answer, KeyClaim.why),
)
WHO = ("learner", "instructor", "owner")
#: Kinds of tables that stand in an address.
KINDS = {"kind": ("csv", "xlsx")}
TABLES = ("answers", "skills", "proof-runs", "checks", "findings", "registrations", "noted", "keys-called-wrong")


def exports(site, parts):
    """Every table that one of these people is given, as method and address."""
    own = site.ids["own"]
    for rule in site.app.url_map.iter_rules():
        if "GET" not in rule.methods:
            continue
        for kind in KINDS["kind"] if "kind" in rule.arguments else ("csv",):
            for table in TABLES if "table" in rule.arguments else ("",):
                address = parts.address(rule, own | {"kind": kind, "table": table})
                if kind in address.rpartition("/")[2] or "/out/" in address or address.endswith((".csv", ".xlsx")):
                    yield address


def cells_of(answer):
    kind = answer.headers["Content-Type"]
    if kind.startswith("text/csv"):
        return [cell for row in csv.reader(StringIO(answer.sent.decode("utf-8-sig"))) for cell in row]
    if "spreadsheetml" in kind:
        with ZipFile(BytesIO(answer.sent)) as book:
            sheets = "".join(book.read(name).decode() for name in book.namelist() if "worksheets/" in name)
        return ["=found in the file"] if "<f>" in sheets or "<hyperlink" in sheets else []
    return None


def test_no_table_holds_a_formula(site, parts):
    seen, with_text = 0, 0
    with site.undone(), site.app.extensions["trainer.database"].write() as session:
        for column in TYPED:
            assert isinstance(column.type, String)
            session.execute(update(column.class_).values({column.key: FORMULA}))
        session.flush()
        for path in sorted(set(exports(site, parts))):
            for who in WHO:
                answer = site.ask(who, "GET", path)
                cells = cells_of(answer) if answer.status == 200 else None
                if cells is None:
                    continue
                seen, with_text = seen + 1, with_text + any(FORMULA in cell for cell in cells)
                armed = [cell for cell in cells if cell.lstrip().startswith(ARMED) and not is_number(cell)]
                assert not armed, f"{who} at {path}: {armed[:3]}"

    assert seen >= 20
    assert with_text >= 8


def is_number(cell):
    try:
        float(cell)
    except ValueError:
        return False
    return True
