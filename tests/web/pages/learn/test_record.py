"""The own record: each skill in words, and one press down the answers it rests on."""

from __future__ import annotations

from trainer.calc.message import Message
from trainer.text.words import say


def practised(learner, given, times, *, right=True):
    for _ in range(times):
        problem = given.problem(family_id="offset-spacing")
        learner.answer(problem, given.right(problem) if right else given.mistaken(problem, "depth-for-spacing"))
        learner.give_up(problem) if not right else None
    return problem


def test_before_the_first_answer_it_says_so(learner):
    page = learner.get("/record")

    assert "No answers yet" in page.words
    assert "Not begun" in page.words
    assert "/account/held" in page.links()


def test_below_five_answers_it_is_too_early_to_say(learner, given):
    practised(learner, given, 2)
    page = learner.get("/record")

    assert "Too early to say, with 2 answers so far." in page.words
    assert page.tree.find(".//div[@class='gauge']") is None


def test_from_five_answers_on_it_says_how_many_of_ten_and_how_sure_that_is(learner, given):
    practised(learner, given, 5)
    page = learner.get("/record")

    assert "right of 10 today, likely between" in page.words
    assert "From 5 answers on 1 day." in page.words
    assert page.tree.find(".//div[@class='gauge']") is not None


def test_the_answers_behind_it_are_shown_as_typed_with_the_way_to_the_problem(learner, given):
    problem = practised(learner, given, 1)
    page = learner.get("/record/bends.offset")

    assert page.heading == "Offsets"
    assert f"/problems/{problem}" in page.links()
    assert given.right(problem) in page.words
    assert "Wed, Nov 25, 2026, 9:00 am" in page.words
    assert "first try, no hint" in page.words


def test_a_choice_is_shown_in_words(learner, given):
    problem = given.problem(family_id="connector-for-the-job")
    given_id = given.mistaken(problem)
    learner.answer(problem, given_id)

    assert say(Message(f"fitting.{given_id}")) in learner.get("/record/fittings.connectors").words


def test_a_slip_that_comes_back_is_named(learner, given):
    practised(learner, given, 3, right=False)

    assert "Slips that come back:" in learner.get("/record").words
    assert "Slips that come back:" in learner.get("/record/bends.offset").words


def test_nobody_elses_answers_stand_in_it(learner, other, given):
    practised(learner, given, 1)

    assert "No answers yet." in other.get("/record/bends.offset").words


def test_a_skill_that_is_not_there_or_has_no_questions_is_not_found(app, learner, monkeypatch):
    monkeypatch.setitem(app.extensions["trainer.library"]._of_skill, "measuring.lengths", ())
    for skill in ("no", "measuring.lengths", "%00"):
        assert learner.get(f"/record/{skill}").status == 404


def test_one_who_belongs_nowhere_reads_times_in_utc(client_of, given):
    stranger = client_of("stranger")
    problem = given.problem("stranger")
    page = stranger.get(f"/problems/{problem}")
    stranger.post(f"/problems/{problem}", page.form(f"/problems/{problem}") | {"answer": "1 in"})

    assert "Wed, Nov 25, 2026, 3:00 pm UTC" in stranger.get("/record/bends.offset").words
