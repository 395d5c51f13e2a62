"""What the job showed of a member: the findings so far, a new one, and withdrawing one of one's own."""

from __future__ import annotations

from flask import flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response
from wtforms import FileField, SelectField, StringField

from trainer.calc.message import InputError
from trainer.groups.finding_photos import add_photo
from trainer.groups.findings import LONGEST_NOTE, FindingsPage, finding_to_withdraw, findings_page, report, withdraw
from trainer.progress.field import FindingKind
from trainer.web.content import library
from trainer.web.forms import SHOWN_AGAIN, Filled, SiteForm
from trainer.web.language import Later, gettext
from trainer.web.pages.teach.blueprint import LEADERS, blueprint
from trainer.web.pages.teach.finding_photos import photo_at
from trainer.web.photos import MOST_READ, PHOTO_LIMITS, is_photo_sent, sent_photograph
from trainer.web.security import reads_up_to
from trainer.web.sessions import actor
from trainer.web.transactions import now, reading, writing
from trainer.web.visitors import visitors

__all__ = ["ask_to_withdraw_finding", "findings", "report_finding", "withdraw_finding"]


class FindingForm(SiteForm):
    """What was found, of which skill, a line about it, and a photograph where there is one."""

    kind = StringField(validators=[Filled(Later("Choose what the job showed."))])
    skill = SelectField(validators=[Filled(Later("Choose the skill that it is about."))], validate_choice=False)
    note = StringField(validators=[Filled(Later("Write a line about it: where, and what was wrong or good."))])
    photo = FileField()
    shows = StringField()

    @property
    def has_photo(self) -> bool:
        """Whether a photograph goes with it: one was chosen, or it is said what one shows."""
        return is_photo_sent() or bool((self.shows.data or "").strip())


class WithdrawForm(SiteForm):
    """Why."""

    reason = StringField(validators=[Filled(Later("Write why it is withdrawn. The person reads it."))])


@blueprint.get("/groups/<group_id>/people/<person_id>/findings")
@visitors(*LEADERS)
def findings(group_id: str, person_id: str) -> str:
    """The findings about a member, and the form for a new one."""
    # A write session on a GET: that somebody looked is noted, for the member to see.
    with writing() as session:
        found = findings_page(session, actor(), group_id, person_id, now())
    return _page(found, FindingForm(formdata=None, skill=request.args.get("skill", "")))


@blueprint.post("/groups/<group_id>/people/<person_id>/findings")
@visitors(*LEADERS)
@reads_up_to(MOST_READ)
def report_finding(group_id: str, person_id: str) -> Response | tuple[str, int]:
    """Report what the job showed."""
    form = FindingForm()
    if form.validate_on_submit() and _reported(group_id, person_id, form):
        flash(gettext("Reported. The person reads it under Record, and that it was you."), "done")
        return redirect(url_for("teach.findings", group_id=group_id, person_id=person_id), 303)
    with writing() as session:
        found = findings_page(session, actor(), group_id, person_id, now())
    return _page(found, form), SHOWN_AGAIN


@blueprint.get("/groups/<group_id>/people/<person_id>/findings/<finding_id>/withdraw")
@visitors(*LEADERS)
def ask_to_withdraw_finding(group_id: str, person_id: str, finding_id: str) -> str:
    """Why it is withdrawn."""
    return _withdrawing(group_id, person_id, finding_id, WithdrawForm(formdata=None))


@blueprint.post("/groups/<group_id>/people/<person_id>/findings/<finding_id>/withdraw")
@visitors(*LEADERS)
def withdraw_finding(group_id: str, person_id: str, finding_id: str) -> Response | tuple[str, int]:
    """Withdraw it."""
    form = WithdrawForm()
    if form.validate_on_submit() and _withdrawn(group_id, finding_id, form):
        flash(gettext("Withdrawn. It stays to be read, with your reason, and changes nothing any more."), "done")
        return redirect(url_for("teach.findings", group_id=group_id, person_id=person_id), 303)
    return _withdrawing(group_id, person_id, finding_id, form), SHOWN_AGAIN


def _reported(group_id: str, person_id: str, form: FindingForm) -> bool:
    try:
        photograph = sent_photograph() if form.has_photo else None
        with writing() as session:
            finding = report(
                session,
                library(),
                actor(),
                group_id,
                person_id,
                skill=form.skill.data,
                kind=form.kind.data,
                note=form.note.data,
                now=now(),
            )
            if photograph:
                # One transaction: a photograph that is refused takes its finding along, and the form is shown again.
                add_photo(session, actor(), group_id, finding, photograph, shows=form.shows.data, now=now())
    except InputError as error:
        form.refuse_input(error)
        return False
    return True


def _withdrawn(group_id: str, finding_id: str, form: WithdrawForm) -> bool:
    try:
        with writing() as session:
            withdraw(session, actor(), group_id, finding_id, reason=form.reason.data, now=now())
    except InputError as error:
        form.refuse_input(error)
        return False
    return True


def _page(found: FindingsPage, form: FindingForm) -> str:
    skills = [(skill.id, skill.title) for skill in library().skills.values() if library().asks(skill.id)]
    form.skill.choices = [("", gettext("Choose a skill")), *skills]
    return render_template(
        "teach/findings.html",
        learner=found.learner,
        group=found.learner.group,
        findings=found.findings,
        titles={skill.id: skill.title for skill in library().skills.values()},
        form=form,
        kinds=tuple(FindingKind),
        longest=LONGEST_NOTE,
        limits=PHOTO_LIMITS,
        me=actor().person_id,
        photo_at=photo_at(found.learner.group.public_id, found.learner.public_id),
    )


def _withdrawing(group_id: str, person_id: str, finding_id: str, form: WithdrawForm) -> str:
    with reading() as session:
        learner, finding = finding_to_withdraw(session, actor(), group_id, person_id, finding_id)
    return render_template(
        "teach/withdraw_finding.html",
        learner=learner,
        group=learner.group,
        finding=finding,
        title=library().skills[finding.skill].title if finding.skill in library().skills else finding.skill,
        form=form,
    )
