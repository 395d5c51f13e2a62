"""Records as files: what is in them, who may take them, and what a spreadsheet makes of them."""

from __future__ import annotations

import csv
import re
from datetime import UTC, datetime
from functools import partial
from io import BytesIO, StringIO
from zipfile import ZipFile

import pytest
from sqlalchemy import select

from trainer.accounts.actor import actor_of_person
from trainer.groups.claims import reply
from trainer.groups.own_tables import OWN_TABLES
from trainer.paper import typeset
from trainer.progress.taken_out import TABLES
from trainer.progress.watching import Watcher, sit_beside
from trainer.records.models import Group, ProofRun, Site
from trainer.text.separated import unarmed
from trainer.web.downloads import as_xlsx, file_name
from trainer.web.papers import sheet


def table(page):
    assert page.text.startswith("\ufeff")
    return list(csv.reader(StringIO(page.text.removeprefix("\ufeff"))))


def practise(given, who, *answers):
    for answer in answers:
        problem = given.problem(who)
        given.answer(problem, given.right(problem, who) if answer == "right" else answer, who)


@pytest.fixture
def crew(client_of, world):
    """The learner in the crew, who shares readiness there; and the address of its file."""
    client_of("learner").submit(f"/join/{world.codes['crew']}")
    return f"/groups/{world.groups['crew']}/record"


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t", "\r", "\n", "  =", "\u00a0+", "＝", "－"])
def test_a_text_that_could_be_a_formula_is_disarmed(start):
    assert unarmed(f"{start}1+1") == f"'{start}1+1"


def test_other_texts_stay():
    assert [unarmed(cell) for cell in ("", 'a "b", c', "3 1/2")] == ["", 'a "b", c', "3 1/2"]


@pytest.mark.parametrize("name", ["../../etc/passwd", 'a"; x', "Ähm\r\nSet-Cookie: a", "=cmd", "x" * 200])
def test_a_file_name_holds_nothing_but_letters_digits_and_hyphens(name):
    assert set(file_name(name)) <= set("abcdefghijklmnopqrstuvwxyz0123456789-")
    assert 0 < len(file_name(name)) <= 60


def test_every_answer_is_taken_along_with_its_verdict_as_typed(client_of, given):
    practise(given, "learner", "=1+1", "-3 in", "right")
    page = client_of("learner").get("/record/out/answers.csv")
    head, *rows = table(page)

    assert head[0] == "When"
    typed, verdicts = head.index("Answer as typed"), head.index("Verdict")
    assert rows[-1][verdicts] == "right"
    assert all(not row[typed].startswith(("=", "-")) for row in rows)
    assert page.headers["Content-Disposition"] == 'attachment; filename="my-answers.csv"'
    assert page.headers["Content-Type"] == "text/csv; charset=utf-8"
    assert page.headers["X-Content-Type-Options"] == "nosniff"


def test_skills_and_proof_runs_are_taken_along(client_of, given):
    practise(given, "learner", "right")
    client = client_of("learner")

    (skill,) = table(client.get("/record/out/skills.csv"))[1:]
    assert skill[1:5] == ["1", "1", "", ""]
    assert table(client.get("/record/out/proof-runs.csv"))[1:] == []
    assert client.get("/record/out/everything.csv").status == 404


def test_the_record_leads_to_its_files(client_of):
    links = client_of("learner").get("/record").links()

    assert {"/record/out/answers.csv", "/record/out.pdf"} <= set(links)


def test_the_record_is_taken_along_on_paper_for_a_stranger_to_read(client_of, given):
    practise(given, "learner", "right")
    given.finding()
    page = client_of("learner").get("/record/out.pdf")

    assert page.headers["Content-Disposition"] == 'attachment; filename="training-record-learner-person.pdf"'
    assert "Training record of Learner Person" in page.paper
    assert "This is no license and no registration." in page.paper
    assert "Too early to say, with 1 answer so far." in page.paper
    assert "None was finished yet." in page.paper
    assert "Instructor Person, Tuesday evening" in page.paper
    assert "Invented" not in page.paper


