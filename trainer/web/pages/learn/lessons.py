"""The lessons: the list, one lesson to read, the problems to try in it, and that one has read it."""

from __future__ import annotations

from collections.abc import Container
from functools import lru_cache

from flask import redirect, render_template, url_for
from werkzeug.wrappers import Response

from trainer.accounts.access import NotFoundError
from trainer.lessons.heads import LessonHead
from trainer.lessons.html import Shown, lesson_html
from trainer.lessons.model import Lesson
from trainer.library.shelf import Library
from trainer.problems.shelf import Skill
from trainer.progress.lessons import lessons_read, lessons_read_and_edition, mark_read
from trainer.progress.practice import issue
from trainer.web.content import NEWEST, edition_of, own_library
from trainer.web.language import language
from trainer.web.pages.learn.blueprint import blueprint
from trainer.web.pages.tables import tables_for
from trainer.web.papers.handout import lesson_paper
from trainer.web.papers.sheet import pdf_file
from trainer.web.sessions import actor
from trainer.web.transactions import glancing, now, reading, writing
from trainer.web.units import by_unit
from trainer.web.visitors import Visitor, visitors

__all__ = ["lesson", "lesson_on_paper", "lesson_read", "lesson_try", "lessons"]

MOST_KEPT = 64
"""Lessons that each process keeps worked out: some 60 kB each."""


@blueprint.get("/lessons")
@visitors(Visitor.SIGNED_IN)
def lessons() -> str:
    """All lessons by unit."""
    with reading() as session:
        read = lessons_read(session, actor().person_id)
    return render_template("learn/lessons.html", units=by_unit(own_library().lesson_heads.values()), read=read)


@blueprint.get("/lessons/<lesson_id>")
@visitors(Visitor.SIGNED_IN)
def lesson(lesson_id: str) -> str:
    """One lesson."""
    found = _lesson(lesson_id)
    with glancing() as glance:
        read, edition = lessons_read_and_edition(glance, actor().person_id)
    blocks = _worked_out(own_library(), found.id, language(), edition or NEWEST)
    following = _following(found, {*read, found.id})
    return render_template(
        "learn/lesson.html",
        lesson=found,
        blocks=blocks,
        read_at=read.get(found.id),
        following=following,
        skills=_practised(found),
        tables=tables_for(found.unit),
    )


@blueprint.get("/lessons/<lesson_id>.pdf")
@visitors(Visitor.SIGNED_IN)
def lesson_on_paper(lesson_id: str) -> Response:
    """The lesson as a handout."""
    found = _lesson(lesson_id)
    with reading() as session:
        edition = edition_of(session)
    blocks = _worked_out(own_library(), found.id, language(), edition)
    return pdf_file(lesson_paper(found, blocks, actor()), found.title)


@blueprint.post("/lessons/<lesson_id>/read")
@visitors(Visitor.SIGNED_IN)
def lesson_read(lesson_id: str) -> Response:
    """Note that the lesson was read; its end then says what comes next."""
    with writing() as session:
        mark_read(session, own_library(), actor().person_id, lesson_id, now())
    return redirect(url_for("learn.lesson", lesson_id=lesson_id, _anchor="next"), 303)


@blueprint.post("/lessons/<lesson_id>/try/<family_id>")
@visitors(Visitor.SIGNED_IN)
def lesson_try(lesson_id: str, family_id: str) -> Response:
    """A problem of the lesson, in numbers of one's own."""
    if family_id not in _lesson(lesson_id).families:
        raise NotFoundError
    with writing() as session:
        problem = issue(
            session,
            own_library(),
            actor().person_id,
            family_id=family_id,
            context="lesson",
            lesson_id=lesson_id,
            now=now(),
            edition=edition_of(session),
        )
    return redirect(url_for("learn.problem", problem_id=problem), 303)


@lru_cache(MOST_KEPT)
def _worked_out(content: Library, lesson_id: str, words: str, edition: str) -> list[Shown]:
    """The blocks of a lesson, which are the same for everybody; to work and draw them takes longer than all else."""
    return lesson_html(content.lessons[lesson_id], content.families, language=words, edition=edition)


def _lesson(lesson_id: str) -> Lesson:
    found = own_library().lessons.get(lesson_id)
    if found is None:
        raise NotFoundError
    return found


def _following(after: Lesson, read: Container[str]) -> LessonHead | None:
    """The next lesson that was not read: of the same unit first, then of all in their order; of a later year last."""
    in_order = [one for _, members in by_unit(own_library().lesson_heads.values()) for one in members]
    unread = sorted((one for one in in_order if one.id not in read), key=lambda one: one.later and not after.later)
    return next((one for one in unread if one.unit == after.unit), next(iter(unread), None))


def _practised(found: Lesson) -> list[Skill]:
    """Skills of the lesson that can be practised."""
    return [own_library().skills[skill] for skill in found.skills if own_library().asks(skill)]
