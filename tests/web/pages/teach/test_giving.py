"""Giving work in two steps."""

from __future__ import annotations

import re
from urllib.parse import urlencode

import pytest

from trainer.cli.serving import OPTIONS

CHOSEN = {"count-offset-spacing": "2", "count-strap-count": "1"}
QUERY = "?count-offset-spacing=2&count-strap-count=1"


def selected(page):
    """What the list has chosen, by family."""
    lists = {one.get("name"): one for one in page.tree.iter("select") if one.get("name").startswith("count-")}
    chosen = {name: one.find("option[@selected]") for name, one in lists.items()}
    return {name: option.get("value") for name, option in chosen.items() if option is not None}


@pytest.fixture
def named(here):
    return here("work", "new", "name")


def test_the_list_has_every_question_by_unit_and_skill(app, instructor, here):
    page = instructor.get(here("work", "new"))

    fields = {one.get("name") for one in page.tree.iter("select")} - {"unit", "level", "by"}
    assert fields == {f"count-{family}" for family in app.extensions["trainer.library"].givable}
    assert re.search(r"Bends Stub-ups \d+ questions .*The mark for a stub-up one step", page.words)


def test_what_was_chosen_stays_on_the_way_to_a_sample_and_back(instructor, here):
    sample = instructor.get(here("questions", "offset-spacing") + QUERY)
    back = next(link for link in sample.links() if link.startswith(here("work", "new")))

    assert back.endswith("#ask-offset-spacing")
    assert selected(instructor.get(back.partition("#")[0])) == CHOSEN


def test_the_second_page_says_what_was_chosen_and_names_the_time_zone(instructor, named):
    page = instructor.get(named + QUERY)

    assert "Distance between the marks of an offset 2" in page.words
    assert "How many straps for a run 1" in page.words
    assert "America/Chicago" in page.words
    # A week from now, in the organisation's own zone.
    assert page.value("due_on") == "2026-12-02"
    assert CHOSEN.items() <= page.form(named.removesuffix("/new/name")).items()


def test_work_is_given_and_stands_where_its_people_find_it(instructor, client_of, here, named):
    page = instructor.submit(named + QUERY, {"title": "Friday's offsets"}, action=here("work"))

    assert page.location == here()
    assert "Friday's offsets Due Wed, Dec 2, 2026" in instructor.get(here()).words
    learner = client_of("learner").get("/work")
    assert "Friday's offsets" in learner.words
    assert "0 of 3 answered" in learner.words


def test_nothing_chosen_leads_back_to_the_list(instructor, named):
    page = instructor.get(named)

    assert page.status == 422
    assert page.heading == "Give work: what is asked"
    assert page.errors == {"questions": "Choose at least one question: how many of it are asked."}


def test_nothing_chosen_is_refused_when_it_is_sent_too(instructor, here, named):
    page = instructor.submit(
        named + "?count-strap-count=1", {"title": "Nothing", "count-strap-count": ""}, action=here("work")
    )

    assert page.status == 422
    assert "1 to 60 questions in all" in page.errors["questions"]


def test_more_than_can_be_asked_comes_back_with_the_list(instructor, here, named):
    page = instructor.submit(named + QUERY, {"title": "Lots", "count-strap-count": "99"}, action=here("work"))

    assert page.status == 422
    assert "1 to 10 of each" in page.errors["questions"]
    assert selected(page)["count-offset-spacing"] == "2"


@pytest.mark.parametrize("count", ["many", "-1", "0", "1.5", "", "9" * 5000, "\u00b2"])
def test_what_is_no_number_counts_as_not_chosen(instructor, named, count):
    page = instructor.get(named, query_string={"count-strap-count": count, "count-stub-up-mark": "1"})

    assert page.status == 200
    assert "How many straps for a run" not in page.words


def test_questions_that_there_are_not_count_as_not_chosen(instructor, named):
    page = instructor.get(named + "?count-no-such=3&count-stub-up-mark=1")

    assert "Questions 1" in page.words


