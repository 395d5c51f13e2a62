"""How many statements each use case sends: few, and not more with a longer history."""

from __future__ import annotations

from contextlib import contextmanager

import pytest
from sqlalchemy import event

from trainer.progress.evidence import evidence
from trainer.progress.record import skills_of
from trainer.progress.today import today


@contextmanager
def counted(database):
    statements = []

    def note(*args):
        statements.append(args[2])

    event.listen(database.engine, "before_cursor_execute", note)
    yield statements
    event.remove(database.engine, "before_cursor_execute", note)
    statements[:] = [statement for statement in statements if not statement.startswith(("PRAGMA", "BEGIN"))]


def issue(desk):
    desk.issue(family_id="offset-spacing")


def answer(desk):
    problem = desk.issue(family_id="offset-spacing")
    typed = desk.right(problem)
    with counted(desk.database) as statements:
        desk.answer(problem, typed)
    return statements


def read(use_case, *arguments):
    def run(desk):
        with desk.database.read() as session:
            use_case(session, desk.library, desk.person_id, *(argument(desk) for argument in arguments))

    return run


def shown(desk):
    problem = desk.issue(family_id="offset-spacing")
    with counted(desk.database) as statements:
        desk.show(problem)
    return statements


def whole(use_case):
    def run(desk):
        with counted(desk.database) as statements:
            use_case(desk)
        return statements

    return run


MOST = {
    "issue": (whole(issue), 11),
    "answer": (answer, 14),
    "show": (shown, 2),
    "record": (whole(read(skills_of, lambda desk: desk.now)), 3),
    "evidence": (whole(read(evidence, lambda _: "bends.offset")), 1),
    "today": (whole(read(today, lambda desk: desk.now)), 6),
}


@pytest.mark.parametrize("name", MOST)
def test_a_use_case_sends_few_statements_and_no_more_after_weeks_of_practice(desk, name):
    count, most = MOST[name]
    desk.practise(*["right"] * 6, family_id="offset-spacing")
    early = len(count(desk))
    if name == "issue":
        desk.give_up(desk.issue(family_id="offset-spacing"))
    for _ in range(12):
        desk.after(days=1).practise("right", "right")
    desk.practise(*["right"] * 2, family_id="offset-spacing")
    late = len(count(desk))

    assert early <= most
    assert late <= early
