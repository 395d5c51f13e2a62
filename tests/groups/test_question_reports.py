"""The report over the answers of a class: who reads which of them, with how many queries."""

from __future__ import annotations

import pytest
from sqlalchemy import event, insert, select, text

from trainer.accounts.access import NotAllowedError, NotFoundError
from trainer.groups.key_questions import key_in_question
from trainer.groups.question_reports import question_report, question_reports, sheet_reports
from trainer.records.models import Answer, Grading, Problem

FIRST = 10_000
NAMES = tuple(f"learner-{nth}" for nth in range(22))


@pytest.fixture
def school(any_town):
    """A class that mostly answers by a route that no known mistake names."""
    for name in NAMES:
        any_town.add(name)
    any_town.join(any_town.class_, *NAMES)
    work = any_town.assign("offset-spacing", "straps-run")
    for nth, name in enumerate(NAMES):
        any_town.answer(name, any_town.open(name, work), "99 in" if nth < 21 else "right")
    any_town.answer(NAMES[0], any_town.open(NAMES[0], work, 2))
    any_town.practise("stranger", "right", family_id="offset-shrink")
    return any_town


def flags(report):
    return {one.what for one in report.flagged}


def test_a_leader_reads_what_his_own_people_answered_what_to_look_at_first(school):
    reports = school.with_library("ines", question_reports)

    assert [(one.family.id, one.answers, one.people) for one in reports] == [
        ("offset-spacing", 22, 22),
        ("straps-run", 1, 1),
    ]
    assert flags(reports[0]) == {"alarm", "fit", "share", "unexplained"}
    assert flags(reports[1]) == set()
    assert school.with_library("fred", question_reports) == []


def test_who_looks_after_the_site_reads_all_answers(school):
    found = {one.family.id: one.answers for one in school.with_library("ada", question_reports)}

    assert found == {"offset-spacing": 22, "straps-run": 1, "offset-shrink": 1}


def test_one_question_is_for_who_may_count_its_answers(school):
    rules = school.library.families["offset-spacing"].rules_hash

    assert school.with_library("ines", question_report, rules).answers == 22
    with pytest.raises(NotFoundError):
        school.with_library("fred", question_report, rules)
    with pytest.raises(NotAllowedError):
        school.with_library("lena", question_reports)


def test_a_hint_or_a_second_try_is_not_counted(school):
    work = school.assign("offset-second-mark")
    problem = school.open(NAMES[0], work)
    school.answer(NAMES[0], problem, "99 in")
    school.answer(NAMES[0], problem, "98 in")
    found = {one.family.id: one.answers for one in school.with_library("ines", question_reports)}

    assert found["offset-second-mark"] == 1


def test_the_queries_do_not_grow_with_the_answers(school):
    def queries():
        sent = []
        event.listen(school.database.engine, "before_cursor_execute", note := lambda *args: sent.append(args[2]))
        school.with_library("ines", question_reports)
        school.do("ines", sheet_reports)
        event.remove(school.database.engine, "before_cursor_execute", note)
        return len(sent)

    before = queries()
    for name in NAMES[:3]:
        school.answer(name, school.open(name, school.assign("offset-first-mark")))

    assert queries() == before


def test_the_work_of_the_database_does_not_grow_with_what_strangers_answer(school, monkeypatch):
    monkeypatch.setattr("trainer.groups.key_questions.MOST_COUNTED", 1)
    rules = school.library.families["offset-spacing"].rules_hash
    alike = school.assign("offset-spacing", same_numbers=True)
    for name in NAMES[:2]:
        school.answer(name, school.open(name, alike), "99 in")
    school.practise("stranger", "right", family_id="offset-spacing")

    def work():
        with school.database.write() as session:
            session.execute(text("ANALYZE"))
        done = []
        listen = WORK[school.database.engine.dialect.name](done)
        event.listen(school.database.engine, "before_cursor_execute", listen)
        for name in ("ines", "ada"):
            school.with_library(name, question_reports)
            school.do(name, sheet_reports)
            school.with_library(name, question_report, rules)
            school.with_library(name, key_in_question, rules)
        event.remove(school.database.engine, "before_cursor_execute", listen)
        return sum(done)

    # Beside a handful of rows a whole table is read rather than its index, and rightly so.
    multiply_answers_of_strangers(school, range(4_000))
    before = work()
    multiply_answers_of_strangers(school, range(4_000, 20_000))

    assert before > 0
    assert work() < 1.3 * before


def steps_of_sqlite(done):
    """A listener that notes each hundred steps of SQLite's machine."""

    def listen(connection, *_):
        connection.connection.driver_connection.set_progress_handler(lambda: done.append(1), 100)

    return listen


def blocks_of_postgresql(done):
    """A listener that notes how many blocks of its tables and indices PostgreSQL looks at for a statement."""

    def listen(connection, _, statement, parameters, *__):
        if statement.startswith("SELECT"):
            with connection.connection.driver_connection.cursor() as cursor:
                cursor.execute(f"EXPLAIN (ANALYZE, BUFFERS, FORMAT JSON) {statement}", parameters)
                plan = cursor.fetchone()[0][0]["Plan"]
            done.append(plan["Shared Hit Blocks"] + plan["Shared Read Blocks"])

    return listen


WORK = {"sqlite": steps_of_sqlite, "postgresql": blocks_of_postgresql}


def multiply_answers_of_strangers(school, nths):
    """The stranger's last answer once more for each number."""
    with school.database.write() as session:
        problem = session.scalars(select(Problem).order_by(Problem.id.desc()).limit(1)).one()
        answer = session.scalars(select(Answer).where(Answer.problem_id == problem.id)).one()
        grading = session.scalars(select(Grading).where(Grading.answer_id == answer.id)).one()
        of_problem, of_answer, of_grading = (
            {column.name: getattr(row, column.name) for column in row.__table__.columns if column.name != "id"}
            for row in (problem, answer, grading)
        )
        for model, of, own in (
            (Problem, of_problem, lambda nth: {"public_id": f"copy-{nth:017}", "code": f"C{nth:09}"}),
            (
                Answer,
                of_answer,
                lambda nth: {"problem_id": FIRST + nth, "answer_key": f"{nth}", "sequence": FIRST + nth},
            ),
            (Grading, of_grading, lambda nth: {"answer_id": FIRST + nth}),
        ):
            session.execute(insert(model), [of | {"id": FIRST + nth} | own(nth) for nth in nths])
