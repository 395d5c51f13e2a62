"""What two people do to the same rows at the same moment, where PostgreSQL lets both begin."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor, wait
from uuid import uuid4

import pytest
from sqlalchemy import select, text

from trainer.groups.claims import claim, claims_waiting, key_note, reply
from trainer.groups.key_questions import Decision
from trainer.groups.key_rulings import rule
from trainer.groups.marks import set_marks
from trainer.progress import practice
from trainer.progress.replayed import differences
from trainer.records.locks import lock_person
from trainer.records.models import Grading, ResultMark

from .conftest import public

FAMILY = "offset-spacing"
WAITING = text("SELECT count(*) FROM pg_stat_activity WHERE datname = current_database() AND wait_event_type = 'Lock'")


@pytest.fixture
def town(postgres_database, library, new_town):
    """A class with two problems of a question, of which Lena and Leo answered the first one wrongly."""
    town = new_town(postgres_database, library)
    town.join(town.class_, "lena", "leo")
    town.work = town.assign((FAMILY, 2))
    town.problems = {name: town.open(name, town.work) for name in ("lena", "leo")}
    for name, problem in town.problems.items():
        town.answer(name, problem, "sine-for-cosecant")
    return town


@pytest.fixture
def beside(town):
    """Begins something on a connection of its own, and comes back once it waits for a lock, or is done."""
    with ThreadPoolExecutor(1) as pool, town.database.engine.connect() as connection:

        def begin(what):
            begun = pool.submit(what)
            while not begun.done() and not connection.scalar(WAITING):
                connection.rollback()
                wait([begun], timeout=0.02)
            return begun

        yield begin


def decide(town):
    rules = town.library.families[FAMILY].rules_hash
    return town.with_library("ines", rule, rules, Decision("credit", "", "The file is wrong."), now=town.now)


@pytest.mark.parametrize("name", ["lena", "stranger"])
def test_a_ruling_waits_for_an_answer_under_way_and_grades_it_too(town, beside, name):
    town.join(town.class_, "stranger")
    who, key, problem = town.ids[name], str(uuid4()), town.open(name, town.work, 2)
    with town.database.write() as session:
        lock_person(session, who)
        ruling = beside(lambda: decide(town))
        practice.answer(session, town.library, who, problem, "99 in", answer_key=key, now=town.now)

    ruling.result()
    with town.database.read() as session:
        verdicts = session.scalars(select(Grading.verdict).order_by(Grading.answer_id, Grading.sequence)).all()
        parted = [line for person in town.ids.values() for line in differences(session, person)]
    assert verdicts == ["known-mistake", "credited"] * 2 + ["wrong", "credited"]
    assert parted == []


def test_a_reply_just_given_is_not_overwritten_by_what_is_decided(town, beside):
    problem, actor = town.problems["lena"], town.actor("ines")
    town.do("lena", claim, problem, own_answer="12 in", why="The sine goes below.", now=town.now)
    (line,) = town.with_library("ines", claims_waiting)
    with town.database.write() as session:
        reply(session, actor, line.claim, words="Look at step 2.", now=town.now)
        ruling = beside(lambda: decide(town))

    assert ruling.result() == 2
    note = town.do("lena", key_note, problem)
    assert (note.outcome, note.reply) == ("key-right", "Look at step 2.")


def test_of_two_who_set_the_same_points_the_second_changes_nothing(town, beside):
    more = {"wanted": {1: "1"}, "reason": "Measured it right at the bench.", "now": town.now}
    actor = town.actor("ines")
    with town.database.write() as session:
        assert set_marks(session, town.library, actor, town.work, public("lena"), **more) == 1
        second = beside(lambda: town.with_library("ines", set_marks, town.work, public("lena"), **more))

    assert second.result() == 0
    with town.database.read() as session:
        assert session.scalars(select(ResultMark.sequence)).all() == [1]
