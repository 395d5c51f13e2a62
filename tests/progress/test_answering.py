from __future__ import annotations

from threading import Barrier, Thread
from uuid import uuid4

import pytest
from sqlalchemy import select

from trainer.accounts.access import NotFoundError
from trainer.calc.message import InputError
from trainer.problems.model import VerdictKind
from trainer.progress.practice import Outcome, answer
from trainer.progress.skill import fresh
from trainer.records.models import Answer, Grading, Person, Problem, SkillState

KEY = "0b7a3f0e-6f9c-4a52-8a6d-0c9f6a1d2e3f"


def state_of(desk, skill="bends.offset"):
    return next(row for row in desk.rows(SkillState) if row.skill == skill)


def gradings(desk):
    with desk.database.read() as session:
        return session.scalars(select(Grading).order_by(Grading.id)).all()


def test_a_right_answer_closes_the_problem_and_moves_the_skill(any_desk):
    problem = any_desk.issue(family_id="offset-spacing")
    result = any_desk.answer(problem, any_desk.right(problem))

    assert (result.outcome, result.verdict, result.closed) == (Outcome.RECORDED, "right", True)
    assert any_desk.rows(Problem)[0].closed_at == any_desk.now
    assert state_of(any_desk).level > fresh().level
    assert state_of(any_desk).counted == 1


def test_a_known_mistake_is_named_and_the_problem_stays_open_with_the_same_numbers(any_desk):
    problem = any_desk.issue(family_id="offset-first-mark")
    numbers = any_desk.problem(problem).numbers
    result = any_desk.answer(problem, any_desk.wrong(problem, "shrink-left-out"))

    assert result.verdict == VerdictKind.MISTAKE
    assert result.mistakes == ("shrink-left-out",)
    assert not result.closed
    assert any_desk.problem(problem).numbers == numbers
    assert any_desk.issue(family_id="offset-first-mark") == problem


def test_the_row_keeps_what_was_typed_what_was_read_and_what_the_update_used(desk):
    problem = desk.issue(family_id="offset-spacing")
    desk.answer(problem, desk.wrong(problem, "sine-for-cosecant"))
    row = desk.rows(Answer)[0]

    assert row.typed == desk.wrong(problem, "sine-for-cosecant")
    assert row.value_read == pytest.approx(desk.problem(problem).mistakes[-1].value, abs=1 / 16)
    assert (row.sequence, row.attempt, row.weight, row.start_level, row.lucky) == (1, 1, 0.7, 0.3, 0.02)
    assert row.chance_before == pytest.approx(0.561, abs=5e-4)
    assert row.constants_version == 1


def test_a_second_try_is_kept_and_takes_half_a_learning_step(desk):
    problem = desk.issue(family_id="offset-spacing")
    desk.answer(problem, desk.wrong(problem, "sine-for-cosecant"))
    before = state_of(desk).level
    desk.answer(problem, desk.right(problem))

    assert [row.attempt for row in desk.rows(Answer)] == [1, 2]
    assert state_of(desk).level == pytest.approx(before + 0.06 / (1 + 1 / 20))
    assert state_of(desk).counted == 2


def test_a_wrong_second_try_moves_nothing(desk):
    problem = desk.issue(family_id="offset-spacing")
    desk.answer(problem, "1 in")
    before = state_of(desk)
    desk.after(days=3).answer(problem, "2 in")

    assert (state_of(desk).level, state_of(desk).counted) == (before.level, 1)
    assert state_of(desk).last_at == before.last_at
    assert desk.rows(Answer)[1].days == 0


def test_what_cannot_be_read_is_no_attempt_and_goes_back_as_typed(desk):
    problem = desk.issue(family_id="offset-spacing")
    result = desk.answer(problem, "4 1/0 in")

    assert (result.outcome, result.verdict, result.typed) == (Outcome.UNREADABLE, "unreadable", "4 1/0 in")
    assert result.reason is not None
    assert not desk.rows(Answer)
    assert not gradings(desk)
    assert state_of(desk).counted == 0


def test_more_text_than_an_answer_has_is_not_read(desk):
    problem = desk.issue(family_id="offset-spacing")

    assert desk.answer(problem, "1" * 401).reason.id == "progress.too-long"
    assert not desk.rows(Answer)


def test_nonsense_is_refused_on_every_engine_and_the_problem_stays_open(any_desk):
    for family in ("offset-spacing", "straps-run", "straps-choice", "straps-safe"):
        problem = any_desk.issue(family_id=family)
        for nonsense in ("\x00", "12\x00", "1e99999", "NaN", "", "  ", "½½", "a" * 400, "\ud800"):
            assert any_desk.answer(problem, nonsense).outcome is Outcome.UNREADABLE


def test_the_same_key_gives_the_stored_verdict_and_counts_once(any_desk):
    problem = any_desk.issue(family_id="offset-spacing")
    first = any_desk.answer(problem, any_desk.wrong(problem, "sine-for-cosecant"), key=KEY)
    again = any_desk.answer(problem, any_desk.right(problem), key=KEY.upper())

    assert again.outcome is Outcome.REPEATED
    assert (again.verdict, again.typed, again.mistakes) == (first.verdict, first.typed, first.mistakes)
    assert len(any_desk.rows(Answer)) == 1
    assert state_of(any_desk).counted == 1


