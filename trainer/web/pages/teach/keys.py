"""Keys in doubt: the queue of what learners say, one claim, and what is decided about a key, with who is touched shown first."""

from __future__ import annotations

from flask import flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response
from wtforms import StringField

from trainer.calc.message import InputError
from trainer.groups.claim_page import ClaimPage, claim_page
from trainer.groups.claims import claims_waiting
from trainer.groups.claims import reply as answer_claim
from trainer.groups.key_questions import MOST_COUNTED, Decision, key_in_question
from trainer.groups.key_rulings import Preview
from trainer.groups.key_rulings import preview as foresee
from trainer.groups.key_rulings import rule as decide
from trainer.problems.worked import drawing
from trainer.progress.called import called
from trainer.text.markdown import inline_html, to_html
from trainer.web.content import library
from trainer.web.forms import SHOWN_AGAIN, Filled, SiteForm
from trainer.web.language import Later, gettext, language, ngettext
from trainer.web.navigation import KEEPERS
from trainer.web.pages.teach.blueprint import LEADERS, blueprint
from trainer.web.recorded import as_read
from trainer.web.sessions import actor
from trainer.web.transactions import now, reading, writing
from trainer.web.visitors import kinds_of, visitors

__all__ = ["answer_of_claim", "claim", "claims", "key", "leads", "rule_key"]

DESKS = LEADERS | KEEPERS


def leads() -> bool:
    """Whether the one who asks has groups to go back to; who looks after the site may have none."""
    return not LEADERS.isdisjoint(kinds_of(actor()))


class ReplyForm(SiteForm):
    """What the learner reads."""

    reply = StringField(validators=[Filled(Later("Write what the learner reads: where the slip is."))])


class DecisionForm(SiteForm):
    """What is done about a key."""

    remedy = StringField(validators=[Filled(Later("Choose what is done about it."))])
    accepts = StringField()
    reason = StringField(validators=[Filled(Later("Write why, in a line. Everybody whom it touches reads it."))])


@blueprint.get("/keys")
@visitors(*DESKS)
def claims() -> str:
    """What learners say is wrong: first what waits."""
    with reading() as session:
        found = claims_waiting(session, library(), actor())
    return render_template("keys/claims.html", claims=found, leads=leads(), zone=actor().zone.key)


@blueprint.get("/keys/<claim_id>")
@visitors(*DESKS)
def claim(claim_id: str) -> str:
    """One claim: the problem as issued, the key with its steps, what was answered and what is said."""
    return _claim(claim_id, ReplyForm(formdata=None))


@blueprint.post("/keys/<claim_id>")
@visitors(*DESKS)
def answer_of_claim(claim_id: str) -> Response | tuple[str, int]:
    """The key is right: say so to the learner."""
    form = ReplyForm()
    if form.validate_on_submit() and _replied(claim_id, form):
        flash(gettext("Answered. It stands on the learner’s page of the problem, and under Today."), "done")
        return redirect(url_for("teach.claims"), 303)
    return _claim(claim_id, form), SHOWN_AGAIN


@blueprint.get("/keys/of/<rules>")
@visitors(*DESKS)
def key(rules: str) -> str | tuple[str, int]:
    """What can be done about a key; once a way is chosen, whose results it changes."""
    if "remedy" not in request.args:
        return _key(rules, DecisionForm(formdata=None), None)
    form = DecisionForm(request.args, meta={"csrf": False})
    found = _foreseen(rules, form) if form.validate() else None
    return _key(rules, form, found) if found else (_key(rules, form, None), SHOWN_AGAIN)


@blueprint.post("/keys/of/<rules>")
@visitors(*DESKS)
def rule_key(rules: str) -> Response | tuple[str, int]:
    """Do it."""
    form = DecisionForm()
    people = _decided(rules, form) if form.validate_on_submit() else None
    if people is None:
        return _key(rules, form, None), SHOWN_AGAIN
    said = gettext("Decided, and noted.")
    if people:
        changed = ngettext(
            "One person’s result was graded again.", "%(num)d people’s results were graded again.", people
        )
        said = f"{said} {changed % {'num': people}}"
    flash(said, "done")
    return redirect(url_for("teach.key", rules=rules), 303)


def _replied(claim_id: str, form: ReplyForm) -> bool:
    try:
        with writing() as session:
            answer_claim(session, actor(), claim_id, words=form.reply.data, now=now())
    except InputError as error:
        form.refuse_input(error)
        return False
    return True


def _decision(form: DecisionForm) -> Decision:
    return Decision(form.remedy.data or "", form.accepts.data or "", form.reason.data or "")


def _foreseen(rules: str, form: DecisionForm) -> Preview | None:
    try:
        # A write session on a GET: that somebody looked at results is noted, for the learners to see.
        with writing() as session:
            return foresee(session, library(), actor(), rules, _decision(form), now=now())
    except InputError as error:
        form.refuse_input(error)
        return None


def _decided(rules: str, form: DecisionForm) -> int | None:
    try:
        with writing() as session:
            return decide(session, library(), actor(), rules, _decision(form), now=now())
    except InputError as error:
        form.refuse_input(error)
        return None


def _claim(claim_id: str, form: ReplyForm) -> str:
    with reading() as session:
        found: ClaimPage = claim_page(session, library(), actor(), claim_id, language=language())
    family = library().families.get(found.page.family_id)
    return render_template(
        "keys/claim.html",
        found=found,
        page=found.page,
        form=form,
        zone=actor().zone.key,
        as_read=as_read,
        called=lambda mistake: called(mistake, family),
    )


def _key(rules: str, form: DecisionForm, found: Preview | None) -> str:
    with reading() as session:
        question = found.question if found else key_in_question(session, library(), actor(), rules)
    return render_template(
        "keys/key.html",
        question=question,
        most_counted=MOST_COUNTED,
        asked=to_html(question.example.text),
        options=[inline_html(one.text) for one in question.example.options],
        figure=drawing(question.family, question.example, solved=False, language=language()),
        found=found,
        form=form,
        zone=actor().zone.key,
        as_read=as_read,
    )
