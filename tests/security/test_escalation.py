"""
Forms that were changed before they were sent, forms sent twice or by somebody else, addresses that should lead
elsewhere: none of it gives anybody more than he has.
"""

from __future__ import annotations

import pytest
from sqlalchemy import select

from trainer.config import Settings
from trainer.records.models import Base, Membership, Person, SignInSession
from trainer.web.app import build

ELSEWHERE = (
    "//elsewhere.example",
    "///elsewhere.example",
    "/\\elsewhere.example",
    "\\\\elsewhere.example",
    "https://elsewhere.example",
    "http:elsewhere.example",
    "https:/elsewhere.example",
    "/\t/elsewhere.example",
    "\t//elsewhere.example",
    "/\n/elsewhere.example",
    " //elsewhere.example",
    "javascript:alert(1)",
    "data:text/html,x",
    "elsewhere.example",
    "/..//elsewhere.example\\",
    "\u2028//elsewhere.example",
)


def rows_of(session, people, groups, organisations):
    """Whatever hangs on these people, groups and organisations, table by table."""
    found = {}
    for table in Base.metadata.sorted_tables:
        for column in table.columns:
            for foreign in column.foreign_keys:
                ids = {"person": people, "study_group": groups, "organisation": organisations}.get(
                    foreign.column.table.name
                )
                if ids and table.name not in {"audit_line", "sign_in_session"}:
                    rows = session.execute(select(table).where(column.in_(ids)))
                    found[table.name, column.name] = sorted(map(repr, rows))
    return found


def test_a_form_with_ids_of_another_shop_in_it_changes_nothing_there(site, forms, parts):
    """Each form of the own place, with every id in its fields exchanged for the same thing of another shop."""
    own, other = site.ids["own"], site.ids["other"]
    theirs = {own[name]: other[name] for name in own if name.endswith("_id")} | {own["code"]: other["code"]}
    with site.undone():
        database = site.app.extensions["trainer.database"]
        with database.read() as session:
            far = set(session.scalars(select(Person.id).where(Person.sign_in_name.startswith("far-"))))
            places = session.execute(
                select(Membership.group_id, Membership.organisation_id).where(Membership.person_id.in_(far))
            ).all()
            where = far, {one for one, _ in places if one}, {one for _, one in places}
            before = rows_of(session, *where)
        assert sum(map(len, before.values())) > 30
        exchanged = 0
        for form in forms.values():
            pairs = form.pairs()
            crafted = [(name, theirs.get(value, value)) for name, value in pairs]
            # Whoever stands in a list of people to tick is exchanged for somebody of the other shop.
            crafted = [(name, other["person_id"] if name in PERSONS else value) for name, value in crafted]
            exchanged += crafted != pairs
            if form.method == "POST" and form.who not in {"administrator", "nobody"}:
                site.ask(form.who, "POST", form.action, parts.hostile.encoded(crafted))
        with database.read() as session:
            assert rows_of(session, *where) == before
    assert exchanged >= 6


PERSONS = {"people", "person", "there"}


@pytest.mark.parametrize("role", ["administrator", "learner", "Owner", "", "owner' --"])
def test_nobody_is_appointed_to_a_part_that_there_is_not(site, role):
    path = f"/organisations/{site.ids['own']['organisation_id']}/staff"

    answer = site.visit("owner", "POST", path, {"sign_in_name": "sibling", "role": role, "confirmed": "yes"})

    assert answer.status == 422
    assert not answer.changed


def test_fields_that_a_form_does_not_have_do_nothing(site):
    more = {"is_site_administrator": "1", "role": "owner", "person_id": "1", "must_change_password": "0"}
    with site.undone():
        site.ask("learner", "POST", "/account/name", {"display_name": "Kim", "sign_in_name": "boss"} | more)
        typed = {"display_name": "New", "sign_in_name": "newcomer", "new_password": "four quite other words"}
        typed["once_more"] = typed["new_password"]
        site.ask("nobody", "POST", f"/join/{site.ids['own']['code']}/new", typed | more)
        with site.app.extensions["trainer.database"].read() as session:
            people = session.scalars(select(Person).where(Person.sign_in_name.in_(["learner", "newcomer"]))).all()
            roles = session.scalars(select(Membership.role).where(Membership.person_id.in_([p.id for p in people])))

            assert {one.display_name for one in people} == {"Kim", "New"}
            assert not any(one.is_site_administrator for one in people)
            assert set(roles) == {"learner"}


def test_a_code_opens_its_own_crew_however_it_is_written_and_a_spent_one_nothing(site):
    code, spent = site.ids["other"]["code"], site.ids["ended"]["code"]

    written = f"{code[:4]}-{code[4:]}".lower()
    assert site.visit("sibling", "POST", f"/join/{written}").changed == {"membership", "share"}
    assert not site.visit("sibling", "POST", f"/join/{spent}").changed


@pytest.mark.parametrize("who", ["nobody", "sibling"])
def test_who_guesses_codes_waits_and_then_even_the_right_one_has_to_wait(site, who):
    with site.undone():
        answers = [site.ask(who, "GET", f"/join/{site.ids['unknown']['code']}").status for _ in range(21)]

        assert answers == [422] * 20 + [429]
        assert site.ask(who, "GET", f"/join/{site.ids['own']['code']}").status == 429


