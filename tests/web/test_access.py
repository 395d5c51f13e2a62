"""
What each kind of visitor meets on each route of the site.

`access.txt` holds the expectations, one line a route; the routes come from the application. A route without a line
fails, and so does a line without a route. Forms are sent empty and without a token: what counts is who gets through.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

TABLE = Path(__file__).with_name("access.txt")
WITHOUT_PAGE = {"HEAD", "OPTIONS"}


def read_table():
    lines = [line.split() for line in TABLE.read_text().splitlines() if line.strip() and not line.startswith("#")]
    kinds = lines[0][2:]
    return {(method, endpoint): dict(zip(kinds, cells, strict=True)) for method, endpoint, *cells in lines[1:]}


EXPECTED = read_table()
CELLS = [(*route, who, status) for route, row in EXPECTED.items() for who, status in row.items()]


class Addresses(dict):
    """What stands in place-holders; what has to be made first is made when a route asks for it."""

    def __init__(self, makers, **known):
        super().__init__(**known)
        self.makers = makers

    def __missing__(self, name):
        self[name] = self.makers[name]()
        return self[name]


@pytest.fixture
def addresses(world, given):
    """
    What stands in a route's place-holders: things of the first class and its learner.

    A route with a new place-holder adds it here.
    """
    found = Addresses(
        {
            "problem_id": given.problem,
            "work_id": given.work,
            "room_id": lambda: given.work(kind="room"),
            "set_id": given.problem_set,
            "person_id": lambda: given.public_id("learner"),
            "shoe_id": given.shoe,
            "finding_id": given.finding,
            "check_id": given.check,
            "signer_id": given.signer,
            "registration_id": given.registration,
            "day_id": given.class_day,
            "job_id": given.job_type,
            "claim_id": given.claim,
            "rules": given.rules,
        },
        code=world.codes["class"],
        group_id=world.groups["class"],
        organisation_id=world.organisations["school"],
        hours_id="0123456789abcdefABCDEF",
        session_id="0123456789abcdefABCDEF",
        lesson_id="offset-bends",
        unit="bends",
        bend_id="offset",
        family_id="offset-shrink",
        skill="bends.offset",
        position="1",
        nth="1",
        ready="rough-in",
        process_key="bending",
        calculation_name="offset",
        table="answers",
        token="nobody-was-given-this",
        kind="csv",
    )
    found.makers["picture_id"] = lambda: given.check_photo(found["check_id"])
    found.makers["photo_id"] = lambda: given.photo(found["finding_id"])
    return found


def routes(app):
    return {
        (method, rule.endpoint): rule.rule
        for rule in app.url_map.iter_rules()
        for method in rule.methods - WITHOUT_PAGE
    }


def test_every_route_has_its_line_and_every_line_its_route(app):
    assert set(routes(app)) == set(EXPECTED)


def test_every_kind_of_visitor_has_its_column():
    kinds = {"nobody", "learner", "other-learner", "instructor", "foreman", "owner", "administrator", "left"}

    assert {frozenset(row) for row in EXPECTED.values()} == {frozenset(kinds)}


@pytest.mark.parametrize(("method", "endpoint", "who", "status"), CELLS, ids=str)
def test_a_visitor_meets_what_the_table_says(
    app, client, client_of, addresses, monkeypatch, method, endpoint, who, status
):
    monkeypatch.setitem(app.config, "WTF_CSRF_ENABLED", False)
    rule = routes(app)[method, endpoint]
    path = re.sub(r"<(?:[^:>]+:)?(\w+)>", lambda match: addresses[match[1]], rule)
    browser = client if who == "nobody" else client_of(who)

    page = browser.get(path) if method == "GET" else browser.post(path, {"sent": "without anything"})

    got = "sign-in" if (page.location or "").startswith("/sign-in") else str(page.status)
    assert got == status, f"{who} at {method} {path}"
