"""From a class list to a learner's first sign-in, by keys alone; and each page of it as it looks."""

from __future__ import annotations

from datetime import UTC, datetime
from io import BytesIO

import pytest
from pypdf import PdfReader
from sqlalchemy import select

from trainer.accounts.sessions import open_session
from trainer.records.engine import Database
from trainer.records.models import Group, Person

LIST = "Last name;First name;No\nRuiz;Ana;1\nPeña;José;2\n;;3\n"


@pytest.fixture
def group(site, tmp_path):
    """The address of the demo site's class."""
    assert site
    opened = Database(f"sqlite:///{tmp_path / 'site.db'}")
    with opened.read() as session:
        found = session.scalars(select(Group.public_id).where(Group.kind == "class")).one()
    yield f"/groups/{found}"
    opened.close()


@pytest.fixture
def come_in(site, tmp_path):
    """Lets a screen in as the instructor."""
    assert site

    def enter(screen):
        opened = Database(f"sqlite:///{tmp_path / 'site.db'}")
        with opened.write() as session:
            person = session.scalars(select(Person).where(Person.sign_in_name == "instructor")).one()
            token, _ = open_session(session, person.id, "a browser", datetime.now(UTC))
        opened.close()
        screen.page.context.add_cookies([{"name": "trainer-reader", "value": token, "url": screen.base}])

    return enter


def tab_to(screen, words):
    """Go on by the tabulator until a button, link or field with these words, or of this name, has the focus."""
    for _ in range(150):
        screen.page.keyboard.press("Tab")
        at = screen.page.evaluate("[document.activeElement.textContent.trim(), document.activeElement.name || '']")
        if words in at:
            return
    pytest.fail(f"no tabulator leads to {words!r} on {screen.path}")


def press_enter(screen):
    with screen.page.expect_navigation():
        screen.page.keyboard.press("Enter")
    screen.look()


def test_a_class_comes_in_by_keys_and_a_learner_sets_a_password(desk, phone, come_in, group):
    come_in(desk)
    desk.open(group)
    tab_to(desk, "Add people from a list")
    press_enter(desk)
    tab_to(desk, "text")
    desk.page.keyboard.insert_text(LIST)
    tab_to(desk, "See what each line does")
    press_enter(desk)
    assert "Cannot be used. There is no name in this line." in desk.page.locator("main").inner_text()

    tab_to(desk, "leave_out")
    desk.page.keyboard.press("Space")
    tab_to(desk, "Put 2 people in")
    press_enter(desk)
    assert desk.heading == "They are in: print the slips now"

    tab_to(desk, "Slips to print (PDF)")
    with desk.page.expect_download() as sent:
        desk.page.keyboard.press("Enter")
    slips = PdfReader(BytesIO(sent.value.path().read_bytes())).pages[0].extract_text()
    first = next(row for row in slips.splitlines() if row.count("-") == 2 and len(row.strip()) == 14).strip()
    assert "ana.ruiz" in slips

    signs_in_by_keys(phone, "ana.ruiz", first)


def signs_in_by_keys(screen, name, first):
    """The learner types what the slip says, sets a password, and reads what the class sees before anything else."""
    screen.open("/sign-in")
    keys = screen.page.keyboard
    tab_to(screen, "sign_in_name")
    keys.type(name)
    keys.press("Tab")
    keys.type(first)
    press_enter(screen)
    assert screen.heading == "Set your own password"

    for field, text in (("old_password", first), ("new_password", "tube and strap"), ("once_more", "tube and strap")):
        tab_to(screen, field)
        keys.type(text)
    press_enter(screen)
    assert screen.heading.endswith("what it sees of you")
    assert "What you answer in work that is assigned here" in screen.page.locator("main").inner_text()

    tab_to(screen, "I have read it")
    press_enter(screen)
    assert screen.path == "/today"


def test_each_page_of_bringing_people_in_and_of_a_term(screen, come_in, group):
    come_in(screen)
    for path in ("/groups", group, f"{group}/roster", f"{group}/name", f"{group}/copy", f"{group}/away"):
        screen.open(path)
    screen.open("/account/calendar")
    screen.press("Make the address")
    assert screen.heading == "The address of your calendar"

    screen.open(f"{group}/roster")
    screen.page.fill("[name=text]", "Sits at;Who\n1;Ana Ruiz\n2;José Peña\n")
    screen.press("See what each line does")
    assert "Say first in which column the names stand." in screen.page.locator("main").inner_text()
    screen.page.select_option("#column-0", "number")
    screen.page.select_option("#column-1", "name")
    screen.page.check("#headings")
    screen.press("Look again")
    screen.press("Put 2 people in")

    screen.open(group)
    screen.page.get_by_role("link", name="Ana Ruiz").click()
    screen.page.wait_for_url("**/people/*")
    screen.press("New password at the desk")
    screen.press("Give a new password")
    assert screen.heading == "Hand this over now"


def test_a_sample_class_is_one_button_away_and_one_button_gone(screen, come_in):
    come_in(screen)
    screen.open("/groups")
    screen.press("Make a sample class")
    assert screen.heading == "Sample class (invented)"

    screen.press("Take the sample away")

    assert screen.heading == "Your classes and crews"
    assert "Sample class (invented)" not in screen.page.locator("main").inner_text()