def test_an_address_of_a_calendar_shows_its_own_person_s_dates(site):
    calendars = {
        place: site.visit("nobody", "GET", f"/calendar/{site.ids[place]['token']}.ics").text for place in PLACES
    }

    for place, calendar in calendars.items():
        others = [one for one in PLACES if one != place]
        assert site.ids[place]["work_id"] in calendar
        assert not any(site.ids[one]["work_id"] in calendar for one in others)


PLACES = ("own", "sibling", "other")


def test_a_browser_that_somebody_prepared_is_given_another_session(site, parts):
    with site.undone():
        planted = "trainer-reader=planted-by-somebody-else"
        kept, _ = site.cookies("nobody")
        known = {"sign_in_name": "learner", "password": parts.password}

        answer = site.ask("nobody", "POST", "/sign-in", known, cookies=f"{kept}; {planted}")

        cookies = answer.headers.getlist("Set-Cookie")
        reader = next(one for one in cookies if one.startswith("trainer-reader="))
        assert answer.status == 303
        assert "planted" not in reader
        assert "HttpOnly" in reader
        # The token of the form goes with what was before: a form that somebody had ready is worth nothing.
        assert any(one.startswith("trainer-form=;") for one in cookies)
        with site.app.extensions["trainer.database"].read() as session:
            assert session.scalar(select(SignInSession.id).where(SignInSession.token_hash.contains("planted"))) is None


def test_a_form_with_the_token_of_another_browser_is_refused(site):
    _, token = site.cookies("foreman")

    answer = site.visit("learner", "POST", "/account/name", {"display_name": "X", "csrf_token": token})

    assert answer.status == 400
    assert not answer.changed


def test_a_form_without_a_token_is_refused_on_every_route(site, parts):
    for rule in site.app.url_map.iter_rules():
        if "POST" in rule.methods:
            path = parts.address(rule, site.ids["own"])
            answer = site.visit("owner", "POST", path, with_token=False)

            assert answer.status in {400, 404}, rule.endpoint
            assert not answer.changed, rule.endpoint


def test_an_answer_that_is_sent_again_counts_once_and_only_for_its_person(site):
    problem = f"/problems/{site.ids['ended']['problem_id']}"
    sent = {"answer": "1 in", "answer_key": "00000000-0000-4000-8000-000000000001"}
    with site.undone() as changed:
        first = site.ask("learner", "POST", problem, sent)
        assert "answer" in changed
        changed.clear()
        again = site.ask("learner", "POST", problem, sent)
        stolen = site.ask("far-learner", "POST", problem, sent)

    assert (first.status, again.status, stolen.status) == (303, 303, 404)
    assert "answer" not in changed


@pytest.mark.parametrize("elsewhere", ELSEWHERE)
def test_no_link_of_ours_leads_elsewhere(site, parts, elsewhere):
    known = {"sign_in_name": "learner", "password": parts.password}
    for who, method, path, sent in (
        ("learner", "GET", "/sign-in", {}),
        ("nobody", "POST", "/sign-in", known),
        ("learner", "GET", "/account/told", {}),
        ("learner", "POST", "/account/told", {}),
    ):
        with site.undone():
            query = parts.hostile.encoded([("next", elsewhere)]).decode()
            answer = site.ask(who, method, f"{path}?{query}", sent)

            assert answer.status == 303, path
            assert answer.location.startswith("/"), path
            assert not answer.location.startswith(("//", "/\\")), path
            assert "elsewhere" not in answer.location, path


@pytest.mark.parametrize(
    "headers",
    [
        {"Host": "elsewhere.example"},
        {"Host": "localhost@elsewhere.example"},
        {"Host": "localhost.elsewhere.example:80"},
    ],
)
def test_under_another_name_there_is_not_one_link(site, headers):
    answer = site.visit("learner", "GET", "/account/calendar", headers=headers)

    assert answer.status == 400
    assert "elsewhere" not in answer.text


def test_what_a_browser_says_of_proxies_gets_into_no_link(site):
    said = {
        "X-Forwarded-Host": "elsewhere.example",
        "X-Forwarded-Proto": "gopher",
        "X-Forwarded-Prefix": "/elsewhere",
        "X-Original-URL": "/site",
        "X-Rewrite-URL": "/site",
        "Forwarded": "host=elsewhere.example",
    }
    for path in ("/account/calendar", "/groups/start.pdf", "/today"):
        method = "POST" if path.endswith("calendar") else "GET"
        answer = site.visit("instructor", method, path, headers=said)

        assert answer.status in {200, 201}
        assert b"elsewhere" not in answer.sent
        assert b"gopher" not in answer.sent


def test_a_proxy_that_is_believed_cannot_bring_another_name_either(sqlite_url, tmp_path):
    app = build(Settings(instance=tmp_path, database=sqlite_url, proxies=1, log_level="error"))
    client = app.test_client()

    told = {"X-Forwarded-Host": "elsewhere.example", "X-Forwarded-For": "203.0.113.7", "X-Forwarded-Proto": "https"}
    response = client.get("/sign-in", headers=told)

    app.extensions["trainer.database"].close()
    assert response.status_code == 400
    assert b"elsewhere" not in response.data
