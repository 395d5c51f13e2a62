"""The counts that grow with each answer are those that all answers give, and are made anew where they are not."""

from __future__ import annotations

from contextlib import contextmanager
from threading import Thread

import pytest
from sqlalchemy import delete, event, insert, select, update

from trainer.progress.question_check import count_uncounted, count_whole, miscounted
from trainer.progress.question_counts import Count, FirstTry, Part, added_by, counted
from trainer.progress.question_tally import counts_from_answers, kept_counts
from trainer.records.models import Person, Problem, QuestionCount

from .conftest import Desk

CHOICE = "straps-choice"


@pytest.fixture
def answered(any_desk):
    """Right and wrong ones, the same slip twice, a given up one, a hinted one, and one seen from behind."""
    desk = any_desk
    desk.practise("right", "right", "shrink-left-out", family_id="offset-first-mark")
    for typed in ("99 in", "99 in", "98 in"):
        problem = desk.issue(family_id="offset-spacing")
        desk.answer(problem, typed)
        desk.answer(problem, "97 in")
        desk.give_up(problem)
    desk.give_up(desk.issue(family_id="offset-shrink"))
    hinted = desk.issue(family_id="offset-spacing")
    desk.hint(hinted)
    assert desk.rows(Problem)[-1].hints_shown == 1
    desk.answer(hinted, desk.right(hinted))
    seen = desk.issue(family_id="offset-second-mark")
    desk.show_steps(seen)
    choice = desk.issue(family_id=CHOICE)
    desk.answer(choice, desk.right(choice))
    return desk


def kept(desk, family_id):
    with desk.database.read() as session:
        return kept_counts(session, desk.library.families[family_id].rules_hash)[
            desk.library.families[family_id].rules_hash
        ]


def wrong_counts(desk):
    with desk.database.read() as session:
        return miscounted(session, desk.library)


def test_what_each_answer_moved_is_what_all_answers_give(answered):
    assert wrong_counts(answered) == {}
    with answered.database.read() as session:
        found = counts_from_answers(session, answered.library)
        everything = kept_counts(session)
    assert everything.keys() == found.keys()
    for rules, counts in everything.items():
        ways = [count.counted for part, count in found[rules].items() if part.what == "route"]
        assert counts.items() <= found[rules].items()
        assert [count.counted for part, count in counts.items() if part.what == "route"] == (
            [max(ways)] if ways else []
        )


def test_only_first_tries_are_counted_each_person_once(answered):
    spacing = kept(answered, "offset-spacing")

    assert [spacing[Part(what)] for what in ("tries", "people", "answered", "wrong")] == [
        Count(3),
        Count(1),
        Count(3),
        Count(3),
    ]
    assert spacing[Part("route", "at", "98.0")] == Count(1)
    assert kept(answered, "offset-shrink")[Part("tries")] == Count(1)
    assert Part("answered") not in kept(answered, "offset-shrink")
    assert kept(answered, "offset-first-mark")[Part("mistake", "shrink-left-out")] == Count(1)


def test_who_is_invented_is_not_counted(desk):
    desk.practise("right", family_id="offset-spacing")
    with desk.database.write() as session:
        session.execute(update(Person).values(is_invented=True))
    desk.practise("right", family_id="offset-shrink")

    with desk.database.read() as session:
        assert desk.library.families["offset-shrink"].rules_hash not in kept_counts(session)


def test_counts_that_were_changed_are_found_and_made_anew(answered):
    with answered.database.write() as session:
        session.execute(update(QuestionCount).where(QuestionCount.what == "people").values(counted=7))
        spacing = answered.library.families["offset-spacing"].rules_hash
        session.execute(delete(QuestionCount).where(QuestionCount.rules_hash == spacing))
    wrong = wrong_counts(answered)
    assert {"offset-spacing", "offset-first-mark", CHOICE} <= {*wrong.values()}

    count_whole(answered.database, answered.library, wrong)
    assert wrong_counts(answered) == {}


def test_what_was_answered_before_there_were_counts_is_counted_once_asked(answered):
    with answered.database.write() as session:
        rules = session.scalars(select(QuestionCount.rules_hash).distinct()).all()
        session.execute(delete(QuestionCount))
        session.execute(insert(QuestionCount), [{"rules_hash": one, "what": "uncounted"} for one in rules])
    answered.practise("right", family_id="offset-spacing")
    with answered.database.read() as session:
        assert kept_counts(session) == {}

    count_uncounted(answered.database, answered.library)
    assert wrong_counts(answered) == {}
    assert kept(answered, "offset-spacing")[Part("tries")] == Count(4)


def test_an_answer_while_counts_are_made_anew_is_counted_once(answered, monkeypatch):
    """Whoever gets the question after those who had it were locked can answer it before the counts are in place."""
    late, answering = Desk(answered.database, answered.library, name="late"), []

    def read_and_be_overtaken(*arguments):
        found = counts_from_answers(*arguments)
        if not answering:
            answering.append(Thread(target=late.practise, args=["right"], kwargs={"family_id": "offset-spacing"}))
            answering[0].start()
            answering[0].join(2)
        return found

    monkeypatch.setattr("trainer.progress.question_tally.counts_from_answers", read_and_be_overtaken)
    count_whole(answered.database, answered.library, [answered.library.families["offset-spacing"].rules_hash])
    answering[0].join()

    monkeypatch.undo()
    assert kept(answered, "offset-spacing")[Part("people")] == Count(2)
    assert wrong_counts(answered) == {}


def test_reading_counts_sends_as_many_queries_after_more_answers(answered):
    @contextmanager
    def counting():
        event.listen(answered.database.engine, "before_cursor_execute", note := lambda *args: sent.append(args[2]))
        yield
        event.remove(answered.database.engine, "before_cursor_execute", note)

    lengths = []
    for _ in range(2):
        sent = []
        with counting(), answered.database.read() as session:
            kept_counts(session)
        lengths.append(len([one for one in sent if one.startswith("SELECT")]))
        answered.practise("right", "right", family_id="offset-shrink")
    assert lengths == [3, 3]


def test_a_way_that_is_gone_twice_by_one_and_once_by_another_was_gone_by_two(library):
    family = library.families["offset-spacing"]
    tries = [FirstTry(person, "wrong", (), 7.5, "7 1/2", 0.7, 0.1, 9.0) for person in (1, 2, 1)]

    assert counted(family, tries)[Part("route", "at", "7.5")] == Count(2)
    assert added_by(family, tries[2], tries[:1]).keys().isdisjoint({Part("people"), Part("route", "at", "7.5")})
