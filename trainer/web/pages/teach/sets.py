"""Problem sets: the list of them, one of them, making, changing, copying and putting away."""

from __future__ import annotations

from collections.abc import Sequence
from urllib.parse import urlencode
from uuid import uuid4

from flask import flash, redirect, render_template, request, url_for
from msgspec import Struct
from werkzeug.wrappers import Response
from wtforms import StringField

from trainer.accounts.access import organisation_of_staff
from trainer.calc.message import InputError
from trainer.groups.questions import FamilyCount
from trainer.groups.sets import KeptSet, change_set, copy_set, make_set, problem_set, put_away, sets_of
from trainer.web.content import library
from trainer.web.forms import SHOWN_AGAIN, Filled, SiteForm, refusal
from trainer.web.language import Later, gettext
from trainer.web.pages.teach.blueprint import LEADERS, blueprint
from trainer.web.pages.teach.counts import COUNT, as_fields, read_counts
from trainer.web.pages.teach.listing import listing, read_wanted
from trainer.web.sessions import actor
from trainer.web.transactions import now, reading, writing
from trainer.web.visitors import visitors

__all__ = [
    "set_away",
    "set_change",
    "set_copy",
    "set_make",
    "set_name",
    "set_new",
    "set_new_name",
    "set_one",
    "set_questions",
    "sets",
]

KEY_LONGEST = 36


class SetForm(SiteForm):
    """What a set is called."""

    title = StringField(validators=[Filled(Later("Type what to call it, for example Offsets, first evening."))])
    #: Made with the page: a form that is sent twice makes one set.
    form_key = StringField()


class Steps(Struct, frozen=True):
    """Where the list, the name and the form of a set are, and the words and address of the way back."""

    list: str
    name: str
    form: str
    back: tuple[str, str]


@blueprint.get("/sets")
@visitors(*LEADERS)
def sets() -> str:
    """The sets of every school or shop in which one may make groups."""
    with reading() as session:
        found = sets_of(session, library(), actor())
    places = {one.organisation_public_id: one.organisation_name for one in actor().may_make_groups_in}
    return render_template("teach/sets.html", sets=found, kept_in=places)


@blueprint.get("/sets/new/<organisation_id>")
@visitors(*LEADERS)
def set_new(organisation_id: str) -> str:
    """What a new set asks."""
    _check_place(organisation_id)
    return _list(read_counts(request.args), _of_place(organisation_id))


@blueprint.get("/sets/new/<organisation_id>/name")
@visitors(*LEADERS)
def set_new_name(organisation_id: str) -> str | tuple[str, int]:
    """What a new set is called."""
    _check_place(organisation_id)
    chosen = read_counts(request.args)
    if not chosen:
        return _list(chosen, _of_place(organisation_id), error=_nothing()), SHOWN_AGAIN
    form = SetForm(formdata=None, form_key=str(uuid4()))
    return _naming(chosen, form, _of_place(organisation_id))


@blueprint.post("/sets/new/<organisation_id>")
@visitors(*LEADERS)
def set_make(organisation_id: str) -> Response | tuple[str, int]:
    """Keep it."""
    form, chosen = SetForm(), read_counts(request.form)
    _check_place(organisation_id)
    wrong = ""
    if form.validate_on_submit():
        more = {"name": form.title.data, "families": chosen, "form_key": _key(form), "now": now()}
        try:
            with writing() as session:
                made = make_set(session, library(), actor(), organisation_id, **more)
        except InputError as error:
            wrong = _put_on(form, error)
        else:
            flash(gettext("It is kept. All who teach here can give it."), "done")
            return redirect(url_for("teach.set_one", set_id=made), 303)
    place = _of_place(organisation_id)
    return (_list(chosen, place, error=wrong) if wrong else _naming(chosen, form, place)), SHOWN_AGAIN


@blueprint.get("/sets/<set_id>")
@visitors(*LEADERS)
def set_one(set_id: str) -> str:
    """One set: what it asks, what was given from it, and all that can be done with it."""
    found = _found(set_id)
    groups = [group for group in actor().leads if group.organisation_public_id == found.organisation]
    return render_template(
        "teach/set.html",
        set=found,
        groups=[group for group in groups if not group.group_is_archived],
        fields=as_fields(found.counts),
        zone=next(
            place.time_zone for place in actor().memberships if place.organisation_public_id == found.organisation
        ),
        form_key=str(uuid4()),
    )


@blueprint.get("/sets/<set_id>/questions")
@visitors(*LEADERS)
def set_questions(set_id: str) -> str:
    """What it is to ask from now on; begun with what it asks now."""
    found = _found(set_id)
    chosen = read_counts(request.args)
    return _list(chosen or found.counts, _of_set(found))


