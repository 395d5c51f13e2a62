"""What is on record against what was acknowledged."""

from __future__ import annotations

from collections import Counter, defaultdict

from school import library
from sqlalchemy import func, select

from trainer.accounts.actor import actor_of_person
from trainer.groups.learner_work import learner_work
from trainer.progress.replayed import differences
from trainer.records.models import Answer, Grading, Person, Problem
from trainer.web.transactions import utc_now

__all__ = ["Ledger", "disagreements"]


class Ledger:
    """
    Compares what came since the last look: after each kill, in a time that does not grow.

    Args:
        school: The site's class.
        learners: Those who answer.
    """

    def __init__(self, school, learners):
        self.school, self.learners = school, learners
        self.last_id, self.seen = 0, 0

    def disagreements(self):
        """Answers lost, doubled or never sent, in words; everybody must be at rest."""
        with self.school.database.read() as session:
            graded = func.count(Grading.id)
            query = (
                select(Answer.id, Answer.person_id, Answer.answer_key, Answer.typed, Problem.public_id, graded)
                .join(Problem, Problem.id == Answer.problem_id)
                .outerjoin(Grading, Grading.answer_id == Answer.id)
                .where(Answer.id > self.last_id)
                .group_by(Answer.id, Problem.public_id)
            )
            rows = session.execute(query).all()
        self.last_id = max([self.last_id, *(row.id for row in rows)])
        self.seen += len(rows)
        sent = {learner.who.person_id: learner.acknowledged for learner in self.learners}
        for row in rows:
            said = sent[row.person_id].get(row.answer_key)
            if said != (row.public_id, row.typed):
                yield f"on record {row.public_id} {row.typed!r}, acknowledged {said}"
            if row.count != 1:
                yield f"answer {row.id} has {row.count} gradings"
        told = sum(map(len, sent.values()))
        if told != self.seen:
            yield f"{told} answers acknowledged, {self.seen} on record"


def disagreements(school, learners):
    """Everything on record against everything acknowledged, and the states against a replay."""
    with school.database.read() as session:
        for learner in learners:
            for line in _of_learner(session, school, learner):
                yield f"person {learner.who.person_id}: {line}"


def _of_learner(session, school, learner):
    person_id = learner.who.person_id
    query = (
        select(Answer, Problem.public_id)
        .join(Problem, Problem.id == Answer.problem_id)
        .where(Answer.person_id == person_id)
        .order_by(Answer.sequence)
    )
    rows = session.execute(query).all()
    kept = {answer.answer_key: (problem, answer.typed) for answer, problem in rows}
    if len(kept) != len(rows) or kept != learner.acknowledged:
        lost = learner.acknowledged.items() - kept.items()
        extra = kept.items() - learner.acknowledged.items()
        yield f"lost {lost}, never acknowledged {extra}, {len(rows) - len(kept)} doubled"
    given = session.scalars(select(Person.answers_given).where(Person.id == person_id)).one()
    if [answer.sequence for answer, _ in rows] != list(range(1, given + 1)):
        yield f"answers are not numbered from 1 to {given}"
    attempts = defaultdict(list)
    for answer, problem in rows:
        attempts[problem].append(answer.attempt)
    for problem, numbers in attempts.items():
        if numbers != list(range(1, len(numbers) + 1)):
            yield f"tries at {problem} are numbered {numbers}"
    answers = select(Answer.id).where(Answer.person_id == person_id)
    gradings = Counter(session.scalars(select(Grading.answer_id).where(Grading.answer_id.in_(answers))))
    if gradings != Counter(answer.id for answer, _ in rows):
        yield "not every answer is graded once"
    yield from differences(session, person_id)
    yield from _of_work(session, school, person_id)
    session.expunge_all()


def _of_work(session, school, person_id):
    """The list of the work must count a line as answered where an answer to it is on record."""
    found = learner_work(session, library(), actor_of_person(session, person_id), school.work, utc_now())
    query = (
        select(Problem.family_id)
        .join(Answer, Answer.problem_id == Problem.id)
        .where(Problem.person_id == person_id, Problem.context == "assigned")
    )
    answered = set(session.scalars(query))
    shown = {line.family_id for line in found.lines if line.best.first is not None}
    if shown != answered:
        yield f"the list of the work shows {sorted(shown)} as answered, on record are {sorted(answered)}"
