"""The page of local rules, and what learners read where one holds."""

import pytest


@pytest.fixture
def path(world):
    return f"/organisations/{world.organisations['school']}/rules"


@pytest.fixture
def follow(client_of, path):
    def choose(*rules):
        owner = client_of("owner")
        token = owner.get(path).value("csrf_token")
        return owner.post(path, {"csrf_token": token, "rules": list(rules)})

    return choose


def test_the_owner_ticks_what_holds(client_of, path, follow):
    page = client_of("owner").get(path)
    assert "At most 270° between two pull points" in page.words
    assert "Source: an example of a shop's own rule" in page.words

    assert follow("shorter-pulls").location == path
    ticked = [one.get("value") for one in client_of("owner").get(path).tree.iter("input") if "checked" in one.attrib]
    assert ticked == ["shorter-pulls"]


def test_a_rule_that_there_is_not_is_refused(follow):
    page = follow("no-such")

    assert page.status == 422
    assert "no such local rule" in page.text


def test_the_class_reads_and_practises_by_it_and_others_do_not(client_of, follow):
    follow("shorter-pulls")

    assert "at most 270°" in client_of("learner").get("/lessons/saddles").words
    assert "at most 270°" not in client_of("stranger").get("/lessons/saddles").words
    for who, said in (("learner", True), ("stranger", False)):
        client = client_of(who)
        token = client.get("/practice").value("csrf_token")
        sent = client.post("/practice", {"csrf_token": token, "family": "degrees-left"})
        assert ("Here: By the rule of this shop" in client.get(sent.location).words) is said


def test_the_staff_page_leads_there(client_of, world, path):
    assert path in client_of("owner").get(f"/organisations/{world.organisations['school']}/staff").links()
