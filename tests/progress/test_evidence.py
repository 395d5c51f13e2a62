from __future__ import annotations

from trainer.progress.evidence import evidence


def lines(desk, skill="supports.straps", **limit):
    with desk.database.read() as session:
        return evidence(session, desk.library, desk.person_id, skill, **limit)


def test_the_newest_answer_stands_first_with_what_was_typed_and_judged(desk):
    desk.practise("right", family_id="straps-run")
    problem = desk.after(days=1).issue(family_id="straps-run")
    desk.hint(problem)
    desk.answer(problem, desk.wrong(problem, "one-too-many"))
    desk.answer(problem, "99")
    newest, second, first = lines(desk)

    assert (newest.verdict, newest.attempt, newest.counts) == ("wrong", 2, False)
    assert (second.verdict, second.mistakes, second.counts) == ("known-mistake", ("one too many",), True)
    assert second.typed == desk.wrong(problem, "one-too-many")
    assert (first.verdict, first.title, first.context) == ("right", "Straps of a straight run", "practice")
    assert first.answered_at < second.answered_at


def test_other_skills_and_other_people_do_not_show(desk, another_desk):
    desk.practise("right", family_id="offset-spacing")
    another_desk.practise("right", family_id="straps-run")

    assert lines(desk) == []


def test_no_more_lines_than_asked_for(desk):
    desk.practise(*["right"] * 4, family_id="straps-run")

    assert len(lines(desk, limit=3)) == 3
