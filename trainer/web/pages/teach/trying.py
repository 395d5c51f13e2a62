"""A set tried by who is to give it: each question as a learner meets it. Nothing is recorded, all stands in the address."""

from __future__ import annotations

from flask import render_template, request, url_for

from trainer.accounts.access import NotFoundError, problem_set_of_staff
from trainer.groups.questions import lines_for
from trainer.groups.sets import problem_set
from trainer.groups.trying import Trial, try_out
from trainer.problems.ordering import in_places
from trainer.text.words import say
from trainer.web.content import edition_of, library
from trainer.web.language import gettext, language
from trainer.web.pages.learn.problem import Kept, answers_sent
from trainer.web.pages.tables import tables_for
from trainer.web.pages.teach.blueprint import LEADERS, blueprint
from trainer.web.sessions import actor
from trainer.web.transactions import now, reading
from trainer.web.visitors import visitors

__all__ = ["trying"]

MOST_NUMBERS = 99


@blueprint.get("/sets/<set_id>/try/<int(max=999):nth>")
@visitors(*LEADERS)
def trying(set_id: str, nth: int) -> str:
    """One question of the set; `numbers` gives others, `hints` so many hints, `steps` gives up."""
    with reading() as session:
        place = problem_set_of_staff(session, actor(), set_id)
        found = problem_set(session, library(), actor(), set_id)
        edition = edition_of(session)
    shelf = library().under(place.organisation.local_rules)
    lines = lines_for(shelf, found.counts)
    if not 1 <= nth <= len(lines):
        raise NotFoundError
    numbers = min(max(request.args.get("numbers", 1, type=int), 1), MOST_NUMBERS)
    hints = request.args.get("hints", 0, type=int)
    typed = tuple(text for text in in_places(answers_sent(request.args)) if text)
    given = (typed[0] if len(typed) == 1 else typed) if typed else None
    steps = "steps" in request.args
    trial = try_out(
        shelf, lines[nth - 1], _seed(nth, numbers), edition=edition, given=given, give_up=steps, hints=hints, now=now()
    )
    return render_template(
        "teach/trying.html",
        set=found,
        page=trial.page,
        kept=Kept(typed, error=_unreadable(trial)),
        nth=nth,
        lines=len(lines),
        numbers=numbers,
        another=url_for("teach.trying", set_id=set_id, nth=nth, numbers=numbers % MOST_NUMBERS + 1),
        onward=url_for("teach.trying", set_id=set_id, nth=nth + 1) if nth < len(lines) else "",
        tables=tables_for(trial.page.skill.split(".")[0]),
    )


def _seed(nth: int, numbers: int) -> int:
    """Questions of one family that stand in a set several times have different numbers."""
    return numbers * 1000 + nth


def _unreadable(trial: Trial) -> str:
    """Why an answer is not taken; "" where it is."""
    if trial.unreadable is None:
        return ""
    return gettext("Not counted as a try. %(reason)s") % {"reason": say(trial.unreadable, language())}
