"""How many statements the leaders' pages send: few, and not more with more members, work and answers."""

from __future__ import annotations

from contextlib import contextmanager

from sqlalchemy import event

from trainer.groups.assigned import work_given_to
from trainer.groups.board import board
from trainer.groups.learner_work import work_of_learner
from trainer.groups.results import results
from trainer.groups.sheets import make_sheets, work_sheets


@contextmanager
def counted(database):
    statements = []

    def note(*args):
        statements.append(args[2])

    event.listen(database.engine, "before_cursor_execute", note)
    yield statements
    event.remove(database.engine, "before_cursor_execute", note)
    statements[:] = [statement for statement in statements if not statement.startswith(("PRAGMA", "BEGIN"))]


def see(town, name, use_case, *arguments, with_library=True):
    """The statements of one use case, those that find out who is asking left out."""
    actor = town.actor(name)
    shelf = [town.library] if with_library else []
    with counted(town.database) as statements, town.database.write() as session:
        use_case(session, *shelf, actor, *arguments)
    return len(statements)


def pages(town, work):
    return {
        "board": see(town, "fred", board, town.crew, town.now),
        "results": see(town, "fred", results, work, town.now),
        "work": see(town, "lena", work_of_learner, town.now),
        "sheets": see(town, "fred", work_sheets, work),
        "given": see(town, "fred", work_given_to, town.crew, with_library=False),
    }


def test_pages_of_a_crew_send_no_more_statements_when_it_grows(town):
    town.join(town.crew, "lena")
    work = town.assign("straps-run", "offset-spacing", who="fred", group=town.crew)
    few = pages(town, work)
    names = [f"hand-{nth}" for nth in range(4)]
    for name in names:
        town.add(name)
    town.join(town.crew, *names)
    for name in ["lena", *names]:
        town.practise(name, "right", "one-too-many")
        town.answer(name, town.open(name, work))
        town.open(name, work, position=2)
    town.assign("straps-run", who="fred", group=town.crew, due_in=6)
    town.after(days=2)
    many = pages(town, work)

    assert few == {"board": 10, "results": 8, "work": 3, "sheets": 4, "given": 2}
    assert many == few


def test_sheets_of_many_are_made_with_as_many_statements_as_those_of_one(town):
    """Rows are written in bulk: what a driver sends in one go counts once."""
    counts = []
    for names in (["lena"], [f"hand-{nth}" for nth in range(6)]):
        for name in set(names) - {"lena"}:
            town.add(name)
        town.join(town.class_, *names)
        work = town.assign("straps-run", ("offset-spacing", 3))
        counts.append(see(town, "ines", make_sheets, work, town.now))

    assert counts[0] == counts[1]