def test_the_paper_names_everybody_who_sat_beside_a_run(client_of, given, world):
    given.found_ready("bends.offset", watched_by="instructor")
    with given.database.write() as session:
        run = session.scalars(select(ProofRun)).one()
        group = session.scalars(select(Group.id).where(Group.public_id == world.groups["class"])).one()
        for who in ("instructor", "owner", "instructor"):
            sit_beside(session, run.id, Watcher(world.people[who], group), given.clock.now)

    assert "Instructor Person, Owner Person" in client_of("learner").get("/record/out.pdf").paper


def test_the_paper_of_a_demo_says_on_every_page_that_all_is_invented(app, client_of):
    with app.extensions["trainer.database"].write() as session:
        session.merge(Site(id=1, edition="2023", is_demo=True, created_at=datetime(2026, 9, 1, tzinfo=UTC)))

    pages = client_of("learner").get("/record/out.pdf").paper.splitlines()

    assert all("Invented people and numbers" in page for page in pages)


def test_nobody_is_told_that_somebody_took_a_record_along(client_of):
    client_of("learner").get("/record/out.pdf")

    assert "Nobody so far." in client_of("learner").get("/account/looks").words


def test_a_paper_that_cannot_be_made_is_a_page_that_says_so(client_of, monkeypatch):
    monkeypatch.setattr(sheet, "typeset", partial(typeset, seconds=0.001))
    page = client_of("learner").get("/record/out.pdf")

    assert page.status == 503
    assert "This paper could not be made" in page.heading


def test_a_leader_takes_along_who_shares_and_each_can_read_it(client_of, crew, given):
    practise(given, "learner", "right")
    foreman = client_of("foreman")
    page = foreman.get(f"{crew}.csv")
    foreman.get(f"{crew}.csv")

    assert [row[0] for row in table(page)] == ["Name", "Learner Person"]
    assert page.headers["Content-Disposition"] == 'attachment; filename="garage-crew-skills.csv"'
    held = client_of("learner").get("/account/held").words
    assert held.count("A leader of Garage crew took a file along that says where you stand.") == 2
    looks = client_of("learner").get("/account/looks").words
    assert looks.count("Foreman Person A leader of Garage crew took a file along") == 2
    assert looks.count("Foreman Person A leader of Garage crew looked at where you stand.") == 1
    assert "A part of your record" not in looks


def test_nobody_looked_is_said(client_of):
    assert "Nobody so far." in client_of("stranger").get("/account/looks").words


def test_who_closes_readiness_is_in_no_file(client_of, crew, given, world):
    practise(given, "learner", "right")
    action = f"/account/groups/{world.groups['crew']}/sharing"
    client_of("learner").submit("/account/held", {"share": []}, action=action)

    assert [row[0] for row in table(client_of("foreman").get(f"{crew}.csv"))] == ["Name"]
    assert "took a file along" not in client_of("learner").get("/account/held").words


def test_the_spreadsheet_holds_the_same_rows(client_of, crew, given):
    practise(given, "learner", "right")
    response = client_of("foreman").client.get(f"{crew}.xlsx")

    assert response.content_type == "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
    assert response.headers["Content-Disposition"] == 'attachment; filename="garage-crew-skills.xlsx"'
    assert "Learner Person" in shared_strings(response.data)


def test_a_spreadsheet_holds_no_formula_and_no_link(app):
    with app.app_context():
        data = as_xlsx("x", ["a", "b"], [["=1+1", "https://example.org"]]).data
    with ZipFile(BytesIO(data)) as book:
        sheet = book.read("xl/worksheets/sheet1.xml").decode()

    assert "<f>" not in sheet
    assert "hyperlink" not in sheet
    assert {"=1+1", "https://example.org"} <= set(shared_strings(data))


def shared_strings(data):
    with ZipFile(BytesIO(data)) as book:
        return re.findall(r"<t[^>]*>([^<]*)</t>", book.read("xl/sharedStrings.xml").decode())


