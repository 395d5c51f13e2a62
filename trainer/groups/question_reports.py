"""
The question report: what the answers of one's own people say about the questions, those to look at first.

A leader reads it from the answers that he may see; who looks after the site from all answers, without a name. A key
alarm is heard from everybody's answers, and so stands in it whoever asks.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from msgspec import Struct
from sqlalchemy import Select, select
from sqlalchemy.orm import Session

from trainer.accounts.access import NotFoundError, led_by
from trainer.accounts.actor import Actor
from trainer.accounts.claim_access import counted_for, may_rule
from trainer.library.shelf import Library
from trainer.library.versions import family_at
from trainer.problems.family import Family
from trainer.progress.effect import TELLS_NOTHING
from trainer.progress.evidence import answered_by_real_people, latest_gradings
from trainer.progress.question_report import FirstTry, Said, Standing, judged
from trainer.progress.statistics import agreement_of_halves, kr20
from trainer.records.models import (
    Answer,
    AssignedFamily,
    AssignedWork,
    ContentVersion,
    FamilyDifficulty,
    Grading,
    Group,
    Problem,
)

__all__ = ["QuestionReport", "SheetReport", "question_report", "question_reports", "sheet_reports"]

MOST_ANSWERS = 20_000
"""Of the newest answers, so that the page stays quick however long the site has run."""

SHEET_PEOPLE, SHEET_PROBLEMS = 50, 10
TO_LEARN, TO_DECIDE, PASSING = 0.70, 0.90, 0.70


class QuestionReport(Struct, frozen=True):
    """
    What is said of a question.

    Args:
        rules: Hash of its rules: another version of its file is another question.
        family: The family in that version.
        answers: First tries that count.
        people: From how many people.
        said: Every statistic in a sentence.
    """

    rules: str
    family: Family
    answers: int
    people: int
    said: tuple[Said, ...]

    @property
    def flagged(self) -> tuple[Said, ...]:
        """What is to be looked at."""
        return tuple(one for one in self.said if one.flagged)


class SheetReport(Struct, frozen=True):
    """
    Work with the same numbers for all, as a whole.

    Args:
        work: Public id.
        title: Its title.
        people: Who answered all of it.
        problems: How many it has.
        reliability: Kuder and Richardson's formula 20; None with too few people or problems.
        alike: Share of people whom both halves find passing or not alike; None as above.
    """

    work: str
    title: str
    people: int
    problems: int
    reliability: float | None
    alike: float | None

    @property
    def flagged(self) -> bool:
        """Whether it tells people apart too badly to learn from."""
        return self.reliability is not None and self.reliability < TO_LEARN


def question_reports(session: Session, library: Library, actor: Actor) -> list[QuestionReport]:
    """
    All questions with answers, those to look at first. Three queries.

    Raises:
        NotAllowedError: When the actor leads nothing.
    """
    may_rule(actor)
    reports = _reports(session, library, _tries(actor))
    return sorted(reports, key=lambda one: (-_weight(one), -one.answers, one.family.title))


def question_report(session: Session, library: Library, actor: Actor, rules: str) -> QuestionReport:
    """
    One question.

    Raises:
        NotAllowedError: As above.
        NotFoundError: When there is no answer to it that the actor may count.
    """
    may_rule(actor)
    found = _reports(session, library, _tries(actor).where(ContentVersion.rules_hash == rules))
    if not found:
        raise NotFoundError
    return found[0]


def sheet_reports(session: Session, actor: Actor) -> list[SheetReport]:
    """Work with the same numbers for all in the groups that the actor leads, the newest first. One query."""
    line, work = AssignedFamily, AssignedWork
    query = (
        latest_gradings()
        .add_columns(work.public_id, work.title, line.position)
        .join(line, line.id == Problem.assigned_family_id)
        .join(work, work.id == line.assigned_work_id)
        .join(Group, Group.id == work.group_id)
        .where(led_by(actor), work.shared_seed.is_not(None), Answer.attempt == 1)
        .order_by(work.id.desc(), Answer.id)
    )
    sheets: dict[tuple[str, str], dict[int, dict[int, bool]]] = defaultdict(lambda: defaultdict(dict))
    for answer, grading, _, public_id, title, position in session.execute(query):
        sheets[public_id, title][answer.person_id].setdefault(position, grading.verdict == "right")
    return [_sheet(work_id, title, people) for (work_id, title), people in sheets.items()]


def _sheet(work: str, title: str, people: dict[int, dict[int, bool]]) -> SheetReport:
    positions = sorted({position for answers in people.values() for position in answers})
    whole = [[answers[at] for at in positions] for answers in people.values() if len(answers) == len(positions)]
    if len(whole) < SHEET_PEOPLE or len(positions) < SHEET_PROBLEMS:
        return SheetReport(work, title, len(whole), len(positions), None, None)
    return SheetReport(work, title, len(whole), len(positions), kr20(whole), agreement_of_halves(whole, PASSING))


def _tries(actor: Actor) -> Select[Answer, Grading, Problem]:
    """First tries without a hint that the actor may count."""
    return (
        latest_gradings()
        .join(ContentVersion, ContentVersion.id == Problem.content_version_id)
        .where(
            Answer.attempt == 1,
            Answer.hints_seen == 0,
            Answer.steps_seen.is_(False),
            Problem.context != "lesson",
            answered_by_real_people(),
            counted_for(actor),
        )
        .order_by(Answer.id.desc())
        .limit(MOST_ANSWERS)
    )


def _reports(session: Session, library: Library, query: Select[Answer, Grading, Problem]) -> list[QuestionReport]:
    answers = session.execute(query).all()
    # Each file is fetched once, however many answers there are to it.
    used = ContentVersion.id.in_({problem.content_version_id for _, _, problem in answers})
    version_of = {version.id: version for version in session.scalars(select(ContentVersion).where(used))}
    tries: dict[str, list[FirstTry]] = defaultdict(list)
    versions: dict[str, ContentVersion] = {}
    for answer, grading, problem in answers:
        version = version_of[problem.content_version_id]
        versions.setdefault(version.rules_hash, version)
        if grading.verdict not in TELLS_NOTHING:
            tries[version.rules_hash].append(_first_try(answer, grading, problem))
    table = FamilyDifficulty
    alarms = session.execute(
        select(table.rules_hash, table.alarm, table.alarmed_at).where(table.rules_hash.in_(versions))
    )
    standing = {rules: Standing(alarm, alarmed_at is not None) for rules, alarm, alarmed_at in alarms}
    return [
        _report(library, version, tries[rules], standing.get(rules, Standing(0.0, alarmed=False)))
        for rules, version in versions.items()
    ]


def _first_try(answer: Answer, grading: Grading, problem: Problem) -> FirstTry:
    keys = problem.drawn["keys"]
    return FirstTry(
        answer.person_id,
        grading.verdict,
        tuple(grading.mistakes),
        answer.value_read,
        answer.typed,
        answer.chance_before,
        answer.start_level,
        keys[0]["value"] if keys else None,
        problem.drawn["numbers"],
        tuple(option["id"] for option in problem.drawn["options"] if option["id"] not in _accepted(keys)),
    )


def _accepted(keys: Iterable[Mapping[str, Any]]) -> set[str]:
    """Ids of options that an accepted answer holds; none where numbers are typed."""
    values = [key["value"] for key in keys]
    return {one for value in values for one in (value if isinstance(value, list) else (value,)) if isinstance(one, str)}


def _report(library: Library, version: ContentVersion, tries: Sequence[FirstTry], standing: Standing) -> QuestionReport:
    family = family_at(library, version)
    people = len({one.person_id for one in tries})
    return QuestionReport(version.rules_hash, family, len(tries), people, tuple(judged(family, tries, standing)))


def _weight(report: QuestionReport) -> int:
    """A key in doubt before all, then by how much there is to look at."""
    return sum(100 if one.what == "alarm" else 1 for one in report.flagged)