@pytest.mark.parametrize(
    ("due_on", "said"),
    [
        ("", "Type the day on which it is due."),
        ("next Friday", "Type a day as year, month and day"),
        ("12/02/2026", "For example: 2026-12-02"),
        ("2026-02-30", "Type a day as year, month and day"),
        ("2026-11-24", "a date to come"),
        ("9999-12-31", "at most two years off"),
        ("0001-01-01", "a date to come"),
    ],
)
def test_a_day_that_will_not_do_is_kept_with_all_else(instructor, here, named, due_on, said):
    page = instructor.submit(named + QUERY, {"title": "Offsets", "due_on": due_on}, action=here("work"))

    assert page.status == 422
    assert said in page.errors["due_on"]
    assert page.value("due_on") == due_on
    assert page.value("title") == "Offsets"
    assert CHOSEN.items() <= page.form(here("work")).items()


def test_today_is_still_to_come(instructor, here, named):
    page = instructor.submit(named + QUERY, {"title": "Tonight", "due_on": "2026-11-25"}, action=here("work"))

    assert page.status == 303


@pytest.mark.parametrize(("title", "said"), [(" ", "Type what to call it"), ("x" * 121, "up to 120 characters")])
def test_a_name_that_will_not_do_is_kept_too(instructor, here, named, title, said):
    page = instructor.submit(named + QUERY, {"title": title}, action=here("work"))

    assert page.status == 422
    assert said in page.errors["title"]
    assert page.value("title") == title


def test_a_form_that_is_sent_twice_gives_the_work_once(instructor, here, named):
    form = instructor.get(named + QUERY).form(here("work")) | {"title": "Offsets twice"}
    for _ in range(2):
        assert instructor.post(here("work"), form).location == here()
    assert instructor.get(here()).words.count("Offsets twice") == 1

    instructor.submit(named + QUERY, {"title": "Offsets twice"}, action=here("work"))
    assert instructor.get(here()).words.count("Offsets twice") == 2


def test_nobody_gives_work_to_a_group_of_others(foreman, here):
    own = here("work", "new", "name", group="crew") + QUERY
    token = foreman.get(own).value("csrf_token")
    sent = {"csrf_token": token, "title": "Mine", "due_on": "2026-12-02"} | CHOSEN

    assert foreman.post(here("work"), sent).status == 404
    assert foreman.get(here("work", "new")).status == 404


def test_a_form_without_its_token_gives_nothing(instructor, here):
    page = instructor.post(here("work"), {"title": "Mine", "due_on": "2026-12-02"} | CHOSEN)

    assert page.status == 400
    assert "Mine" not in instructor.get(here()).words


@pytest.mark.parametrize("below", [("work", "new"), ("work", "new", "name")])
def test_the_two_steps_are_only_read(instructor, here, below):
    assert instructor.post(here(*below)).status in {400, 405}


@pytest.mark.parametrize(
    ("list_", "choices"), [("give", None), ("give", "10"), ("make a set", None), ("change a set", None)]
)
def test_the_server_takes_the_whole_list_without_a_script_too(instructor, here, world, given, list_, choices):
    page = instructor.get(
        {
            "give": here("work", "new"),
            "make a set": f"/sets/new/{world.organisations['school']}",
            "change a set": f"/sets/{given.problem_set()}/questions",
        }[list_]
    )
    form = next(one for one in page.tree.iter("form") if one.get("method") == "get")
    fields = [one.get("name") for one in form.iter() if one.get("name")]
    sent = urlencode({name: (choices or "") if name.startswith("count-") else "" for name in fields})
    for to in {form.get("action")} | {one.get("formaction", "") for one in form.iter("button")}:
        line = f"GET {to}?{sent} HTTP/1.1\r\n"
        assert len(fields) > 150
        assert len(line) < OPTIONS["limit_request_line"] - 1000


@pytest.mark.parametrize("from_a_set", [False, True])
def test_work_on_paper_leads_to_where_its_sheets_are_made(instructor, named, here, given, from_a_set):
    more = f"&set={given.problem_set()}" if from_a_set else ""
    page = instructor.submit(named + QUERY + more, {"title": "On paper", "kind": "paper"}, action=here("work"))
    sheets = instructor.get(page.location)

    assert page.location.endswith("/sheets")
    assert "It is given. Make the sheets here and print them." in sheets.words
    assert instructor.submit(page.location).status == 303
