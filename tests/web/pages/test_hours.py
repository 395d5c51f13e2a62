"""Hours on the pages: enter, confirm, send back; who was in class; the files and the sheet to sign."""

from __future__ import annotations

import re

import pytest

from trainer.accounts.actor import actor_of_person
from trainer.accounts.people import change_display_name
from trainer.groups.joining import join
from trainer.groups.membership import make_group, open_joining
from trainer.groups.organisations import appoint, make_organisation

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


@pytest.fixture
def owner(client_of, given):
    """Somebody who owns the foreman's shop."""
    given.shop_owner("stranger")
    return client_of("stranger")


@pytest.fixture
def own_list(world):
    return f"/organisations/{world.organisations['shop']}/processes"


@pytest.mark.usefixtures("crew")
def test_the_owner_edits_the_list_and_members_enter_by_it(owner, client_of, own_list):
    assert own_list in owner.get(own_list.replace("processes", "staff")).links()
    assert "no number asked for" in owner.get(own_list).words
    assert owner.submit(own_list, {"title": "Trenching", "required": "1,200"}).location == own_list
    assert "Trenching 1200 hours asked for" in owner.get(own_list).words
    assert "1200 hours asked for altogether" in owner.get(own_list).words

    page = client_of("learner").get("/hours")
    assert "Trenching" in [words.strip() for words in page.tree.itertext()]
    assert "Trenching 0 0 0 1200 1200" in page.words


def test_a_process_is_changed_closed_and_opened_again(owner, entered, own_list):
    one = f"{own_list}/bending"
    page = owner.get(one)
    assert page.value("title") == "Bending by hand"
    assert "Hours were entered on it" in page.words
    assert owner.submit(one, {"required": "6"}).location == own_list
    assert "Bending by hand 0 5.5 0 6 6" in entered.get("/hours").words

    assert owner.submit(one, action=f"{one}/close").location == own_list
    assert "closed; 6 hours asked for" in owner.get(own_list).words
    assert "Bending by hand" not in [option.text for option in entered.get("/hours").tree.iter("option")]
    assert owner.submit(one, action=f"{one}/open").location == own_list
    assert "closed" not in owner.get(own_list).words


@pytest.fixture
def second_crew(world, given, clock):
    """Public id of a crew of another shop, in which the learner works too."""
    with given.database.write() as session:
        foreman, chief = (actor_of_person(session, world.people[one]) for one in ("foreman", "administrator"))
        more = {"kind": "shop", "time_zone": "America/Chicago", "now": clock.now}
        shop = make_organisation(session, chief, name="Mill Road Wiring", **more)
        appoint(session, chief, shop, sign_in_name="foreman", role="foreman", now=clock.now)
        foreman = actor_of_person(session, world.people["foreman"])
        made = make_group(session, foreman, shop, name="Mill crew", now=clock.now)
        code = open_joining(session, actor_of_person(session, world.people["foreman"]), made, clock.now)
        join(session, actor_of_person(session, world.people["learner"]), code, clock.now)
    return made


def test_processes_of_two_shops_stand_apart(owner, entered, own_list, second_crew):
    owner.submit(f"{own_list}/bending", {"title": "Bending, all sizes"})

    options = {words.text.strip(): words.get("value") for words in entered.get("/hours").tree.iter("option")}
    here, there = (
        options[f"{title} ({shop})"]
        for title, shop in (("Bending, all sizes", "Hill Street Electric"), ("Bending by hand", "Mill Road Wiring"))
    )
    wrong = entered.submit("/hours", HOURS | {"group": second_crew, "work_process": here})
    assert set(wrong.errors) == {"work_process"}
    assert wrong.value("note") == HOURS["note"]
    right = HOURS | {"group": second_crew, "work_process": there, "hours": "2"}
    assert entered.submit("/hours", right).location == "/hours"

    page = entered.get("/hours")
    assert "By work process: Mill Road Wiring" in page.words
    assert "Bending by hand, Mill Road Wiring" in page.words
    lines = entered.get("/hours-by-process.csv").text.splitlines()[1:]
    assert sorted(line.split(",", 2)[1] for line in lines) == ["Hill Street Electric", "Mill Road Wiring"]
    assert any("Mill Road Wiring,Bending by hand,0.0,2.0" in line for line in lines)