def test_a_key_that_is_none_is_refused(desk):
    problem = desk.issue(family_id="offset-spacing")

    with pytest.raises(InputError):
        desk.answer(problem, "12 in", key="first")


def test_two_posts_at_the_same_moment_count_once(any_desk):
    """Two connections, one key; both see the same verdict, and one of them has recorded it."""
    problem = any_desk.issue(family_id="offset-spacing")
    outcomes = at_once(any_desk, problem, any_desk.right(problem), [KEY, KEY])

    assert sorted(result.outcome for result in outcomes) == [Outcome.RECORDED, Outcome.REPEATED]
    assert {result.verdict for result in outcomes} == {"right"}
    assert len(any_desk.rows(Answer)) == 1
    assert state_of(any_desk).counted == 1


def test_different_answers_at_the_same_moment_queue_up(any_desk):
    problem = any_desk.issue(family_id="offset-spacing")
    outcomes = at_once(any_desk, problem, "1 in", [str(uuid4()) for _ in range(4)])

    assert {result.outcome for result in outcomes} == {Outcome.RECORDED}
    assert [row.attempt for row in any_desk.rows(Answer)] == [1, 2, 3, 4]
    assert [row.sequence for row in any_desk.rows(Answer)] == [1, 2, 3, 4]
    assert state_of(any_desk).counted == 1


def at_once(desk, problem, typed, keys):
    """Answer with each key on a connection of its own, all at the same moment."""
    start, found = Barrier(len(keys)), []

    def post(key):
        start.wait()
        with desk.database.write() as session:
            who = desk.person_id
            found.append(answer(session, desk.library, who, problem, typed, answer_key=key, now=desk.now))

    threads = [Thread(target=post, args=[key]) for key in keys]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return found


def test_an_error_in_the_middle_leaves_nothing_behind(any_desk, monkeypatch):
    problem = any_desk.issue(family_id="offset-spacing")
    typed = any_desk.right(problem)
    monkeypatch.setattr("trainer.progress.recording.note_mistakes", None)
    with pytest.raises(TypeError):
        any_desk.answer(problem, typed)

    assert not any_desk.rows(Answer)
    assert not gradings(any_desk)
    assert any_desk.rows(Problem)[0].closed_at is None
    assert state_of(any_desk).counted == 0


def test_a_closed_problem_takes_no_answer(desk):
    problem = desk.practise("right", family_id="offset-spacing")
    result = desk.answer(problem, "1 in")

    assert (result.outcome, result.typed, result.closed) == (Outcome.CLOSED, "1 in", True)
    assert len(desk.rows(Answer)) == 1


def test_someone_elses_problem_is_not_found(desk, another_desk):
    problem = desk.issue()

    with pytest.raises(NotFoundError):
        another_desk.answer(problem, "12 in")


def test_giving_up_closes_the_problem_at_half_weight_and_only_once(any_desk):
    problem = any_desk.issue(family_id="offset-spacing")
    assert any_desk.give_up(problem).verdict == "gave-up"
    assert any_desk.give_up(problem).outcome is Outcome.CLOSED

    assert [row.weight for row in any_desk.rows(Answer)] == [0.35]
    assert [row.verdict for row in gradings(any_desk)] == ["gave-up"]
    assert any_desk.rows(Problem)[0].closed_at is not None


def test_asking_for_the_steps_after_a_wrong_answer_counts_no_second_time(desk):
    problem = desk.issue(family_id="offset-spacing")
    desk.answer(problem, "1 in")
    before = state_of(desk)
    desk.show_steps(problem)

    assert desk.show(problem).steps_shown
    assert (state_of(desk).level, state_of(desk).counted) == (before.level, 1)


def test_right_after_a_hint_counts_a_little(desk):
    problem = desk.issue(family_id="offset-spacing")
    desk.hint(problem)
    desk.answer(problem, desk.right(problem))
    row = desk.rows(Answer)[0]

    assert (row.hints_seen, row.weight) == (1, 0.2)


def test_an_answer_inside_a_lesson_counts_a_little(desk):
    problem = desk.issue(family_id="offset-spacing", context="lesson", lesson_id="offset-bends")
    desk.answer(problem, desk.right(problem))

    assert desk.rows(Answer)[0].weight == 0.2


def test_choices_are_kept_as_chosen(any_desk):
    problem = any_desk.issue(family_id="straps-safe")
    any_desk.answer(problem, ["one-is-enough", "at-least-two"])
    row = any_desk.rows(Answer)[0]

    assert row.typed == "one-is-enough, at-least-two"
    assert row.value_read == ["at-least-two", "one-is-enough"]
    assert row.lucky == 1 / 8
    assert any_desk.answer(problem, any_desk.right(problem)).closed


def test_answers_of_a_person_are_counted_through(desk):
    desk.practise("right", "right", family_id="straps-run")
    desk.practise("right", family_id="offset-spacing")

    assert [row.sequence for row in desk.rows(Answer)] == [1, 2, 3]
    with desk.database.read() as session:
        assert session.get(Person, desk.person_id).answers_given == 3
