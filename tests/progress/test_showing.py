from __future__ import annotations

from copy import copy

import pytest
from sqlalchemy import event

from trainer.accounts.access import NotFoundError
from trainer.calc.length import write_length
from trainer.calc.message import Message
from trainer.problems.model import AnswerKind


def test_an_open_problem_shows_the_question_and_keeps_the_answer_to_itself(desk):
    page = desk.show(desk.issue(skill="bends.offset"))

    assert page.open
    assert page.text_html.startswith("<p>An offset of ")
    assert (page.kind, page.unit, page.skill_title) == (AnswerKind.LENGTH, "in", "Offsets")
    assert page.why == Message("progress.why.asked", {"skill": "Offsets"})
    assert (page.steps, page.accepted, page.attempts, page.last) == ((), (), (), None)
    assert page.sources


def test_a_family_that_was_asked_for_needs_no_reason(desk):
    assert desk.show(desk.issue(family_id="offset-spacing")).why is None


def test_after_a_mistake_the_page_says_which_and_stays_open(desk):
    problem = desk.issue(family_id="offset-first-mark")
    desk.answer(problem, desk.wrong(problem, "shrink-left-out"))
    page = desk.show(problem)

    assert page.open
    assert page.last.verdict == "known-mistake"
    assert [mistake.called for mistake in page.last.mistakes] == ["shrink left out"]
    assert page.last.mistakes[0].html == "<p>You marked the bare distance; the shrink belongs on top of it.</p>"
    assert not page.steps


def test_once_closed_it_shows_steps_and_accepted_answers_in_the_own_numbers(desk):
    problem = desk.issue(family_id="offset-spacing")
    desk.answer(problem, "1 in")
    desk.answer(problem, desk.right(problem))
    page = desk.show(problem)
    depth = desk.problem(problem).numbers["depth"]

    assert not page.open
    assert [attempt.verdict for attempt in page.attempts] == ["wrong", "right"]
    assert any(str(int(depth)) in step.filled for step in page.steps)
    assert [(one.quantity.value, one.basis) for one in page.accepted] == [
        (key.value, key.basis) for key in desk.problem(problem).keys
    ]


def test_giving_up_shows_the_steps_too(desk):
    problem = desk.issue(family_id="offset-spacing")
    desk.give_up(problem)
    page = desk.show(problem)

    assert page.last.verdict == "gave-up"
    assert page.steps
    assert not page.steps_shown


def test_hints_are_shown_as_far_as_they_were_asked_for(desk):
    problem = desk.issue(family_id="offset-spacing")
    desk.hint(problem)
    page = desk.show(problem)

    assert page.hints_html == ("<p>The spacing runs along the slope.</p>",)
    assert page.hints_left == 1


def test_options_say_why_only_once_the_problem_is_closed(desk):
    problem = desk.issue(family_id="straps-safe")
    desk.answer(problem, ["one-is-enough"])
    during = desk.show(problem).options
    desk.answer(problem, desk.right(problem))
    after = desk.show(problem).options

    assert {option.right for option in during} == {None}
    assert {option.why_html for option in during} == {""}
    assert [option.id for option in during if option.chosen] == ["one-is-enough"]
    assert {option.id for option in after if option.right} == {"at-least-two", "no-more-than-ten"}
    assert all(option.why_html for option in after)
    assert [option.letter for option in after] == ["a", "b", "c"]


def test_something_chosen_wrongly_is_refused_with_its_reason_at_once(desk):
    problem = desk.issue(family_id="straps-choice")
    desk.answer(problem, "none")
    page = desk.show(problem)

    assert page.open
    assert [(one.html, one.why_html) for one in page.last.refused] == [
        ("It takes none.", "Tube is never left without.")
    ]
    assert {option.why_html for option in page.options} == {""}


def test_what_a_known_mistake_tells_is_not_said_twice(desk):
    problem = desk.issue(family_id="straps-choice")
    desk.answer(problem, "single")

    assert [mistake.html for mistake in desk.show(problem).last.mistakes] == ["<p>One strap leaves one end loose.</p>"]
    assert desk.show(problem).last.refused == ()


def test_one_choice_shows_what_was_chosen(desk):
    problem = desk.issue(family_id="straps-choice")
    desk.answer(problem, "none")
    desk.give_up(problem)
    page = desk.show(problem)

    assert [option.id for option in page.options if option.right] == ["several"]
    assert page.accepted == ()
    assert page.attempts[0].typed == "none"


def test_the_page_is_the_same_whenever_it_is_shown_but_for_the_key_of_its_form(desk):
    problem = desk.practise("sine-for-cosecant", family_id="offset-spacing")
    first, again = desk.show(problem), desk.show(problem)

    assert first.answer_key != again.answer_key
    assert [getattr(first, name) for name in first.__struct_fields__ if name != "answer_key"] == [
        getattr(again, name) for name in again.__struct_fields__ if name != "answer_key"
    ]


def test_the_drawing_shows_what_the_wrong_value_makes_and_the_right_marks_once_the_problem_is_closed(desk):
    problem = desk.issue(family_id="offset-spacing")
    before = desk.show(problem).figure
    desk.answer(problem, write_length(desk.problem(problem).keys[0].value + 5))
    during = desk.show(problem).figure
    desk.answer(problem, desk.right(problem))
    after = desk.show(problem).figure

    assert "<svg" in before
    assert "fig-wrong" not in before
    assert "fig-wrong" in during
    assert "fig-mark" not in during
    assert "fig-wrong" in after
    assert "fig-mark" in after
    assert "yours" in during
    assert "before" in after
    assert "yours" not in after.replace('kind="yours"', "")


def test_without_a_wrong_value_the_drawing_shows_the_right_one_alone(desk):
    right = desk.show(desk.practise("right", family_id="offset-spacing")).figure
    given_up = desk.issue(family_id="offset-spacing")
    desk.give_up(given_up)

    assert "fig-wrong" not in right + desk.show(given_up).figure


def test_an_old_problem_is_shown_after_the_shelf_has_moved_on(desk, library):
    """The words that the person read stay, whatever has become of the family since."""
    problem = desk.issue(family_id="offset-spacing")
    before = desk.show(problem).text_html
    newer = library.families["offset-spacing"]
    desk.library = copy(library)
    desk.library.__dict__ |= {"families": {}, "skills": {}, "_by_version": {}, "_of_skill": {}, "_old": {}}
    page = desk.show(problem)

    assert page.text_html == before
    assert page.title == newer.title
    assert page.skill_title == "bends.offset"
    assert desk.answer(problem, desk.right(problem)).verdict == "right"


def test_someone_elses_problem_is_not_found(desk, another_desk):
    with pytest.raises(NotFoundError):
        another_desk.show(desk.issue())


def test_showing_writes_nothing(desk):
    problem = desk.issue(family_id="offset-spacing")
    statements = []
    event.listen(desk.database.engine, "before_cursor_execute", lambda *args: statements.append(args[2]))
    desk.show(problem)

    assert not [statement for statement in statements if statement.split()[0] in {"INSERT", "UPDATE", "DELETE"}]


def test_an_address_that_can_be_nobodys_problem_is_not_found(desk):
    with pytest.raises(NotFoundError):
        desk.show("\x00")


def test_only_what_an_answer_makes_is_called_its_own_in_the_drawing(desk):
    slope, straps = desk.issue(family_id="offset-spacing"), desk.issue(family_id="straps-choice")
    before = desk.show(slope).answer_drawn
    desk.answer(slope, "1 in")
    desk.answer(straps, "none")

    assert (before, desk.show(slope).answer_drawn, desk.show(straps).answer_drawn) == (False, True, False)
