"""A class list on the pages: looked at, mended, put in, slips printed, and the first sign-in of who was put in."""

from __future__ import annotations

from io import BytesIO

import pytest
from sqlalchemy import func, select

from trainer.records.models import Person

LIST = "Last name;First name;Student No.\nRuiz;Ana;1\nPeña;José;2\n"


@pytest.fixture
def roster(client_of, world):
    """The instructor's browser, and what it sends."""
    return Sender(client_of("instructor"), f"/groups/{world.groups['class']}")


class Sender:
    def __init__(self, browser, group):
        self.browser, self.group = browser, group

    def look(self, text="", file=None, **more):
        data = {"text": text, **more} | ({"file": (BytesIO(file), "list.csv")} if file else {})
        return self._post(f"{self.group}/roster", data)

    def _post(self, path, data):
        page = self.browser.get(f"{self.group}/roster")
        return self.browser.post(
            path, data | {"csrf_token": page.value("csrf_token")}, content_type="multipart/form-data"
        )

    def put_in(self, text, **more):
        return self._post(f"{self.group}/roster/import", {"text": text, **more})


def people(app):
    with app.extensions["trainer.database"].read() as session:
        return session.scalar(select(func.count()).select_from(Person))


def test_a_list_is_looked_at_and_nothing_is_done(app, roster):
    before = people(app)

    page = roster.look(file=LIST.encode("cp1252"))

    assert page.status == 200
    assert page.heading == "What this list does to Tuesday evening"
    assert "Nothing is done yet" in page.words
    assert "José Peña 3 jose.pena New" in page.words
    assert people(app) == before


def test_a_numbered_list_is_read_without_its_numbers_and_that_is_said(roster):
    page = roster.look("1. Ana Ruiz\n2. Bo Lindqvist\n")

    assert "The names were numbered" in page.words
    assert "Bo Lindqvist 2 bo.lindqvist New" in page.words


def test_columns_that_nobody_knows_are_chosen_by_hand(roster):
    text = "Sits at;Who\n1;Ana Ruiz\n2;Kim Lee\n"
    page = roster.look(text)
    assert page.status == 422
    assert "Begins with: Ana Ruiz; Kim Lee" in page.words or "Begins with: Who; Ana Ruiz; Kim Lee" in page.words
    assert "column-0" in page.errors

    page = roster.look(text, **{"column-0": "number", "column-1": "name", "headings": "yes"})

    assert page.status == 200
    assert "Ana Ruiz 2 ana.ruiz New" in page.words


def test_a_bad_line_is_named_and_stops_all_of_it_unless_it_is_left_out(app, roster):
    before, text = people(app), "Name,No\nAna Ruiz,1\n,2\n"
    page = roster.put_in(text, **{"column-0": "name", "column-1": "number", "headings": "yes"})
    assert page.status == 422
    assert "leave_out" in page.errors
    assert "– 3 – Cannot be used. There is no name in this line." in page.words
    assert people(app) == before

    page = roster.put_in(text, leave_out="yes", **{"column-0": "name", "column-1": "number", "headings": "yes"})

    assert page.status == 201
    assert people(app) == before + 1


def test_slips_carry_each_name_with_its_password_and_are_for_first_passwords_only(roster):
    done = roster.put_in(LIST)
    assert done.heading == "They are in: print the slips now"
    slips = [one.get("value") for one in done.tree.iter("input") if one.get("name") == "slip"]
    token = done.value("csrf_token")

    sheet = roster.browser.post(f"{roster.group}/slips.pdf", {"slip": slips, "csrf_token": token}).paper

    for slip, name in zip(slips, ("ana.ruiz", "jose.pena"), strict=True):
        assert name in sheet
        assert slip.split(" ")[1] in sheet
    assert "José Peña" in sheet
    assert "localhost/sign-in" in sheet


def test_the_page_that_shows_the_passwords_is_kept_by_no_browser(roster):
    assert roster.put_in(LIST).headers["Cache-Control"] == "no-store"
    # What was only looked at can be gone back to.
    assert roster.look(LIST).headers["Cache-Control"] == "private, no-cache"


def test_the_first_sign_in_asks_for_a_password_and_then_says_what_the_class_sees(roster, client):
    done = roster.put_in(LIST)
    first = next(one.get("value") for one in done.tree.iter("input") if one.get("name") == "slip").split(" ")[1]

    client.submit("/sign-in", {"sign_in_name": "ana.ruiz", "password": first})
    own = {"old_password": first, "new_password": "tube and strap", "once_more": "tube and strap"}
    client.submit("/account/password", own)
    told = client.get(client.get("/practice").location)

    assert told.heading == "You are in Tuesday evening: what it sees of you"
    assert "Put in by Instructor Person" in told.words
    shared, kept = told.words.split("What they will not see")
    assert "What you answer in work that is assigned here" in shared
    assert "What you typed in practice" in kept

    page = client.submit("/account/told?next=/practice", action="/account/told")
    assert page.location == "/practice"
    assert client.get("/practice").status == 200


def test_who_was_put_in_may_leave_before_anything_else(roster, client, world):
    done = roster.put_in(LIST)
    first = next(one.get("value") for one in done.tree.iter("input") if one.get("name") == "slip").split(" ")[1]
    client.submit("/sign-in", {"sign_in_name": "ana.ruiz", "password": first})
    own = {"old_password": first, "new_password": "tube and strap", "once_more": "tube and strap"}
    client.submit("/account/password", own)

    page = client.submit(f"/account/groups/{world.groups['class']}/leave")

    assert page.location == "/account/held"
    assert client.get("/account/held").status == 200


def test_the_same_list_again_puts_nobody_in(app, roster):
    roster.put_in(LIST)
    before = people(app)

    assert "There is nothing to do" in roster.look(LIST).words
    page = roster.put_in(LIST)

    assert page.status == 303
    assert people(app) == before


@pytest.mark.parametrize(
    ("file", "said"),
    [(b"PK\x03\x04zip", "a workbook, a document or a picture"), (b"x" * 100_001, "larger than a class list")],
)
def test_a_file_that_is_no_list_is_told_kindly(roster, file, said):
    page = roster.look(file=file)

    assert page.status == 422
    assert said in page.errors["file"]
    assert "as CSV" in page.errors["file"]


def test_the_number_of_statements_does_not_grow_with_the_list(roster):
    few = len(roster.put_in("Ana Ruiz\nKim Lee\n").queries)
    many = len(roster.put_in("\n".join(f"{letter}nton {letter}bel" for letter in "BCDEFGHIJKLMNOPRST")).queries)

    assert many == few


def test_the_sheet_with_the_code_fits_one_page(client_of, world):
    page = client_of("instructor").get(f"/groups/{world.groups['class']}/join.pdf")

    code = world.codes["class"]
    assert page.paper.count("Page 1 of 1") == 1
    assert f"{code[:4]} {code[4:]}" in page.paper
    assert "Owner Person (runs the school), Instructor Person" in page.paper


def test_a_closed_code_has_no_sheet(client_of, world):
    browser = client_of("instructor")
    group = f"/groups/{world.groups['class']}"
    browser.submit(group, action=f"{group}/code/close")

    assert browser.get(f"{group}/join.pdf").location.endswith("#joining")


def test_the_sheet_beside_the_desk_is_one_page(client_of):
    sheet = client_of("instructor").get("/groups/start.pdf").paper

    assert "Page 1 of 1" in sheet
    assert "Bring people in" in sheet