def test_what_others_wrote_and_what_was_entered_can_be_taken_along(client_of, given):
    given.finding(note="=Two offsets lean.")
    given.registration()
    given.check()
    learner = client_of("learner")

    findings = table(learner.get("/record/out/findings.csv"))
    assert findings[1][1:4] == ["Offsets", "Dog-legs", "'=Two offsets lean."]
    registrations = table(learner.get("/record/out/registrations.csv"))
    assert registrations[1][:4] == ["registration", "Apprentice, Ohio, 815", "2027-01-31", "Learner Person"]
    assert table(learner.get("/record/out/checks.csv"))[1][1:5] == ["Offset", "1/2", "Tuesday evening", "open"]
    assert table(learner.get("/record/out/placement-runs.csv")) == [["Begun", "Ended", "Questions"]]
    assert "A registration or license was entered for you." in learner.get("/record/out/noted.csv").text
    assert learner.get("/record/out/everything.csv").status == 404


def test_more_time_and_points_set_by_hand_are_taken_along_by_whom_they_are_about(client_of, given):
    work, person = given.work("offset-spacing", "strap-count"), given.public_id("learner")
    instructor = client_of("instructor")
    more = {"person": person, "ends_on": "2026-12-09", "reason": "=On the road."}
    assert instructor.submit(f"/given/{work}/time", more).status == 303
    address = f"/given/{work}/people/{person}"
    for points, why in (("0.5", "Had no phone."), ("rule", "That was another.")):
        assert instructor.submit(address, {"points-1": "rule", "points-2": points, "reason": why}).status == 303
    learner, other = client_of("learner"), client_of("stranger")

    (time,) = table(learner.get("/record/out/more-time.csv"))[1:]
    assert time[1:4] == ["Instructor Person", "Offsets for Friday", "Tuesday evening"]
    assert time[4].startswith("2026-12-09 23:59:00")
    assert time[5] == "'=On the road."
    marks = table(learner.get("/record/out/points-by-hand.csv"))[1:]
    assert [row[1:] for row in marks] == [
        ["Instructor Person", "Offsets for Friday", "Tuesday evening", "2", "How many straps for a run", *came]
        for came in (["by hand", "0.5", "Had no phone."], ["taken back", "", "That was another."])
    ]
    assert "More time that you were given 1" in learner.get("/account/held").words
    assert "More time that you were given 0" in other.get("/account/held").words
    for name in ("more-time", "points-by-hand", "keys-called-wrong"):
        assert len(table(other.get(f"/record/out/{name}.csv"))) == 1


def test_keys_called_wrong_are_taken_along_with_what_was_answered(app, client_of, given):
    sent = given.claim()
    (waiting,) = table(client_of("learner").get("/record/out/keys-called-wrong.csv"))[1:]
    assert waiting[1] == "Distance between the marks of an offset"
    assert waiting[3:] == ["12 in", "The sine goes below.", "not answered yet", "", ""]

    with app.extensions["trainer.database"].write() as session:
        leader = actor_of_person(session, given.world.people["instructor"])
        reply(session, leader, sent, words="Look at step 3.", now=given.clock.now)

    (answered,) = table(client_of("learner").get("/record/out/keys-called-wrong.csv"))[1:]
    assert (answered[5], answered[7]) == ("the key is right", "Look at step 3.")
    assert answered[6]


def test_every_kind_of_the_record_is_offered_on_its_page(client_of):
    page = client_of("learner").get("/record")

    tables = {*TABLES, *OWN_TABLES}
    assert {link for link in page.links() if link.startswith("/record/out/")} == {
        f"/record/out/{table}.csv" for table in tables
    }
    assert "/hours.csv" in page.links()


def test_who_sat_beside_a_run_is_taken_along(client_of, given):
    given.found_ready("bends.offset", watched_by="instructor")

    head, row = table(client_of("learner").get("/record/out/proof-runs.csv"))
    assert dict(zip(head, row, strict=True))["Who sat beside"] == "Instructor Person"
