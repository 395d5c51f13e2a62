"""People from a list: the list, what each of its lines would do, doing it, and slips with first passwords."""

from __future__ import annotations

from collections.abc import Sequence

from flask import flash, redirect, render_template, request, url_for
from msgspec import Struct
from werkzeug.wrappers import Response

from trainer.accounts.access import GroupRef
from trainer.accounts.many import FirstPasswords
from trainer.calc.message import InputError, Message
from trainer.groups.joining import leaders_of
from trainer.groups.roster import Imported, RosterPlan, import_roster, roster_group, roster_plan
from trainer.groups.roster_columns import Holds, ListedPerson, RosterTable, people_in, table_of
from trainer.groups.roster_plan import Fate
from trainer.groups.slips import slips_of
from trainer.text.separated import MOST_BYTES, MOST_ROWS, decoded, rows_of
from trainer.web.forms import SHOWN_AGAIN, refusal
from trainer.web.language import Later, gettext, ngettext
from trainer.web.pages.teach.blueprint import LEADERS, blueprint
from trainer.web.papers.class_sheets import FirstSlip, join_paper, slips_paper, start_paper
from trainer.web.papers.sheet import pdf_file
from trainer.web.security import reads_up_to, shown_once
from trainer.web.sessions import actor, passwords
from trainer.web.transactions import now, reading, writing
from trainer.web.visitors import visitors

__all__ = ["import_list", "join_sheet", "look_at_list", "roster", "slips", "start_sheet"]

#: Room for the list in a file and once more as text, and for a file that is told to be too large in kind words.
MOST_READ = MOST_BYTES * 6
COLUMN = "column-"
SLIP = "slip"
HELD = (
    (Holds.NOTHING, Later("Nothing that is needed")),
    (Holds.NAME, Later("Name")),
    (Holds.FIRST, Later("First name")),
    (Holds.LAST, Later("Last name")),
    (Holds.SIGN_IN, Later("Sign-in name")),
    (Holds.NUMBER, Later("Number")),
)


class Sent(Struct, frozen=True):
    """A list as it was sent: its text, its columns, and who stands in it."""

    text: str
    table: RosterTable
    people: Sequence[ListedPerson]


@blueprint.get("/groups/<group_id>/roster")
@visitors(*LEADERS)
def roster(group_id: str) -> str:
    """The form for a list, and the other way in: the code."""
    return _form(_group(group_id), {})


@blueprint.post("/groups/<group_id>/roster")
@visitors(*LEADERS)
@reads_up_to(MOST_READ)
def look_at_list(group_id: str) -> str | tuple[str, int]:
    """What each line would do. Nothing is written."""
    group = _group(group_id)
    try:
        sent = _sent()
    except InputError as error:
        return _form(group, {error.field or "file": refusal(error)}), SHOWN_AGAIN
    errors = {} if sent.table.names_people else {f"{COLUMN}0": _no_names()}
    return _planned(group_id, sent, errors), SHOWN_AGAIN if errors else 200


@blueprint.post("/groups/<group_id>/roster/import")
@visitors(*LEADERS)
@reads_up_to(MOST_READ)
def import_list(group_id: str) -> str | Response | tuple[str, int]:
    """Put them in; the answer shows the first passwords, this once."""
    group = _group(group_id)
    try:
        sent = _sent()
        if not sent.table.names_people:
            return _planned(group_id, sent, {f"{COLUMN}0": _no_names()}), SHOWN_AGAIN
        done = _imported(group_id, sent.people)
    except InputError as error:
        if error.field == "leave_out":
            said = gettext("Mend the lines that cannot be used in the list below, or tick that they are left out.")
            return _planned(group_id, sent, {"leave_out": said}), SHOWN_AGAIN
        return _form(group, {"file": refusal(error)}), SHOWN_AGAIN
    if not done.made:
        flash(_put_in(done.put_in), "done")
        return redirect(url_for("teach.group", group_id=group_id), 303)
    said = _put_in(done.put_in) if done.put_in else ""
    return shown_once(render_template("teach/roster_done.html", group=group, made=done.made, said=said))


@blueprint.post("/groups/<group_id>/slips.pdf")
@visitors(*LEADERS)
@reads_up_to(MOST_READ)
def slips(group_id: str) -> Response:
    """The slips as a file for the printer; the page that shows the passwords sends them along, for nobody keeps them."""
    given = dict(one.split(" ", 1) for one in request.form.getlist(SLIP) if " " in one)
    with reading() as session:
        group = roster_group(session, actor(), group_id)
        people = slips_of(session, group, list(given))
    if not people:
        flash(gettext("These have set a password of their own by now: there is nothing to print."), "problem")
        return redirect(url_for("teach.group", group_id=group_id), 303)
    rows = [FirstSlip(one.display_name, one.sign_in_name, given[one.public_id][:40]) for one in people]
    return pdf_file(slips_paper(group, rows, actor()), gettext("slips %(group)s") % {"group": group.name})


