"""Giving work in two steps: first what is asked, then what it is called and when it is due."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from uuid import uuid4
from zoneinfo import ZoneInfo

from flask import flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response
from wtforms import StringField
from wtforms.validators import ValidationError

from trainer.accounts.access import GroupRef, group_led_by
from trainer.calc.message import InputError
from trainer.groups.assigned import KINDS, FamilyCount, assign
from trainer.problems.family import Family
from trainer.problems.job import Job
from trainer.web.content import edition_of, library
from trainer.web.forms import SHOWN_AGAIN, Filled, SiteForm, refusal
from trainer.web.kinds import KIND_WORDS, rule_of
from trainer.web.language import Later, gettext
from trainer.web.pages.teach.blueprint import LEADERS, blueprint
from trainer.web.pages.teach.counts import COUNT, as_fields, read_counts
from trainer.web.sessions import actor
from trainer.web.transactions import now, reading, writing
from trainer.web.units import by_unit
from trainer.web.visitors import visitors

__all__ = ["choose", "give", "name"]

A_WEEK = timedelta(days=7)
KEY_LONGEST = 36
SAME = "same"


class WorkForm(SiteForm):
    """What work is called, where it is done, with whose numbers, and the day until which it is to be done."""

    kind = StringField(default="home")
    numbers = StringField(default="each")
    title = StringField(validators=[Filled(Later("Type what to call it, for example Offsets for Thursday."))])
    #: Made with the page: a form that is sent twice gives the work once.
    form_key = StringField()
    due_on = StringField(validators=[Filled(Later("Type the day on which it is due."))])

    def validate_due_on(self, field: StringField) -> None:
        """It has to be a day."""
        try:
            date.fromisoformat(field.data.strip())
        except ValueError:
            said = gettext("Type a day as year, month and day: this one could not be read. For example: %(day)s")
            raise ValidationError(said % {"day": now().date() + A_WEEK}) from None


@blueprint.get("/groups/<group_id>/work/new")
@visitors(*LEADERS)
def choose(group_id: str) -> str:
    """How many of which questions."""
    with reading() as session:
        group = group_led_by(session, actor(), group_id)
    return _list(group, read_counts(request.args))


@blueprint.get("/groups/<group_id>/work/new/name")
@visitors(*LEADERS)
def name(group_id: str) -> str | tuple[str, int]:
    """What the chosen questions are called together, where they are done, and when they are due."""
    with reading() as session:
        group = group_led_by(session, actor(), group_id)
    chosen = read_counts(request.args)
    if not chosen:
        return _list(group, chosen, gettext("Choose at least one question: how many of it are asked.")), SHOWN_AGAIN
    today = now().astimezone(ZoneInfo(group.organisation.time_zone)).date()
    fresh = WorkForm(formdata=None, due_on=(today + A_WEEK).isoformat(), form_key=str(uuid4()))
    return _naming(group, chosen, fresh)


@blueprint.post("/groups/<group_id>/work")
@visitors(*LEADERS)
def give(group_id: str) -> Response | tuple[str, int]:
    """Give it; work in the room leads to the page from which it is opened."""
    form, chosen = WorkForm(), read_counts(request.form)
    given = _given(group_id, form, chosen) if form.validate_on_submit() else Given("")
    if given.work:
        if form.kind.data == "room":
            flash(gettext("It is given. Open it here when everybody is ready."), "done")
            return redirect(url_for("teach.room", room_id=given.work), 303)
        flash(gettext("It is given. Who is in the group finds it on the page of the day."), "done")
        return redirect(url_for("teach.group", group_id=group_id), 303)
    with reading() as session:
        group = group_led_by(session, actor(), group_id)
    page = _list(group, chosen, given.wrong) if given.wrong else _naming(group, chosen, form)
    return page, SHOWN_AGAIN


@dataclass(frozen=True, slots=True)
class Given:
    """What was given, or what is wrong with its questions; neither where the form says what is wrong."""

    work: str
    wrong: str = ""


def _given(group_id: str, form: WorkForm, chosen: Sequence[FamilyCount]) -> Given:
    try:
        with writing() as session:
            work = assign(
                session,
                library(),
                actor(),
                group_id,
                title=form.title.data,
                families=chosen,
                due_on=date.fromisoformat(form.due_on.data.strip()),
                kind=form.kind.data,
                same_numbers=form.numbers.data == SAME,
                edition=edition_of(session),
                form_key=(form.form_key.data or "")[:KEY_LONGEST],
                now=now(),
            )
    except InputError as error:
        if error.field == "families":
            return Given("", refusal(error))
        form.refuse_input(error)
        return Given("")
    return Given(work)


def _list(group: GroupRef, chosen: Sequence[FamilyCount], error: str = "") -> str:
    skills = [skill for skill in library().skills.values() if library().asks(skill.id)]
    return render_template(
        "teach/choose.html",
        group=group,
        units=by_unit(skills),
        families={skill.id: _givable(skill.id) for skill in skills},
        counts={one.family_id: one.count for one in chosen},
        prefix=COUNT,
        error=error,
    )


def _givable(skill: str) -> list[Family | Job]:
    """What can be given in a skill; a job stands under the skill of its first part."""
    return [family.job.job if family.job else family for family in library().families_of(skill)]


def _naming(group: GroupRef, chosen: Sequence[FamilyCount], form: WorkForm) -> str:
    return render_template(
        "teach/name.html",
        group=group,
        form=form,
        kinds=[(kind, KIND_WORDS[kind], rule_of(kind)) for kind in KINDS],
        chosen=[(library().givable[one.family_id].title, one.count) for one in chosen],
        fields=as_fields(chosen),
    )
