"""Bench night: set checks, go from bench to bench, count sticks and misses; the cards for print."""

from __future__ import annotations

from flask import flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from trainer.calc.message import InputError
from trainer.groups.bench_night import BenchNight, bench_night
from trainer.groups.hands_on import set_checks
from trainer.problems.hands_on import KINDS, pictured
from trainer.web.forms import SHOWN_AGAIN, refusal
from trainer.web.language import gettext, language, ngettext
from trainer.web.navigation import LEADERS
from trainer.web.pages.hands_on.blueprint import asked_before, blueprint, inches
from trainer.web.papers.cards import card_code, cards_paper
from trainer.web.papers.sheet import pdf_file
from trainer.web.sessions import actor
from trainer.web.transactions import now, reading, writing
from trainer.web.visitors import visitors

__all__ = ["cards", "cards_on_paper", "give", "night"]

#: Earlier checks that are listed, the newest first.
MOST_BEFORE = 60


@blueprint.get("/groups/<group_id>/checks")
@visitors(*LEADERS)
def night(group_id: str) -> str:
    """What is open, what was signed today, sticks and misses; and the form that sets checks."""
    found = _found(group_id)
    return _page(found, people=[public_id for public_id, _ in found.members])


@blueprint.post("/groups/<group_id>/checks")
@visitors(*LEADERS)
def give(group_id: str) -> Response | tuple[str, int]:
    """Set a check for those who are ticked."""
    people, kind, size = (request.form.getlist("people"), request.form.get("kind", ""), request.form.get("size", ""))
    try:
        with writing() as session:
            made = set_checks(session, actor(), group_id, people=people, kind=kind, trade_size=size, now=now())
    except InputError as error:
        field = "size" if error.field == "trade_size" else error.field or "kind"
        return _page(_found(group_id), people=people, kind=kind, size=size, error=(field, refusal(error))), SHOWN_AGAIN
    if made:
        said = ngettext("One check set.", "%(num)d checks set, each with its own numbers.", len(made))
        flash(said % {"num": len(made)}, "done")
    else:
        flash(gettext("All of them have this check open already."), "done")
    return redirect(url_for("hands_on.night", group_id=group_id), 303)


@blueprint.get("/groups/<group_id>/checks/cards")
@visitors(*LEADERS)
def cards(group_id: str) -> str:
    """A card for each open check: the learner's own numbers, and lines for what is measured."""
    found = _found(group_id)
    drawn = {one.public_id: pictured(one.sheet, language=language(), key=one.public_id) for one in found.open}
    return render_template("hands_on/cards.html", night=found, drawn=drawn, asked=asked_before, card_code=card_code)


@blueprint.get("/groups/<group_id>/checks/cards.pdf")
@visitors(*LEADERS)
def cards_on_paper(group_id: str) -> Response:
    """The same as a file for the printer, with a cover that counts sticks."""
    found = _found(group_id)
    return pdf_file(cards_paper(found, actor()), gettext("bench night %(group)s") % {"group": found.group.name})


def _found(group_id: str) -> BenchNight:
    with reading() as session:
        return bench_night(session, actor(), group_id, now())


def _page(
    found: BenchNight, *, people: list[str], kind: str = "", size: str = "", error: tuple[str, str] | None = None
) -> str:
    sizes = tuple(dict.fromkeys(size for one in KINDS.values() for size in one.sizes))
    return render_template(
        "hands_on/night.html",
        night=found,
        before=found.before[:MOST_BEFORE],
        kinds=KINDS.values(),
        sizes=sizes,
        people=people,
        kind=kind or next(iter(KINDS)),
        size=size or sizes[0],
        error=error,
        inches=inches,
        card_code=card_code,
    )
