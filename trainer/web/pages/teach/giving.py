"""Giving work in two steps: first what is asked, then what it is called, where it is done, and until when."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from functools import partial
from uuid import NAMESPACE_URL, uuid4, uuid5
from zoneinfo import ZoneInfo

from flask import flash, redirect, render_template, request, url_for
from msgspec import Struct
from sqlalchemy.orm import Session
from werkzeug.wrappers import Response
from wtforms import StringField
from wtforms.validators import ValidationError

from trainer.accounts.access import GroupRef, NotFoundError, group_led_by, problem_set_of_staff
from trainer.accounts.actor import ActorMembership
from trainer.calc.message import InputError
from trainer.groups.assigned import KINDS, FamilyCount, assign
from trainer.groups.gets_wrong import got_wrong
from trainer.groups.sets import make_set
from trainer.web.content import edition_of, library
from trainer.web.forms import SHOWN_AGAIN, Filled, SiteForm, refusal
from trainer.web.kinds import KIND_WORDS, rule_of
from trainer.web.language import Later, gettext
from trainer.web.pages.teach.blueprint import LEADERS, blueprint
from trainer.web.pages.teach.counts import COUNT, as_fields, read_counts
from trainer.web.pages.teach.listing import listing, read_wanted
from trainer.web.sessions import actor
from trainer.web.transactions import now, reading, writing
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


class Given(Struct, frozen=True):
    """What was given, or what is wrong with its questions; neither where the form says what is wrong."""

    work: str
    wrong: str = ""


@blueprint.get("/groups/<group_id>/work/new")
@visitors(*LEADERS)
def choose(group_id: str) -> str:
    """How many of which questions."""
    return _list(group_id, read_counts(request.args))


@blueprint.get("/groups/<group_id>/work/new/name")
@visitors(*LEADERS)
def name(group_id: str) -> str | tuple[str, int]:
    """What the chosen questions are called together, where they are done, and when they are due."""
    chosen = read_counts(request.args)
    if not chosen:
        return _list(group_id, chosen, gettext("Choose at least one question: how many of it are asked.")), SHOWN_AGAIN
    with reading() as session:
        group = group_led_by(session, actor(), group_id)
        taken = _set(session, request.args.get("set", ""))
    today = now().astimezone(ZoneInfo(group.organisation.time_zone)).date()
    title = taken[1] if taken else ""
    fresh = WorkForm(formdata=None, title=title, due_on=(today + A_WEEK).isoformat(), form_key=str(uuid4()))
    return _naming(group, chosen, fresh, request.args.get("set", "") if taken else "")


@blueprint.post("/groups/<group_id>/work")
@visitors(*LEADERS)
def give(group_id: str) -> Response | tuple[str, int]:
    """Give it; what is done in the room leads to where it is opened, on paper to where its sheets are made."""
    form, chosen = WorkForm(), read_counts(request.form)
    given = _given(group_id, form, chosen) if form.validate_on_submit() else Given("")
    if given.work:
        if form.kind.data == "room":
            flash(gettext("It is given. Open it here when everybody is ready."), "done")
            return redirect(url_for("teach.room", room_id=given.work), 303)
        if form.kind.data == "paper":
            flash(gettext("It is given. Make the sheets here and print them."), "done")
            return redirect(url_for("teach.sheets", work_id=given.work), 303)
        flash(gettext("It is given. Who is in the group finds it on the page of the day."), "done")
        return redirect(url_for("teach.group", group_id=group_id), 303)
    if given.wrong:
        return _list(group_id, chosen, given.wrong), SHOWN_AGAIN
    with reading() as session:
        group = group_led_by(session, actor(), group_id)
    return _naming(group, chosen, form, request.form.get("set", "")), SHOWN_AGAIN


def _given(group_id: str, form: WorkForm, chosen: Sequence[FamilyCount]) -> Given:
    """Give it to the group and to the others that were ticked, and keep it as a set where that was; all or nothing."""
    key = (form.form_key.data or "")[:KEY_LONGEST]
    try:
        with writing() as session:
            group = group_led_by(session, actor(), group_id)
            set_id = _kept_as_set(session, group, form, chosen, key)
            give_to = partial(_give_to, session, form, chosen, set_id)
            work = give_to(group_id, form_key=key)
            for one in _also(group):
                give_to(one, form_key=_key_for(key, one))
    except InputError as error:
        if error.field == "families":
            return Given("", refusal(error))
        form.refuse_input(error)
        return Given("")
    return Given(work)


def _give_to(
    session: Session,
    form: WorkForm,
    chosen: Sequence[FamilyCount],
    set_id: int | None,
    group_id: str,
    *,
    form_key: str,
) -> str:
    return assign(
        session,
        library(),
        actor(),
        group_id,
        title=form.title.data,
        families=chosen,
        due_on=date.fromisoformat(form.due_on.data.strip()),
        kind=form.kind.data,
        same_numbers=form.numbers.data == SAME,
        problem_set_id=set_id,
        form_key=form_key,
        edition=edition_of(session),
        now=now(),
    )


def _kept_as_set(
    session: Session, group: GroupRef, form: WorkForm, chosen: Sequence[FamilyCount], key: str
) -> int | None:
    """The set that the questions come from, or that they are kept as; None for neither."""
    taken = _set(session, request.form.get("set", ""))
    if taken is not None or "keep" not in request.form or not _may_keep(group):
        return taken[0] if taken else None
    more = {"name": form.title.data, "families": chosen, "form_key": key, "now": now()}
    made = make_set(session, library(), actor(), group.organisation.public_id, **more)
    return problem_set_of_staff(session, actor(), made).id


def _set(session: Session, set_id: str) -> tuple[int, str] | None:
    """Key and name of a set that one may see; None for none."""
    try:
        found = problem_set_of_staff(session, actor(), set_id)
    except NotFoundError:
        return None
    return found.id, found.name


def _key_for(key: str, group_id: str) -> str:
    """The key of the form for another group: one form gives one work to each."""
    return str(uuid5(NAMESPACE_URL, f"{key}:{group_id}")) if key else ""


def _also(group: GroupRef) -> list[str]:
    """The other groups that were ticked."""
    ticked = request.form.getlist("also")
    return [one.group_public_id for one in _others(group) if one.group_public_id in ticked]


def _others(group: GroupRef) -> list[ActorMembership]:
    """Other groups of the same school or shop that one leads."""
    led = {one.group_public_id: one for one in actor().leads if one.organisation_id == group.organisation.id}
    return [one for one in led.values() if one.group_public_id != group.public_id and not one.group_is_archived]


def _may_keep(group: GroupRef) -> bool:
    return any(one.organisation_id == group.organisation.id for one in actor().may_make_groups_in)


def _list(group_id: str, chosen: Sequence[FamilyCount], error: str = "") -> str:
    with reading() as session:
        group = group_led_by(session, actor(), group_id)
        wrong = got_wrong(session, library(), group, now())
    return render_template(
        "teach/choose.html",
        group=group,
        listed=listing(read_wanted(request.args), chosen, wrong),
        prefix=COUNT,
        error=error,
        back=(group.name, url_for("teach.group", group_id=group_id)),
        here=url_for("teach.choose", group_id=group_id),
        onward=url_for("teach.name", group_id=group_id),
        taken=request.args.get("set", ""),
    )


def _naming(group: GroupRef, chosen: Sequence[FamilyCount], form: WorkForm, set_id: str) -> str:
    return render_template(
        "teach/name.html",
        group=group,
        form=form,
        kinds=[(kind, KIND_WORDS[kind], rule_of(kind)) for kind in KINDS],
        chosen=[(library().givable[one.family_id].title, one.count) for one in chosen],
        fields=as_fields(chosen) | ({"set": set_id} if set_id else {}),
        set_id=set_id,
        others=[(one.group_public_id, one.group_name, "") for one in _others(group)],
        also=request.form.getlist("also"),
        may_keep=_may_keep(group),
    )
