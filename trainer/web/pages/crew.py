"""For who runs a shop or a school: its people skill by skill, and who has a role in it."""

from __future__ import annotations

from collections.abc import Iterable
from functools import partial

from flask import Blueprint, flash, redirect, render_template, request, url_for
from msgspec import Struct
from werkzeug.wrappers import Response
from wtforms import StringField

from trainer.accounts.access import NotFoundError
from trainer.calc.message import InputError, Message
from trainer.figures.crew_skills import CrewRow, Stands, draw_crew_skills
from trainer.figures.words import Words
from trainer.groups.board import MemberLine, board
from trainer.groups.organisations import ROLES_OF_KIND, StaffLine, appoint, dismiss, whom_to_appoint
from trainer.groups.register import StaffPage, staff_page
from trainer.groups.taken_out import GROUP_COLUMNS, group_rows
from trainer.progress.record import SkillLine
from trainer.text.words import say
from trainer.web.content import library
from trainer.web.downloads import as_csv, as_xlsx
from trainer.web.forms import SHOWN_AGAIN, Filled, SiteForm
from trainer.web.language import Later, gettext, language
from trainer.web.pages.teach.blueprint import LEADERS
from trainer.web.recorded import below_title
from trainer.web.sessions import actor
from trainer.web.transactions import now, reading, writing
from trainer.web.units import by_unit
from trainer.web.visitors import Visitor, visitors

__all__ = ["blueprint"]

blueprint = Blueprint("crew", __name__)

MOST_PICTURED = 30
"""People in the picture; the list below it has all."""


class SkillRows(Struct, frozen=True):
    """One skill across the people who show where they stand: those who have begun it, the best first, and the others."""

    skill: str
    title: str
    unit: str
    begun: tuple[tuple[MemberLine, SkillLine, Message], ...]
    waiting: tuple[str, ...]


class StaffForm(SiteForm):
    """Whom to appoint, and as what."""

    sign_in_name = StringField(validators=[Filled(Later("Type the sign-in name of the person."))])
    role = StringField(validators=[Filled(Later("Choose a role."))])


@blueprint.get("/groups/<group_id>/skills")
@visitors(*LEADERS)
def skills(group_id: str) -> str:
    """Who stands where, skill by skill, as far as each member shows it."""
    # A write session on a GET: that somebody looked is noted, for the members to see.
    with writing() as session:
        found = board(session, library(), actor(), group_id, now())
    rows = _rows(found.members)
    return render_template(
        "crew/skills.html",
        group=found.group,
        units=by_unit(row for row in rows if row.begun),
        untouched=[row.title for row in rows if not row.begun],
        closed=[member.display_name for member in found.members if member.skills is None],
        members=found.members,
        picture=_picture(rows, found.members),
        most=MOST_PICTURED,
    )


@blueprint.get("/groups/<group_id>/record.<any(csv, xlsx):kind>")
@visitors(*LEADERS)
def record_out(group_id: str, kind: str) -> Response:
    """Where those stand who show it, as a file."""
    # A write session on a GET: that somebody took it along is noted, for the members to see.
    with writing() as session:
        group, rows = group_rows(session, library(), actor(), group_id, now=now(), zone=actor().zone)
    return (as_xlsx if kind == "xlsx" else as_csv)(f"{group.name} skills", GROUP_COLUMNS, rows)


@blueprint.get("/organisations/<organisation_id>/staff")
@visitors(Visitor.OWNER, Visitor.ADMINISTRATOR)
def staff(organisation_id: str) -> str:
    """Who has a role in the whole of an organisation."""
    found = _staff(organisation_id)
    return _page(found, StaffForm(formdata=None))


@blueprint.post("/organisations/<organisation_id>/staff")
@visitors(Visitor.OWNER, Visitor.ADMINISTRATOR)
def appoint_staff(organisation_id: str) -> Response | tuple[str, int]:
    """Give a person a role, after it was read once more to whom."""
    form = StaffForm()
    if form.validate_on_submit() and "sure" not in request.form:
        name = _whom(organisation_id, form)
        if name:
            found = _staff(organisation_id)
            return render_template("crew/appoint.html", organisation=found.organisation, name=name, form=form), 200
    elif not form.errors and _appointed(organisation_id, form):
        flash(gettext("Done: %(name)s has the role now.") % {"name": form.sign_in_name.data.strip()}, "done")
        return redirect(url_for("crew.staff", organisation_id=organisation_id), 303)
    return _page(_staff(organisation_id), form), SHOWN_AGAIN


