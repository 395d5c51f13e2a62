"""Hours on the pages: enter, confirm, send back; who was in class; the files and the sheet to sign."""

from __future__ import annotations

import re

import pytest

from trainer.accounts.actor import actor_of_person
from trainer.groups.joining import join

HOURS = {"work_process": "bending", "hours": "5.5", "note": "Offsets into the panels."}


@pytest.fixture
def crew(world, given, clock):
    """The learner works in the foreman's crew too."""
    with given.database.write() as session:
        join(session, actor_of_person(session, world.people["learner"]), world.codes["crew"], clock.now)
    return f"/groups/{world.groups['crew']}/hours"


@pytest.fixture
def entered(client_of, crew):
    learner = client_of("learner")
    assert learner.submit("/hours", HOURS | {"group": crew.split("/")[2]}).location == "/hours"
    return learner


def decide_path(page, crew):
    return next(
        form.get("action") for form in page.tree.iter("form") if re.fullmatch(f"{crew}/[^/]+", form.get("action"))
    )


def test_hours_are_entered_confirmed_and_counted(client_of, entered, crew):
    assert "Waits to be confirmed." in entered.get("/hours").words

    foreman = client_of("foreman")
    page = foreman.get(crew)
    path = decide_path(page, crew)
    assert foreman.post(path, page.form(path)).location == crew

    words = entered.get("/hours").words
    assert "On the job, confirmed 5.5 h" in words
    assert "Confirmed by" in words
    assert "the sponsor of the program decides" in words


def test_sent_back_the_learner_reads_why_and_takes_them_back(client_of, entered, crew):
    foreman = client_of("foreman")
    page = foreman.get(crew)
    path = decide_path(page, crew)
    token = page.form(path)["csrf_token"]
    refused = foreman.post(path, {"csrf_token": token, "decision": "send-back", "reason": ""})
    assert refused.status == 422
    foreman.post(path, {"csrf_token": token, "decision": "send-back", "reason": "That was Thursday."})

    page = entered.get("/hours")
    assert "That was Thursday." in page.words
    take_back = next(form.get("action") for form in page.tree.iter("form") if "take-back" in form.get("action"))
    assert entered.submit("/hours", action=take_back).location == "/hours"
    assert "Nothing entered yet." in entered.get("/hours").words


def test_a_form_with_something_wrong_is_shown_again_with_what_was_typed(client_of, crew):
    page = client_of("learner").submit("/hours", HOURS | {"group": crew.split("/")[2], "hours": "5.1"})

    assert page.status == 422
    assert "hours are entered in quarters" in page.errors["hours"].lower()
    assert page.value("hours") == "5.1"


def test_who_is_in_no_crew_is_told_so(client_of):
    assert "as a member of a crew" in client_of("learner").get("/hours").words


def test_the_files_are_to_keep_and_hold_no_formula(client_of, crew):
    learner = client_of("learner")
    learner.submit("/hours", HOURS | {"group": crew.split("/")[2], "note": "=1+1"})

    for browser, path in ((learner, "/hours.csv"), (client_of("foreman"), f"{crew}.csv")):
        page = browser.get(path)
        assert page.headers["Content-Type"].startswith("text/csv")
        assert "attachment" in page.headers["Content-Disposition"]
        assert "'=1+1" in page.text
        assert ",=1" not in page.text


def test_a_day_of_class_is_ticked_put_right_and_stands_in_the_log(client_of, world, given):
    path = f"/groups/{world.groups['class']}/attendance"
    leader = client_of("instructor")
    day = {"topic": "Offsets and saddles", "hours": "2.5"}
    assert leader.submit(path, day | {"there": [given.public_id("learner")]}).location == path
    assert "1 of 1 there" in leader.get(path).words
    assert "In class 2.5 h" in client_of("learner").get("/hours").words

    one = next(link for link in leader.get(path).links() if link.startswith(f"{path}/"))
    page = leader.get(one)
    assert page.value("topic") == "Offsets and saddles"
    fields = page.form(one)
    fields.pop("there")
    assert leader.post(one, fields).location == path
    assert "In class 0 h" in client_of("learner").get("/hours").words


def test_a_day_without_hours_is_shown_again(client_of, world):
    page = client_of("instructor").submit(f"/groups/{world.groups['class']}/attendance", {"topic": "Offsets"})

    assert set(page.errors) == {"hours"}


def test_the_sheet_has_the_lesson_its_cautions_and_lines(client_of):
    page = client_of("foreman").get("/lessons/offset-bends/sign-in-sheet")

    assert page.heading.startswith("Sign-in sheet: ")
    assert "/lessons/offset-bends/sign-in-sheet" in client_of("foreman").get("/lessons/offset-bends").links()
    assert "/lessons/offset-bends/sign-in-sheet" not in client_of("learner").get("/lessons/offset-bends").links()
    assert "CAUTION" in page.words
    assert "Signature" in page.words
    assert client_of("foreman").get("/lessons/no-such/sign-in-sheet").status == 404


def test_the_sheet_on_paper_is_one_page_with_a_line_for_everybody(client_of):
    (page,) = client_of("foreman").get("/lessons/offset-bends/sign-in-sheet.pdf").paper.splitlines()

    assert "Sign-in sheet: The offset" in page
    assert "Wear eye protection" in page
    assert "No. Name Crew or class Signature 1 2 3" in page
