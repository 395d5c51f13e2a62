"""Rows that are each whole and cannot be true together: answers nobody judged, numbers left out, problems of no family."""

from __future__ import annotations

from collections.abc import Iterator
from io import BytesIO
from typing import Any

from msgspec import Struct
from sqlalchemy import Connection, Select, exists, func, literal, or_, select
from sqlalchemy.orm import InstrumentedAttribute

from trainer.records.checking.finding import PUT_BACK, Finding, listed
from trainer.records.models import (
    Answer,
    CheckPhoto,
    ContentVersion,
    FindingPhoto,
    Grading,
    KeyRuling,
    Person,
    Problem,
    ResultMark,
    Site,
)

__all__ = ["contradictions", "pictures"]

JPEG = b"\xff\xd8\xff"


class Rule(Struct, frozen=True):
    """
    Something that no row may be.

    Args:
        what: What is wrong with the rows, after their number.
        kind: What they are.
        breaches: Which rows: one column that names them.
        do: What to do.
    """

    what: str
    kind: str
    breaches: Select[Any]
    do: str = PUT_BACK


def contradictions(connection: Connection) -> Iterator[Finding]:
    """All breaches, a finding for each rule."""
    for rule in _rules():
        found = connection.execute(rule.breaches).scalars().all()
        if found:
            yield Finding(f"{len(found):,} {rule.what}.", listed(rule.kind, found), rule.do)


def pictures(connection: Connection) -> Iterator[Finding]:
    """Photographs that cannot be decoded, or are of another size than is said of them; reads all of them."""
    for table in (FindingPhoto, CheckPhoto):
        query = select(table.id, table.image, table.width, table.height).order_by(table.id)
        rows = connection.execute(query.execution_options(yield_per=8))
        if lost := [row.id for row in rows if not _is_picture(row.image, row.width, row.height)]:
            yield Finding(
                f"{len(lost):,} photographs cannot be decoded, or are of another size than is said of them.",
                listed(table.__tablename__, lost),
                PUT_BACK,
            )


def _is_picture(image: bytes, width: int, height: int) -> bool:
    from PIL import Image  # noqa: PLC0415 - loaded where it is used, as by `groups.photographs`

    try:
        with Image.open(BytesIO(image), formats=("JPEG",)) as picture:
            picture.load()
            return picture.size == (width, height)
    except (OSError, ValueError, SyntaxError, EOFError):
        return False


def _rules() -> Iterator[Rule]:
    yield Rule("site without its own row: edition and kind are lost", "site", _site_without_row())
    yield Rule(
        "answers were never judged",
        "answer",
        select(Answer.id).where(~exists(select(Grading.id).where(Grading.answer_id == Answer.id))),
    )
    yield Rule("people's answers are not numbered from 1 to the number they gave", "person", _answers_misnumbered())
    yield Rule("problems' tries are not numbered one by one", "problem", _gaps(Answer.problem_id, Answer.attempt))
    yield Rule("answers' judgements are not numbered one by one", "answer", _gaps(Grading.answer_id, Grading.sequence))
    yield Rule("keys' rulings are not numbered one by one", "rules", _gaps(KeyRuling.rules_hash, KeyRuling.sequence))
    yield Rule(
        "lines of assigned work have marks that are not numbered one by one",
        "assigned family",
        _gaps(ResultMark.assigned_family_id, ResultMark.sequence, ResultMark.person_id),
    )
    yield Rule(
        "problems are of another family than the version that they name",
        "problem",
        select(Problem.id)
        .join(ContentVersion, ContentVersion.id == Problem.content_version_id)
        .where(or_(ContentVersion.kind != "family", ContentVersion.content_id != Problem.family_id)),
    )
    for table in (FindingPhoto, CheckPhoto):
        yield Rule(
            "photographs are no pictures",
            table.__tablename__,
            select(table.id).where(func.substr(table.image, 1, len(JPEG)) != literal(JPEG)).order_by(table.id),
        )


def _site_without_row() -> Select[Any]:
    return select(literal(1)).where(~exists(select(Site.id)))


def _answers_misnumbered() -> Select[Any]:
    """By the person's counter, so that a last answer that is lost is missed too."""
    given = (
        select(Answer.person_id, func.count().label("rows"), func.max(Answer.sequence).label("last"))
        .group_by(Answer.person_id)
        .subquery()
    )
    rows, last = func.coalesce(given.c.rows, 0), func.coalesce(given.c.last, 0)
    return (
        select(Person.public_id)
        .outerjoin(given, given.c.person_id == Person.id)
        .where(or_(rows != Person.answers_given, last != Person.answers_given))
        .order_by(Person.id)
    )


def _gaps(group: InstrumentedAttribute[Any], number: InstrumentedAttribute[int], *more: Any) -> Select[Any]:
    """Groups whose rows are not numbered from 1 on. No number is there twice: the tables see to that."""
    return select(group).group_by(group, *more).having(func.max(number) != func.count()).order_by(group)
