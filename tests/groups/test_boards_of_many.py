"""The boards send as many statements for many people, skills and job types as for few: tests/benchmarks/board.py measures them."""

from __future__ import annotations

from contextlib import contextmanager

import pytest
from sqlalchemy import event

from trainer.groups import kept_ready
from trainer.groups.ready_board import ready_board
from trainer.groups.shop_board import shop_board

SKILLS = ("supports.straps", "bends.offset", "fittings.connectors")


@contextmanager
def counted(database):
    statements = []

    def note(*args):
        statements.append(args[2])

    event.listen(database.engine, "before_cursor_execute", note)
    yield statements
    event.remove(database.engine, "before_cursor_execute", note)
    statements[:] = [one for one in statements if not one.startswith(("PRAGMA", "BEGIN"))]


def sent(town):
    """Statements of each board, the first time and again."""
    found = {}
    for name, use_case, place in (("crew", ready_board, town.crew), ("shop", shop_board, town.shop)):
        kept_ready._KEPT.clear()
        actor = town.actor("otto")
        for turn in ("first", "again"):
            with counted(town.database) as statements, town.database.write() as session:
                use_case(session, town.library, actor, place, now=town.now)
            found[name, turn] = len(statements)
    return found


@pytest.mark.parametrize("more", [12])
def test_boards_send_no_more_statements_when_a_shop_grows(town, more):
    town.join(town.crew, "lena")
    town.job_type()
    town.found_ready("lena", *SKILLS[:1])
    few = sent(town)
    names = [f"hand-{nth}" for nth in range(more)]
    for name in names:
        town.add(name)
    town.join(town.crew, *names)
    for nth, name in enumerate(names):
        town.found_ready(name, *SKILLS[nth % 3 :])
    for nth in range(5):
        town.job_type(f"Job {nth}")
    town.signed("lena")
    town.after(days=1)
    many = sent(town)

    assert many == few
    assert many["shop", "again"] <= 7
    assert many["shop", "first"] <= 15
