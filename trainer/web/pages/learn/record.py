"""The own record: every skill in words, and the answers behind it."""

from __future__ import annotations

from flask import render_template

from trainer.accounts.access import NotFoundError
from trainer.calc.message import Message
from trainer.problems.model import CHOOSING
from trainer.progress.evidence import EvidenceLine, evidence
from trainer.progress.record import SkillLine, skills_of
from trainer.web.content import library
from trainer.web.pages.learn.blueprint import blueprint
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
        words={line.skill: _words(line) for line in begun},
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
        answers = evidence(session, library(), actor().person_id, skill, limit=MOST_ANSWERS)
    shown = [(answer, _typed(answer)) for answer in answers]
    return render_template(
        "learn/record_skill.html",
        line=line,
        words=_words(line),
        answers=shown,
        most=MOST_ANSWERS,
        practised=bool(library().families_of(skill)),
    )


def _words(line: SkillLine) -> Message:
    """The line's sentence without the skill's title, which stands above it."""
    kind = line.words.id.rpartition(".")[2]
    return Message(f"record.skill.{kind}", line.words.params)


def _typed(answer: EvidenceLine) -> str:
    """What was typed; of a choice the options in words, which question files name by what they are."""
    family = library().families.get(answer.family_id)
    return answer.typed.replace("-", " ") if family and family.kind in CHOOSING else answer.typed
