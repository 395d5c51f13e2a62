"""
The question report: what the answers of one's own people say about the questions, those to look at first.

A leader reads it from the answers that he may see; who looks after the site from what is counted of all answers. A key
alarm is heard from everybody's answers, and so stands in it whoever asks.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping

from msgspec import Struct
from sqlalchemy import ColumnElement, func, select
from sqlalchemy.orm import Session

from trainer.accounts.access import NotFoundError, led_by
from trainer.accounts.actor import Actor
from trainer.accounts.claim_access import counted_for, may_rule
from trainer.library.shelf import Library
from trainer.library.versions import family_at
from trainer.problems.family import Family
from trainer.progress.effect import TELLS_NOTHING
from trainer.progress.evidence import latest_gradings
from trainer.progress.first_tries import first_tries, tries_among
from trainer.progress.question_counts import Count, Counts, FirstTry, Part, counted
from trainer.progress.question_report import Said, judged
from trainer.progress.question_tally import counts_from_answers, kept_counts, uncounted
from trainer.progress.statistics import agreement_of_halves, kr20
from trainer.records.models import (
    Answer,
    AssignedFamily,
    AssignedWork,
    ContentVersion,
    FamilyDifficulty,
    Group,
    Problem,
)

__all__ = ["QuestionReport", "SheetReport", "question_report", "question_reports", "sheet_reports"]

MOST_ANSWERS = 20_000
"""Of a leader's newest answers, so that the page stays quick however long he has led."""

MOST_SHEETS = 100
"""The newest: each is answered by at most a class or two."""

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
    All questions with answers, those to look at first. Six queries at most.

    Raises:
        NotAllowedError: When the actor leads nothing.
    """
    may_rule(actor)
    reports = _reports(session, library, _counts(session, library, actor))
    return sorted(reports, key=lambda one: (-_weight(one), -one.answers, one.family.title))


def question_report(session: Session, library: Library, actor: Actor, rules: str) -> QuestionReport:
    """
    One question.

    Raises:
        NotAllowedError: As above.
        NotFoundError: When there is no answer to it that the actor may count.
    """
    may_rule(actor)
    found = _reports(session, library, _counts(session, library, actor, rules))
    if not found:
        raise NotFoundError
    return found[0]


def sheet_reports(session: Session, actor: Actor) -> list[SheetReport]:
    """The newest work with the same numbers for all in the groups that the actor leads. Two queries."""
    work = AssignedWork
    newest = (
        select(work.id)
        .join(Group, Group.id == work.group_id)
        .where(led_by(actor), work.shared_seed.is_not(None))
        .order_by(work.id.desc())
        .limit(MOST_SHEETS)
    )
    alike = (
        select(AssignedFamily.id, work.public_id, work.title, AssignedFamily.position)
        .join(work, work.id == AssignedFamily.assigned_work_id)
        .where(work.id.in_(newest))
        .order_by(work.id.desc())
    )
    lines = {line: (public_id, title, position) for line, public_id, title, position in session.execute(alike)}
    sheets: dict[tuple[str, str], dict[int, dict[int, bool]]] = {
        (public_id, title): defaultdict(dict) for public_id, title, _ in lines.values()
    }
    query = (
        latest_gradings()
        .add_columns(Problem.assigned_family_id)
        .where(Problem.assigned_family_id.in_(lines), Answer.attempt == 1)
        # A sum, as below; and with no line at all a database would walk through them just the same.
        .order_by(Answer.id + 0)
    )
    for answer, grading, _, line in session.execute(query) if lines else ():
        public_id, title, position = lines[line]
        sheets[public_id, title][answer.person_id].setdefault(position, grading.verdict == "right")
    return [_sheet(work_id, title, people) for (work_id, title), people in sheets.items() if people]


def _sheet(work: str, title: str, people: dict[int, dict[int, bool]]) -> SheetReport:
    positions = sorted({position for answers in people.values() for position in answers})
    whole = [[answers[at] for at in positions] for answers in people.values() if len(answers) == len(positions)]
    if len(whole) < SHEET_PEOPLE or len(positions) < SHEET_PROBLEMS:
        return SheetReport(work, title, len(whole), len(positions), None, None)
    return SheetReport(work, title, len(whole), len(positions), kr20(whole), agreement_of_halves(whole, PASSING))


def _counts(session: Session, library: Library, actor: Actor, rules: str | None = None) -> dict[str, Counts]:
    """What is counted of the answers that the actor may count, of all questions or of one, by rules."""
    if not actor.is_site_administrator:
        return _counted_now(session, library, counted_for(actor), rules)
    waiting = [one for one in uncounted(session) if rules in {None, one}]
    kept = kept_counts(session, rules)
    return {**kept, **counts_from_answers(session, library, waiting)} if waiting else {**kept}


def _counted_now(
    session: Session, library: Library, theirs: ColumnElement[bool], rules: str | None
) -> dict[str, Counts]:
    # Ordered by a sum, so that a database does not walk through everybody's answers from the newest on, looking for his.
    query = first_tries().where(theirs).order_by((Answer.id + 0).desc()).limit(MOST_ANSWERS)
    if rules is not None:
        of_rules = select(ContentVersion.id).where(ContentVersion.rules_hash == rules)
        query = query.where(Problem.content_version_id.in_(of_rules))
    answers = list(tries_among(session.execute(query)))
    # Each file is fetched once, however many answers there are to it.
    used = ContentVersion.id.in_({version_id for version_id, _ in answers})
    version_of = {version.id: version for version in session.scalars(select(ContentVersion).where(used))}
    tries: dict[str, list[FirstTry]] = defaultdict(list)
    versions: dict[str, ContentVersion] = {}
    for version_id, one in answers:
        version = version_of[version_id]
        versions.setdefault(version.rules_hash, version)
        if one.verdict not in TELLS_NOTHING:
            tries[version.rules_hash].append(one)
    return {one: counted(family_at(library, version), tries[one]) for one, version in versions.items()}


def _reports(session: Session, library: Library, counts: Mapping[str, Counts]) -> list[QuestionReport]:
    """Each question in the newest version of its words."""
    of_rules = ContentVersion.rules_hash.in_(counts)
    newest = select(func.max(ContentVersion.id)).where(of_rules).group_by(ContentVersion.rules_hash)
    table = FamilyDifficulty
    doubted = select(table.rules_hash).where(table.rules_hash.in_(counts), table.alarmed_at.is_not(None))
    alarmed = {*session.scalars(doubted)}
    return [
        _report(library, version, counts[version.rules_hash], alarmed=version.rules_hash in alarmed)
        for version in session.scalars(select(ContentVersion).where(ContentVersion.id.in_(newest)))
    ]


def _report(library: Library, version: ContentVersion, counts: Counts, *, alarmed: bool) -> QuestionReport:
    family = family_at(library, version)
    tries, people = (counts.get(Part(what), Count(0)).counted for what in ("tries", "people"))
    said = judged(family, counts, alarmed=alarmed)
    return QuestionReport(version.rules_hash, family, tries, people, tuple(said))


def _weight(report: QuestionReport) -> int:
    """A key in doubt before all, then by how much there is to look at."""
    return sum(100 if one.what == "alarm" else 1 for one in report.flagged)