def test_the_last_process_stays_and_the_page_says_why(owner, own_list):
    keys = [link.rpartition("/")[2] for link in owner.get(own_list).links() if link.startswith(f"{own_list}/")]
    for key in keys[:-1]:
        owner.submit(f"{own_list}/{key}", action=f"{own_list}/{key}/close")

    page = owner.get(f"{own_list}/{keys[-1]}")
    assert "last process on which hours can be entered" in page.words
    sent = owner.post(f"{own_list}/{keys[-1]}/close", {"csrf_token": page.value("csrf_token")})
    assert sent.status == 403
    assert "Add another one first." in sent.words
    assert len([link for link in owner.get(own_list).links() if link.startswith(f"{own_list}/")]) == 1


def test_a_process_that_nobody_used_is_removed(owner, own_list):
    one = f"{own_list}/wet-places"
    assert owner.submit(one, action=f"{one}/close").location == own_list

    assert "Removed. Nobody had entered hours on it." in owner.get(own_list).words
    assert owner.get(one).status == 404


def test_what_the_list_cannot_take_is_told_and_kept(owner, own_list):
    page = owner.submit(own_list, {"title": "Pulling wire", "required": "many"})

    assert page.status == 422
    assert set(page.errors) == {"title"}
    page = owner.submit(f"{own_list}/pulling", {"required": "many"})
    assert set(page.errors) == {"required"}
    assert page.value("required") == "many"


def test_totals_are_taken_along_by_process(owner, entered, own_list, crew, client_of):
    owner.submit(f"{own_list}/bending", {"required": "6"})
    head = "Name,Work process,Confirmed,Waiting,Sent back,Asked for,Missing"
    line = "Learner Person,Bending by hand,0.0,5.5,0.0,6.0,6.0"
    by_process = f"{crew}-by-process"

    own = entered.get("/hours-by-process.csv").text.removeprefix("\ufeff").splitlines()
    assert own == [head.replace("Name,", "Name,Shop,"), line.replace("Person,", "Person,Hill Street Electric,")]
    foreman = client_of("foreman")
    assert f"{by_process}.csv" in foreman.get(crew).links()
    assert foreman.get(f"{by_process}.csv").text.removeprefix("\ufeff").splitlines() == [head, line]
    assert foreman.get(f"{by_process}.xlsx").headers["Content-Type"].endswith("spreadsheetml.sheet")
    assert foreman.get(f"{by_process}.exe").status == 404


@pytest.mark.usefixtures("entered")
def test_hours_of_two_people_with_one_name_are_not_added_together(crew, given, client_of, world, clock):
    with given.database.write() as session:
        join(session, actor_of_person(session, world.people["stranger"]), world.codes["crew"], clock.now)
        change_display_name(session, world.people["stranger"], "Learner Person", clock.now)
    client_of("stranger").submit("/hours", HOURS | {"group": crew.split("/")[2], "hours": "2"})

    foreman = client_of("foreman")
    lines = foreman.get(f"{crew}-by-process.csv").text.splitlines()[1:]
    assert [line.split(",")[:4:3] for line in lines] == [["Learner Person", "5.5"], ["Learner Person", "2.0"]]
    assert "Bending by hand 0 5.5 0" in foreman.get(crew).words
    assert "Bending by hand 0 2 0" in foreman.get(crew).words


def test_the_paper_of_a_record_holds_hours_against_what_is_asked_for(owner, entered, own_list):
    owner.submit(f"{own_list}/bending", {"required": "6"})

    assert "Bending by hand 0 5.5 0 6" in entered.get("/record/out.pdf").paper
