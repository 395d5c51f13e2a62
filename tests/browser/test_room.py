"""Work in the room in a browser: given, opened, answered by several telephones at once, and the tally on the leader's screen."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from sqlalchemy import select

from trainer.accounts.sessions import open_session
from trainer.calc.length import write_length
from trainer.library.shelf import Library
from trainer.problems.shelf import content_root
from trainer.progress.sitting import sit_down
from trainer.records.engine import Database
from trainer.records.models import Group, Membership, Person, Problem

FAMILY = "offset-shrink"


@pytest.fixture
def records(site, tmp_path):
    assert site
    opened = Database(f"sqlite:///{tmp_path / 'site.db'}")
    yield opened
    opened.close()


@pytest.fixture
def learners(records):
    """Three who learn in the class, by key."""
    with records.read() as session:
        group = session.scalars(select(Group).where(Group.kind == "class")).one()
        query = select(Membership.person_id).where(Membership.group_id == group.id, Membership.role == "learner")
        return group.public_id, list(session.scalars(query.order_by(Membership.person_id).limit(3)))


def come_in(screen, records, person_id):
    with records.write() as session:
        session.get(Person, person_id).must_change_password = False
        token, _ = open_session(session, person_id, "a browser", datetime.now(UTC))
    screen.page.context.add_cookies([{"name": "trainer-reader", "value": token, "url": screen.base}])


def slip_of(records, person_id):
    """What to type for the first known mistake of somebody's newest problem."""
    with records.read() as session:
        query = select(Problem.public_id).where(Problem.person_id == person_id).order_by(Problem.id.desc())
        newest = session.scalars(query).first()
        problem = sit_down(session, Library(content_root(None)), person_id, newest).problem
    return write_length(problem.mistakes[0].value)


def test_several_telephones_answer_at_once_and_the_tally_is_right(desk, screens, people, learners, records):
    group, keys = learners
    desk.sign_in(people["instructor"])
    desk.open(f"/groups/{group}/work/new/name?count-{FAMILY}=1")
    desk.fill(title="Tonight")
    desk.page.get_by_label("In the room").check()
    desk.page.get_by_label("The same numbers for all").check()
    desk.press("Give this work")
    room = desk.path
    desk.press("Open it for everybody")
    phones = [screens("phone") for _ in keys]
    for phone, key in zip(phones, keys, strict=True):
        come_in(phone, records, key)
        phone.open("/work")
        phone.page.get_by_role("link", name="Tonight").click()
        phone.page.locator("ol.lines button").first.click()
        phone.page.wait_for_url("**/problems/*")
        phone.look()
    wrong = slip_of(records, keys[0])
    for phone in phones[:2]:
        phone.fill(answer=wrong)
    phones[2].fill(answer="1/16 in")
    for phone in phones:
        phone.page.evaluate("document.getElementById('answer-form').requestSubmit()")
    for phone in phones:
        phone.page.get_by_text("The steps come when this is ended in the room.").wait_for()

    # Nobody loads the page again: it does so by itself.
    # Two slips may come to the value that was typed; each then stands there.
    desk.page.locator(".slip__words", has_text="2 of 3").first.wait_for(timeout=20_000)
    assert desk.page.locator(".slip").count() >= 1
    desk.look()
    desk.press("For the wall, without names")
    with records.read() as session:
        names = [session.get(Person, key).display_name for key in keys]
    assert not [name for name in names if name in desk.page.locator("main").inner_text()]
    desk.open(room)
    desk.press("End it")
    phones[0].page.get_by_text("The steps, in your numbers").wait_for(timeout=30_000)


def test_the_room_works_by_loading_it_again_without_script(screens, people, learners, records):
    group, keys = learners
    desk = screens("desk", script=False)
    desk.sign_in(people["instructor"])
    desk.page.goto(f"{desk.base}/groups/{group}/work/new/name?count-{FAMILY}=1")
    desk.fill(title="Tonight")
    desk.page.get_by_label("In the room").check()
    desk.page.get_by_role("button", name="Give this work").click()
    desk.page.get_by_role("button", name="Open it for everybody").click()
    phone = screens("phone")
    come_in(phone, records, keys[0])
    phone.page.goto(f"{phone.base}/work")
    phone.page.get_by_role("link", name="Tonight").click()
    phone.page.locator("ol.lines button").first.click()
    phone.page.wait_for_url("**/problems/*")
    phone.fill(answer=slip_of(records, keys[0]))
    phone.press("Send the answer")
    desk.page.get_by_role("link", name="Read it again now").click()

    assert "1 of 1" in desk.page.locator(".slip__words").first.inner_text()