@blueprint.get("/groups/<group_id>/join.pdf")
@visitors(*LEADERS)
def join_sheet(group_id: str) -> Response:
    """The code on one page, for the wall."""
    with reading() as session:
        group = roster_group(session, actor(), group_id)
        leaders = leaders_of(session, group)
    if group.join_code is None:
        flash(gettext("Joining is closed. Open it with a new code first, then print the sheet."), "problem")
        return redirect(url_for("teach.group", group_id=group_id, _anchor="joining"), 303)
    return pdf_file(join_paper(group, leaders, actor()), gettext("join %(group)s") % {"group": group.name})


@blueprint.get("/groups/start.pdf")
@visitors(*LEADERS)
def start_sheet() -> Response:
    """One page to hang beside the desk."""
    return pdf_file(start_paper(actor()), gettext("beside the desk"))


def _group(group_id: str) -> GroupRef:
    with reading() as session:
        return roster_group(session, actor(), group_id)


def _sent() -> Sent:
    """
    The list of this request: a file, or the text of the form.

    Raises:
        InputError: With `field` "file" or "text".
    """
    file = request.files.get("file")
    data = file.read() if file else b""
    text = decoded(data) if data else request.form.get("text", "")
    rows = rows_of(text, field="file" if data else "text")
    chosen = None if data else _chosen()
    # Where columns were chosen, the box of the headings was on the same page.
    table = table_of(rows, chosen=chosen, has_headings=None if chosen is None else "headings" in request.form)
    return Sent(text, table, people_in(table))


def _chosen() -> list[str] | None:
    """What somebody chose for each column; None where nobody was asked yet."""
    held = [request.form.get(f"{COLUMN}{index}") for index in range(60)]
    return [one or "" for one in held] if any(one is not None for one in held) else None


def _imported(group_id: str, people: Sequence[ListedPerson]) -> Imported:
    with reading() as session:
        new = len(roster_plan(session, actor(), group_id, people).of(Fate.NEW))
    # Hashed before the transaction begins: it takes a while, and the write lock is for all.
    firsts = FirstPasswords(new, passwords())
    with writing() as session:
        return import_roster(
            session,
            actor(),
            group_id,
            people,
            firsts=firsts,
            leave_out="leave_out" in request.form,
            now=now(),
        )


def _no_names() -> str:
    reason = Message("groups.roster-columns")
    accepted = Message("groups.roster-columns-accepted")
    return refusal(InputError(reason, given="", accepted=accepted, example=gettext("Name")))


def _put_in(count: int) -> str:
    if not count:
        return gettext("Nobody else was put in: the others were in it already, or left as they are.")
    return ngettext(
        "One person who has a sign-in was put in.", "%(num)d people who have a sign-in were put in.", count
    ) % {"num": count}


def _form(group: GroupRef, errors: dict[str, str]) -> str:
    return render_template(
        "teach/roster.html",
        group=group,
        errors=errors,
        text=request.form.get("text", ""),
        most=MOST_ROWS,
    )


def _planned(group_id: str, sent: Sent, errors: dict[str, str]) -> str:
    with reading() as session:
        found = roster_plan(session, actor(), group_id, sent.people if sent.table.names_people else ())
    return render_template(
        "teach/roster_plan.html",
        group=found.group,
        plan=found,
        table=sent.table,
        text=sent.text,
        column=COLUMN,
        held=[(one.value, str(words)) for one, words in HELD],
        summary=_summary(found),
        bad=found.of(Fate.BAD),
        errors=errors,
        leave_out="leave_out" in request.form,
    )


def _summary(found: RosterPlan) -> list[tuple[str, int]]:
    """How many lines do what, of what there is."""
    words = {
        Fate.NEW: gettext("New: gets a sign-in name and a first password"),
        Fate.JOINS: gettext("Has a sign-in here: is put in"),
        Fate.AGAIN: gettext("Had left: is put in again"),
        Fate.THERE: gettext("In it already: nothing changes"),
        Fate.KEPT: gettext("Left as is"),
        Fate.BAD: gettext("Cannot be used"),
    }
    return [(said, len(found.of(fate))) for fate, said in words.items() if found.of(fate)]
