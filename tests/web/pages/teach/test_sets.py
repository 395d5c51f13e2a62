"""Problem sets: found, made, changed, copied, tried and given; and what given work keeps."""

from __future__ import annotations

import re

import pytest
from sqlalchemy import select

from trainer.records.models import ProblemSetLine

QUERY = "?count-offset-spacing=2&count-strap-count=1"


@pytest.fixture
def place(world):
    return world.organisations["school"]


@pytest.fixture
def kept(given):
    return f"/sets/{given.problem_set()}"


def listed(page):
    """The questions in the list, by id."""
    names = (one.get("name") for one in page.tree.iter("select"))
    return {name.removeprefix("count-") for name in names if name.startswith("count-")}


def sent(page):
    """What the form of the list would carry along unseen."""
    fields = {one.get("name"): one.get("value") for one in page.tree.iter("input") if one.get("type") == "hidden"}
    return {name: value for name, value in fields.items() if name.startswith("count-")}


def test_a_set_is_made_once_and_found_by_all_who_teach_there(instructor, owner, place):
    name = f"/sets/new/{place}/name{QUERY}"
    form = instructor.get(name).form(f"/sets/new/{place}") | {"title": "Offsets"}
    made = {instructor.post(f"/sets/new/{place}", form).location for _ in range(2)}

    assert len(made) == 1
    assert "Offsets 3 questions, made by Instructor Person" in owner.get("/sets").words
    assert "Distance between the marks of an offset 2" in owner.get(made.pop()).words


def test_sets_of_another_place_are_not_found(foreman, kept):
    assert "Offsets, first evening" not in foreman.get("/sets").words
    assert foreman.get(kept).status == 404


@pytest.mark.parametrize(("title", "said"), [("", "Type what to call it"), ("x" * 121, "up to 120 characters")])
def test_a_name_that_will_not_do_is_kept_with_all_else(instructor, place, title, said):
    page = instructor.submit(f"/sets/new/{place}/name{QUERY}", {"title": title}, action=f"/sets/new/{place}")

    assert page.status == 422
    assert said in page.errors["title"]
    assert page.form(f"/sets/new/{place}")["count-offset-spacing"] == "2"


def test_nothing_chosen_leads_back_to_the_list(instructor, place):
    page = instructor.get(f"/sets/new/{place}/name")

    assert page.errors == {"questions": "Choose at least one question: how many of it are asked."}


def test_too_much_comes_back_with_the_list(instructor, kept):
    page = instructor.submit(f"{kept}/name?count-strap-count=1", {"count-strap-count": "99"}, action=kept)

    assert page.status == 422
    assert "1 to 10 of each" in page.errors["questions"]


def test_a_changed_set_changes_nothing_that_was_given(instructor, kept, here):
    instructor.submit(
        here("work", "new", "name") + QUERY + f"&set={kept.removeprefix('/sets/')}",
        {"title": "Given"},
        action=here("work"),
    )
    results = next(link for link in instructor.get(here()).links() if link.startswith("/given/"))
    instructor.submit(f"{kept}/name?count-stub-up-mark=1", {"title": "Stubs"}, action=kept)

    assert "The mark for a stub-up 1" in instructor.get(kept).words
    assert "Given from it Given: " in instructor.get(kept).words
    assert "How many straps for a run" in instructor.get(results).words


def test_changing_begins_with_what_it_asks(instructor, kept):
    page = instructor.get(f"{kept}/questions")
    chosen = {one.get("name") for one in page.tree.iter("select") if one.find("option[@selected]") is not None}

    assert chosen >= {"count-offset-spacing", "count-strap-count"}


def test_a_copy_is_another_set(instructor, kept):
    copy = instructor.submit(kept, action=f"{kept}/copy").location

    assert copy != kept
    assert instructor.get(copy).heading == "Offsets, first evening, copy"


