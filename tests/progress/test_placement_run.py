"""A placement run from its beginning to its picture."""

from datetime import timedelta

import pytest

from trainer.accounts.access import NotFoundError
from trainer.progress import placement_run
from trainer.progress.placement_run import (
    MOST_QUESTIONS,
    begin_placement,
    end_placement,
    next_placement_question,
    start_lesson,
    view_placement,
)
from trainer.progress.practice import Outcome
from trainer.progress.replay import replay
from trainer.progress.states import as_state, states_of
from trainer.progress.today import Kind, today
from trainer.records.models import PlacementRun, Problem


class Run:
    """A person at a placement run; each step is one transaction."""

    def __init__(self, desk):
        self.desk = desk

    def begin(self):
        with self.desk.database.write() as session:
            begin_placement(session, self.desk.person_id, self.desk.now)
        return self

    def next(self):
        desk = self.desk
        with desk.database.write() as session:
            return next_placement_question(session, desk.library, desk.person_id, now=desk.now, edition="2023")

    def end(self):
        with self.desk.database.write() as session:
            end_placement(session, self.desk.library, self.desk.person_id, self.desk.now)

    def view(self):
        with self.desk.database.read() as session:
            return view_placement(session, self.desk.person_id)

    def today(self):
        with self.desk.database.read() as session:
            found = today(session, self.desk.library, self.desk.person_id, self.desk.now)
        return [thing for thing in (found.first, *found.others) if thing.kind is Kind.PLACEMENT]

    def answer(self, minutes=1):
        problem = self.next()
        self.desk.after(minutes=minutes)
        self.desk.answer(problem, self.desk.right(problem))
        return problem


@pytest.fixture
def run(any_desk):
    return Run(any_desk)


def test_it_is_offered_to_somebody_who_has_answered_nothing(run):
    assert [thing.why.id for thing in run.today()] == ["placement.today.offered"]

    run.desk.practise("right")
    assert run.today() == []


def test_begun_twice_it_is_one_run(run):
    run.begin().begin()

    assert len(run.desk.rows(PlacementRun)) == 1


def test_nothing_is_asked_before_it_begins(run):
    with pytest.raises(NotFoundError):
        run.next()
    with pytest.raises(NotFoundError):
        run.end()


def test_a_question_stays_until_it_is_decided(run):
    run.begin()
    problem = run.next()

    assert run.next() == problem
    assert run.view().question == problem
    assert [(row.context, row.placement_run_id) for row in run.desk.rows(Problem)] == [("placement", 1)]


def test_one_try_decides_and_there_are_no_hints(run):
    problem = run.begin().next()
    slip = run.desk.problem(problem).mistakes[0].id

    assert run.desk.hint(problem) == 0
    assert run.desk.answer(problem, run.desk.wrong(problem, slip)).closed
    assert run.desk.answer(problem, run.desk.right(problem)).outcome is Outcome.CLOSED


def test_a_wrong_unit_is_asked_once_more(run):
    run.begin()
    problem = run.next()
    while run.desk.problem(problem).kind != "length":
        run.desk.show_steps(problem)
        problem = run.next()
    value = run.desk.problem(problem).keys[0].value

    first = run.desk.answer(problem, f"{value:.3f} mm")
    assert first.verdict == "wrong-unit"
    assert not first.closed
    assert run.desk.answer(problem, f"{value:.3f} mm").closed


def test_no_family_is_asked_twice_and_the_answers_move_the_record_like_practice(run):
    run.begin()
    for _ in range(4):
        run.answer()

    families = [problem.family_id for problem in run.desk.rows(Problem)]
    assert len(set(families)) == 4
    with run.desk.database.read() as session:
        kept = {skill: as_state(row) for skill, row in states_of(session, run.desk.person_id).items() if row.counted}
        assert replay(session, run.desk.person_id).states == kept
    assert sum(state.counted for state in kept.values()) == 4


def test_when_nothing_is_left_to_ask_it_ends_with_its_picture(run):
    run.begin()
    while (problem := run.next()) is not None:
        run.desk.answer(problem, run.desk.right(problem))

    view = run.view()
    assert not view.running
    assert view.picture.right == view.picture.asked == len(run.desk.rows(Problem))
    assert view.picture.start == ""
    assert run.today() == []


def test_it_ends_after_so_many_questions(run, monkeypatch):
    monkeypatch.setattr(placement_run, "MOST_QUESTIONS", 3)
    run.begin()
    for _ in range(3):
        run.answer()

    assert run.next() is None
    assert run.view().picture.asked == 3


def test_it_ends_when_the_time_is_over_and_time_away_is_not_counted(run):
    run.begin()
    run.answer(minutes=24 * 60)
    assert run.view().minutes_left == 20

    run.desk.after(days=2)
    for _ in range(4):
        run.answer(minutes=5)
    assert run.view().minutes_left == 0
    assert run.next() is None


def test_left_between_two_questions_it_stands_on_the_page_of_today(run):
    run.begin()
    run.answer()

    (thing,) = run.today()
    assert thing.why.id == "placement.today.running"
    assert thing.why.params["left"].value == MOST_QUESTIONS - 1


def test_ended_early_it_shows_what_was_decided_and_closes_the_open_question(run):
    run.begin()
    run.desk.show_steps(run.next())
    run.answer()
    left = run.next()
    run.end()

    view = run.view()
    assert (view.picture.asked, view.picture.right) == (2, 1)
    assert sum(unit.skipped for unit in view.picture.units) == 1
    assert view.picture.start
    assert run.desk.answer(left, "1").outcome is Outcome.CLOSED
    assert view.ended_at == run.desk.now


def test_after_one_has_ended_another_may_begin(run):
    run.begin().end()
    run.desk.after(days=30)
    run.begin()

    assert run.view().running
    assert run.view().picture is not None
    assert run.desk.rows(PlacementRun)[0].ended_at == run.desk.now - timedelta(days=30)


def test_where_to_start_is_the_first_lesson_of_the_unit(library):
    assert start_lesson(library, "bends") == "offset-bends"
    assert start_lesson(library, "no-such-unit") == ""