@blueprint.get("/sets/<set_id>/name")
@visitors(*LEADERS)
def set_name(set_id: str) -> str | tuple[str, int]:
    """What it is to be called from now on."""
    found = _found(set_id)
    chosen = read_counts(request.args)
    if not chosen:
        return _list(chosen, _of_set(found), error=_nothing()), SHOWN_AGAIN
    return _naming(chosen, SetForm(formdata=None, title=found.name), _of_set(found))


@blueprint.post("/sets/<set_id>")
@visitors(*LEADERS)
def set_change(set_id: str) -> Response | tuple[str, int]:
    """Change it."""
    found = _found(set_id)
    form, chosen = SetForm(), read_counts(request.form)
    wrong = ""
    if form.validate_on_submit():
        more = {"name": form.title.data, "families": chosen, "now": now()}
        try:
            with writing() as session:
                change_set(session, library(), actor(), set_id, **more)
        except InputError as error:
            wrong = _put_on(form, error)
        else:
            flash(gettext("It is changed. What was given from it stays as it was."), "done")
            return redirect(url_for("teach.set_one", set_id=set_id), 303)
    place = _of_set(found)
    return (_list(chosen, place, error=wrong) if wrong else _naming(chosen, form, place)), SHOWN_AGAIN


@blueprint.post("/sets/<set_id>/copy")
@visitors(*LEADERS)
def set_copy(set_id: str) -> Response:
    """A copy to be changed."""
    found = _found(set_id)
    name = gettext("%(name)s, copy") % {"name": found.name}
    key = request.form.get("form_key", "")[:KEY_LONGEST]
    try:
        with writing() as session:
            made = copy_set(session, library(), actor(), set_id, form_key=key, name=name, now=now())
    except InputError:
        said = gettext("Nothing that this set asks is asked any more, so there is nothing to copy. Change it first.")
        flash(said, "problem")
        return redirect(url_for("teach.set_one", set_id=set_id), 303)
    flash(gettext("This is the copy."), "done")
    return redirect(url_for("teach.set_one", set_id=made), 303)


@blueprint.post("/sets/<set_id>/away")
@visitors(*LEADERS)
def set_away(set_id: str) -> Response:
    """Put it away."""
    with writing() as session:
        put_away(session, actor(), set_id, now())
    flash(gettext("It is put away. What was given from it stays."), "done")
    return redirect(url_for("teach.sets"), 303)


def _found(set_id: str) -> KeptSet:
    with reading() as session:
        return problem_set(session, library(), actor(), set_id)


def _check_place(organisation_id: str) -> None:
    with reading() as session:
        organisation_of_staff(session, actor(), organisation_id)


def _key(form: SetForm) -> str:
    return (form.form_key.data or "")[:KEY_LONGEST]


def _put_on(form: SetForm, error: InputError) -> str:
    """What is wrong with the questions; "" where the form says what is wrong."""
    if error.field == "families":
        return refusal(error)
    form.refuse_input(error)
    return ""


def _nothing() -> str:
    return gettext("Choose at least one question: how many of it are asked.")


def _of_place(organisation_id: str) -> Steps:
    """The steps of making a set."""
    list_, name, form = (
        url_for(f"teach.{step}", organisation_id=organisation_id) for step in ("set_new", "set_new_name", "set_make")
    )
    return Steps(list_, name, form, (gettext("Problem sets"), url_for("teach.sets")))


def _of_set(found: KeptSet) -> Steps:
    """The steps of changing one."""
    steps = ("set_questions", "set_name", "set_change")
    list_, name, form = (url_for(f"teach.{step}", set_id=found.set) for step in steps)
    return Steps(list_, name, form, (found.name, url_for("teach.set_one", set_id=found.set)))


def _list(chosen: Sequence[FamilyCount], steps: Steps, *, error: str = "") -> str:
    return render_template(
        "teach/choose.html",
        group=None,
        listed=listing(read_wanted(request.args), chosen),
        prefix=COUNT,
        error=error,
        back=steps.back,
        here=steps.list,
        onward=steps.name,
        taken="",
    )


def _naming(chosen: Sequence[FamilyCount], form: SetForm, steps: Steps) -> str:
    fields = as_fields(chosen)
    return render_template(
        "teach/set_name.html",
        form=form,
        action=steps.form,
        list_href=f"{steps.list}?{urlencode(fields)}",
        fields=fields,
        chosen=[(library().givable[asked.family_id].title, asked.count) for asked in chosen],
    )