def test_a_set_of_which_nothing_is_left_is_not_copied_and_says_so(instructor, kept, app):
    form = instructor.get(kept).form(f"{kept}/copy")
    with app.extensions["trainer.database"].write() as session:
        for line in session.scalars(select(ProblemSetLine)):
            line.family_id = f"{line.family_id}-of-old"
    back = instructor.post(f"{kept}/copy", form)

    assert (back.status, back.location) == (303, kept)
    assert "there is nothing to copy" in instructor.get(kept).words
    assert "evening, copy" not in instructor.get("/sets").words


def test_a_set_that_is_put_away_stands_in_no_list(instructor, kept):
    instructor.submit(kept, action=f"{kept}/away")

    assert "Offsets, first evening" not in instructor.get("/sets").words
    assert instructor.get(kept).status == 404


def test_its_name_goes_along_when_it_is_given(instructor, kept):
    give = next(link for link in instructor.get(kept).links() if "/work/new/name" in link)

    assert instructor.get(give).value("title") == "Offsets, first evening"


def test_questions_are_kept_as_a_set_when_they_are_given(instructor, here):
    page = instructor.submit(
        here("work", "new", "name") + QUERY, {"title": "Kept too", "keep": "yes"}, action=here("work")
    )

    assert page.status == 303
    assert "Kept too 3 questions" in instructor.get("/sets").words


@pytest.mark.parametrize(
    ("asked", "has", "has_not"),
    [
        ("unit=supports", "strap-count", "offset-spacing"),
        ("level=1&unit=bends", "offset-shrink", "strap-count"),
        ("words=MARKS+offset", "offset-spacing", "strap-count"),
    ],
)
def test_questions_are_found_by_unit_level_and_words(instructor, here, asked, has, has_not):
    page = instructor.get(here("work", "new") + "?" + asked)

    assert has in listed(page)
    assert has_not not in listed(page)


def test_what_is_chosen_stays_chosen_outside_of_the_list(instructor, here):
    page = instructor.get(here("work", "new") + QUERY + "&unit=supports")

    assert sent(page) == {"count-offset-spacing": "2"}
    assert "2 questions are chosen that are not in this list" in page.words


def test_nothing_that_fits_is_said(instructor, here):
    page = instructor.get(here("work", "new") + "?words=no+such+thing")

    assert "Nothing fits." in page.words


def test_what_the_class_gets_wrong_is_listed_with_its_slips(instructor, here, given, do):
    work = given.work("offset-spacing", "strap-count")
    do(work, typed="sine-for-cosecant")
    do(work, position=2)
    page = instructor.get(here("work", "new") + "?by=wrong")

    assert listed(page) == {"offset-spacing"}
    assert re.search(r"1 of 1 not right at first; 1 of 1 \w+", page.words)


@pytest.mark.parametrize(
    ("answer", "said"), [("1 in", "Not right"), ("many", "Not counted as a try."), ("", "Your answer")]
)
def test_trying_a_question_says_what_a_learner_would_hear(instructor, kept, answer, said):
    page = instructor.get(f"{kept}/try/1", query_string={"answer": answer})

    assert said in page.words
    assert "nothing is recorded" in page.words


def test_trying_gives_hints_steps_and_other_numbers(instructor, kept):
    first, second = (instructor.get(f"{kept}/try/1?numbers={numbers}").words for numbers in (1, 2))

    assert first != second
    assert "Hint 1 " in instructor.get(f"{kept}/try/1?hints=1").words
    assert "The steps, in your numbers" in instructor.get(f"{kept}/try/1?steps=yes").words


@pytest.mark.parametrize("nth", ["0", "3", "999"])
def test_a_question_that_a_set_does_not_have_is_not_found(instructor, kept, nth):
    assert instructor.get(f"{kept}/try/{nth}").status == 404


def test_work_goes_to_several_classes_at_once(instructor, here):
    made = instructor.submit("/groups", {"name": "Thursday class"}, action="/groups").location
    other = made.removeprefix("/groups/")
    page = instructor.submit(
        here("work", "new", "name") + QUERY, {"title": "For both", "also": other}, action=here("work")
    )

    assert page.status == 303
    assert "For both" in instructor.get(made).words
    assert "For both" in instructor.get(here()).words