@blueprint.get("/organisations/<organisation_id>/staff/<person_id>/dismiss")
@visitors(Visitor.OWNER, Visitor.ADMINISTRATOR)
def ask_to_dismiss(organisation_id: str, person_id: str) -> str:
    """What ending a role means."""
    found = _staff(organisation_id)
    line = _line(found, person_id)
    return render_template("crew/dismiss.html", organisation=found.organisation, line=line)


@blueprint.post("/organisations/<organisation_id>/staff/<person_id>/dismiss")
@visitors(Visitor.OWNER, Visitor.ADMINISTRATOR)
def dismiss_staff(organisation_id: str, person_id: str) -> Response:
    """End all that a person leads in it."""
    with writing() as session:
        line = _line(staff_page(session, actor(), organisation_id), person_id)
        dismiss(session, actor(), organisation_id, person_id, now())
    flash(gettext("%(name)s leads nothing here any more.") % {"name": line.display_name}, "done")
    return redirect(url_for("crew.staff", organisation_id=organisation_id), 303)


def _rows(members: Iterable[MemberLine]) -> list[SkillRows]:
    showing = [member for member in members if member.skills is not None]
    found: dict[str, list[tuple[MemberLine, SkillLine]]] = {}
    for member in showing:
        for line in member.skills or ():
            found.setdefault(line.skill, []).append((member, line))
    return [_row(skill, lines, showing) for skill, lines in found.items()]


def _row(skill: str, lines: list[tuple[MemberLine, SkillLine]], showing: list[MemberLine]) -> SkillRows:
    begun = sorted((pair for pair in lines if pair[1].counted), key=lambda pair: -(pair[1].chance or 0.0))
    who = {member.person for member, _ in begun}
    first = lines[0][1]
    waiting = tuple(member.display_name for member in showing if member.person not in who)
    worded = tuple((member, line, below_title(line)) for member, line in begun)
    return SkillRows(skill, first.title, first.unit, worded, waiting)


def _picture(rows: Iterable[SkillRows], members: Iterable[MemberLine]) -> str:
    """The first people by name, each on every skill of which somebody's answers say something; "" where there is none."""
    stands = {
        (member.person, row.skill): Stands(line.chance * 10, (line.low or 0.0) * 10, (line.high or 0.0) * 10)
        for row in rows
        for member, line, _ in row.begun
        if line.chance is not None
    }
    known = {skill for _, skill in stands}
    skills = [(row.skill, row.title) for row in rows if row.skill in known]
    showing = [member for member in members if member.skills is not None][:MOST_PICTURED]
    people = [
        CrewRow(
            one.display_name, {skill: stands[one.person, skill] for skill, _ in skills if (one.person, skill) in stands}
        )
        for one in showing
    ]
    return draw_crew_skills(skills, people, Words(partial(say, language=language()))) if skills else ""


def _staff(organisation_id: str) -> StaffPage:
    with reading() as session:
        return staff_page(session, actor(), organisation_id)


def _line(found: StaffPage, person_id: str) -> StaffLine:
    """Someone of the staff; nobody else can be dismissed."""
    line = next((line for line in found.staff if line.person == person_id), None)
    if line is None:
        raise NotFoundError
    return line


def _whom(organisation_id: str, form: StaffForm) -> str:
    """Name of the person who would be appointed; "" where the form says why nobody is."""
    try:
        with reading() as session:
            typed = {"sign_in_name": form.sign_in_name.data, "role": form.role.data}
            return whom_to_appoint(session, actor(), organisation_id, **typed)
    except InputError as error:
        form.refuse_input(error)
        return ""


def _appointed(organisation_id: str, form: StaffForm) -> bool:
    try:
        with writing() as session:
            appoint(
                session,
                actor(),
                organisation_id,
                sign_in_name=form.sign_in_name.data,
                role=form.role.data,
                now=now(),
            )
    except InputError as error:
        form.refuse_input(error)
        return False
    return True


def _page(found: StaffPage, form: StaffForm) -> str:
    return render_template(
        "crew/staff.html",
        organisation=found.organisation,
        staff=found.staff,
        form=form,
        roles=ROLES_OF_KIND[found.organisation.kind],
        me=actor().public_id,
        looks_after_site=actor().is_site_administrator and not _owns(found),
    )


def _owns(found: StaffPage) -> bool:
    return any(one.organisation_public_id == found.organisation.public_id for one in actor().owns)
