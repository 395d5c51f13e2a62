"""
The counts of questions, kept: moved by each answer in its own transaction, made anew where gradings change.

Only first tries without a hint count, outside of lessons, by real people.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from functools import cache
from importlib import import_module
from typing import Any

from sqlalchemy import Insert, Select, bindparam, delete, insert, select
from sqlalchemy.orm import Session, aliased

from trainer.library.shelf import Library
from trainer.library.versions import family_at
from trainer.progress.effect import TELLS_NOTHING
from trainer.progress.first_tries import LESSON, first_tries, tries_among, try_of
from trainer.progress.question_counts import Count, FirstTry, Part, added_by, counted_each
from trainer.progress.sitting import Sitting
from trainer.records.models import Answer, ContentVersion, Grading, Person, Problem, QuestionCount

__all__ = [
    "count_anew",
    "count_first_try",
    "counts_from_answers",
    "kept_counts",
    "uncounted",
]

UNCOUNTED = "uncounted"
AT_A_TIME = 2_000
TRIES = Part("tries")
NOT_ONE = {TRIES: Count(0)}
"""Of a question that was answered, and of which no answer tells anything."""


def count_first_try(session: Session, sitting: Sitting, answer: Answer, grading: Grading, *, person: Person) -> None:
    """
    Take an answer into the counts of its question, where it is one that counts. Two statements.

    Last in the transaction, and its rows in one order for everybody: many people answer the same question. Its tries come
    first of them, as `count_anew` holds that row.

    Args:
        session: A write session; the answer is written.
        sitting: The person at the problem.
        answer: The answer.
        grading: Its grading.
        person: Who answered, locked.
    """
    row, ruling = sitting.row, sitting.ruling
    first = answer.attempt == 1 and not answer.hints_seen and not answer.steps_seen
    if not first or row.context == LESSON or person.is_invented:
        return
    rules = ruling.rules_hash if ruling else sitting.family.rules_hash
    added: Mapping[Part, Count] = NOT_ONE
    if grading.verdict not in TELLS_NOTHING:
        of = {"person_id": person.id, "rules": rules, "family_id": row.family_id, "answer_id": answer.id}
        before = [one for _, one in tries_among(session.execute(_earlier(), of))]
        added = added_by(sitting.family, try_of(answer, grading, row), before)
    session.execute(_moving(session), _rows(rules, added))


def count_anew(session: Session, library: Library, rules: Collection[str]) -> None:
    """
    Put in place of the counts of some questions what their answers give.

    Args:
        session: A write session; who has a problem by these rules is locked.
        library: The content.
        rules: Hashes of their rules.
    """
    # Somebody may be given one of these questions and answer it while this goes on. With the row of its tries held, what he
    # adds is either there already, and his answer is among those read next, or is added to what is put in its place.
    moving = _moving(session)
    for one in sorted(rules):
        session.execute(moving, _rows(one, NOT_ONE))
    found = counts_from_answers(session, library, rules)
    session.execute(delete(QuestionCount).where(QuestionCount.rules_hash.in_(rules)))
    for one, counts in found.items():
        # A mapped class's table is a Table, which the types of SQLAlchemy tell only as what one selects from.
        session.execute(insert(QuestionCount.__table__), _rows(one, counts))  # type: ignore[arg-type]


def counts_from_answers(
    session: Session, library: Library, rules: Collection[str] | None = None
) -> dict[str, dict[Part, Count]]:
    """The counts as the answers give them, of all questions or of some, by rules; nothing is written. Two queries."""
    of_rules = select(ContentVersion).where(ContentVersion.kind == "family")
    if rules is not None:
        of_rules = of_rules.where(ContentVersion.rules_hash.in_(rules))
    versions = {version.id: version for version in session.scalars(of_rules)}
    query = first_tries().order_by(Answer.person_id, Answer.sequence)
    if rules is not None:
        query = query.where(Problem.content_version_id.in_(versions))
    families = {}
    silent = set()

    def tries() -> Iterator[tuple[str, Any, FirstTry]]:
        rows = session.execute(query.execution_options(yield_per=AT_A_TIME))
        for version_id, one in tries_among(rows):
            version = versions[version_id]
            silent.add(version.rules_hash)
            if one.verdict not in TELLS_NOTHING:
                if version_id not in families:
                    families[version_id] = family_at(library, version)
                yield version.rules_hash, families[version_id], one

    found = counted_each(tries())
    return {one: found.get(one, dict(NOT_ONE)) for one in sorted(silent)}


def uncounted(session: Session) -> list[str]:
    """Hashes of the rules of questions that were answered before there were counts."""
    query = select(QuestionCount.rules_hash).where(QuestionCount.what == UNCOUNTED)
    return [*session.scalars(query.order_by(QuestionCount.rules_hash))]


def kept_counts(session: Session, rules: str | None = None) -> dict[str, dict[Part, Count]]:
    """
    The counts that are kept, of all questions or of one, by rules. Two queries.

    Of the ways to a wrong answer, which have no end, only the one that most people went. Not of what is uncounted.
    """
    table, top, other = QuestionCount, aliased(QuestionCount), aliased(QuestionCount)
    columns = (table.rules_hash, table.what, table.name, table.value, table.counted, table.hits)
    most = (
        select(top.id)
        .where(top.rules_hash == other.rules_hash, top.what == "route")
        .order_by(top.counted.desc(), top.name, top.value)
        .limit(1)
    )
    tried = select(most.correlate(other).scalar_subquery()).where(other.what == "tries")
    all_but_ways = select(*columns).where(table.what.not_in(["route", UNCOUNTED]))
    if rules is not None:
        all_but_ways = all_but_ways.where(table.rules_hash == rules)
        tried = tried.where(other.rules_hash == rules)
    found: dict[str, dict[Part, Count]] = {}
    for query in (all_but_ways, select(*columns).where(table.id.in_(tried))):
        for one, what, name, value, counted, hits in session.execute(query):
            found.setdefault(one, {})[Part(what, name, value)] = Count(counted, hits)
    for one in uncounted(session):
        found.pop(one, None)
    return found


@cache
def _earlier() -> Select[Any]:
    """A person's other first tries by the same rules that tell something; built once, for each answer asks."""
    of_rules = select(ContentVersion.id).where(ContentVersion.rules_hash == bindparam("rules"))
    return first_tries().where(
        Answer.person_id == bindparam("person_id"),
        Answer.id != bindparam("answer_id"),
        Problem.family_id == bindparam("family_id"),
        Problem.content_version_id.in_(of_rules),
        Grading.verdict.not_in(TELLS_NOTHING),
    )


def _moving(session: Session) -> Insert:
    """Adds to counts, and makes those that are not there."""
    return _moving_in(session.get_bind().dialect.name)


@cache
def _moving_in(dialect: str) -> Insert:
    table = QuestionCount.__table__
    adding = import_module(f"sqlalchemy.dialects.{dialect}").insert(table)
    sums = {name: table.c[name] + adding.excluded[name] for name in ("counted", "hits")}
    moving: Insert = adding.on_conflict_do_update(index_elements=["rules_hash", "what", "name", "value"], set_=sums)
    return moving


def _rows(rules: str, counts: Mapping[Part, Count]) -> list[dict[str, Any]]:
    """Rows of counts, in the order in which they are locked: the tries, which each answer moves, and the others."""
    in_order = sorted(counts.items(), key=lambda one: (one[0].what != TRIES.what, one))
    return [{"rules_hash": rules} | part._asdict() | count._asdict() for part, count in in_order]
