"""The own record: every skill in words, and the answers behind it."""

from __future__ import annotations

from flask import render_template

from trainer.accounts.access import NotFoundError
from trainer.groups.asked import asked_for
from trainer.progress.evidence import evidence
from trainer.progress.proof import view_proof
from trainer.progress.record import skills_of
from trainer.progress.replay import states_after
from trainer.web.content import library
from trainer.web.course import course_drawing
from trainer.web.pages.learn.blueprint import blueprint
from trainer.web.recorded import as_read, below_title
from trainer.web.sessions import actor
from trainer.web.transactions import now, reading
from trainer.web.units import by_unit
from trainer.web.visitors import Visitor, visitors

__all__ = ["record", "record_skill"]

MOST_ANSWERS = 30


@blueprint.get("/record")
@visitors(Visitor.SIGNED_IN)
def record() -> str:
    """Where one stands on each skill."""
    with reading() as session:
        lines = skills_of(session, library(), actor().person_id, now())
    begun = [line for line in lines if line.counted]
    return render_template(
        "learn/record.html",
        units=by_unit(begun),
        words={line.skill: below_title(line) for line in begun},
        waiting=[line for line in lines if not line.counted],
    )


@blueprint.get("/record/<skill>")
@visitors(Visitor.SIGNED_IN)
def record_skill(skill: str) -> str:
    """The answers behind one skill, the newest first."""
    with reading() as session:
        lines = skills_of(session, library(), actor().person_id, now())
        line = next((line for line in lines if line.skill == skill), None)
        if line is None:
            raise NotFoundError
        states = states_after(session, actor().person_id, skill)
        answers = evidence(session, library(), actor().person_id, skill, limit=MOST_ANSWERS)
        asked = asked_for(session, actor().person_id, skill)
        proof = view_proof(
            session,
            library(),
            actor().person_id,
            skill,
            now=now(),
            zone=actor().zone,
            line=asked.line,
            valid=asked.valid,
        )
    shown = [(answer, as_read(answer.family_id, answer.typed)) for answer in answers]
    return render_template(
        "learn/record_skill.html",
        line=line,
        course=course_drawing(line.title, states, actor().zone),
        words=below_title(line),
        answers=shown,
        most=MOST_ANSWERS,
        practised=library().asks(skill),
        proof=proof,
    )
