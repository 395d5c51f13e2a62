"""Hands-on checks in a browser: the owner names, the foreman sets, fills in and signs with one thumb, the learner reads."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from sqlalchemy import select

from trainer.accounts.actor import actor_of_person
from trainer.groups.signers import name_signer
from trainer.problems.hands_on import KINDS
from trainer.records.engine import Database
from trainer.records.models import Group, Organisation, Person


@pytest.fixture
def crew(site, tmp_path):
    """The demo's crew and shop in addresses; its foreman is named for every kind."""
    assert site
    opened = Database(f"sqlite:///{tmp_path / 'site.db'}")
    with opened.write() as session:
        people = {one.sign_in_name: one for one in session.scalars(select(Person))}
        shop = session.scalars(select(Organisation).where(Organisation.kind == "shop")).one()
        more = {"kinds": list(KINDS), "licence": "Journeyman, Ohio, 4711", "expires_on": "2061-06-30"}
        owner = actor_of_person(session, people["owner"].id)
        now = datetime.now(UTC)
        name_signer(session, owner, shop.public_id, person=people["foreman"].public_id, **more, now=now)
        found = session.scalars(select(Group.public_id).where(Group.kind == "crew")).first(), shop.public_id
    opened.close()
    return found


def test_a_check_is_set_filled_in_and_signed(screen, people, crew):
    screen.sign_in(people["foreman"])
    screen.open(f"/groups/{crew[0]}/checks")
    screen.page.select_option("[name=kind]", "back-to-back")
    screen.press("Set it")
    screen.open(f"/groups/{crew[0]}/checks/cards")
    screen.open(f"/groups/{crew[0]}/checks")
    first = screen.page.locator("#open ~ .ways a").first
    with screen.page.expect_navigation():
        first.click()
    screen.look()
    screen.press("Sign")
    assert "things to look at again" in screen.page.locator(".errors").inner_text()

    for step in screen.page.locator(".yes-no__pair").all():
        step.get_by_text("Yes").click()
    for measure in screen.page.locator("[name^=measured-]").all():
        measure.fill("12")
    screen.press("Sign")

    assert "Not passed" in screen.page.locator("main").inner_text()


def test_the_owner_s_and_the_learner_s_pages(phone, people, crew):
    phone.sign_in(people["owner"])
    phone.open(f"/organisations/{crew[1]}/signers")
    phone.open("/account/registrations")
    phone.open("/checks")

    assert phone.heading == "Your hands-on checks"
