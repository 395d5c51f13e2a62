"""What is held about a person and who sees it; leaving; deleting."""

from __future__ import annotations

import pytest


@pytest.fixture
def learner(client_of):
    return client_of("learner")


def ticked(page):
    """What is ticked, and whether it can be changed."""
    return {
        box.get("value"): ("checked" in box.attrib, "disabled" not in box.attrib)
        for box in page.tree.iter("input")
        if box.get("name") == "share"
    }


def test_a_learner_reads_who_sees_what(learner):
    page = learner.get("/account/held")

    assert "Owner Person (runs the school), Instructor Person" in page.words
    assert ticked(page) == {"assigned": (True, False), "readiness": (False, True), "practice": (False, True)}


def test_one_in_no_group_reads_that_nobody_sees_anything(client_of):
    assert "You are in no class and no crew" in client_of("stranger").get("/account/held").words


def test_counts_stand_beside_what_they_count(learner):
    page = learner.get("/account/held")

    assert "Your answers, each with what it was judged to be 0" in page.words


def test_all_that_others_wrote_is_counted_and_why(learner, given):
    given.finding()
    given.registration()
    given.check()
    page = learner.get("/account/held")

    assert "What the job showed 1 Who leads your class or crew reports it" in page.words
    assert "Checks by hand 1" in page.words
    assert "Registrations and licenses 1" in page.words
    assert "Notes that somebody looked 0 So that you know who saw what." in page.words
    assert "/record#take-along" in page.links()


def test_a_part_is_opened_and_closed_again(learner, world):
    action = f"/account/groups/{world.groups['class']}/sharing"

    learner.submit("/account/held", {"share": ["practice"]}, action=action)
    opened = learner.get("/account/held")
    learner.submit("/account/held", {"share": []}, action=action)

    assert ticked(opened)["practice"] == (True, True)
    assert ticked(learner.get("/account/held"))["practice"] == (False, True)
    assert "A part of your record was opened to Tuesday evening." in opened.words


def test_assigned_work_stays_open_whatever_is_sent(learner, world):
    learner.submit("/account/held", {"share": ["nonsense"]}, action=f"/account/groups/{world.groups['class']}/sharing")

    assert ticked(learner.get("/account/held"))["assigned"] == (True, False)


@pytest.mark.parametrize("who", ["other-learner", "left", "instructor", "administrator"])
def test_nobody_changes_what_others_share(client_of, world, who):
    browser = client_of(who)
    token = browser.get("/account").value("csrf_token")

    page = browser.post(f"/account/groups/{world.groups['class']}/sharing", {"csrf_token": token, "share": "practice"})

    assert page.status == 404


def test_leaving_says_what_stays_and_then_leaves(learner, world):
    path = f"/account/groups/{world.groups['class']}/leave"
    assert "Results of work that was assigned here stay with it." in learner.get(path).words

    page = learner.submit(path)

    assert page.location == "/account/held"
    held = learner.get("/account/held").words
    assert "You are in no class and no crew" in held
    assert "Tuesday evening, Riverside evening school Left Wed, Nov 25, 2026; 0 answers kept" in held


def test_one_who_has_left_cannot_leave_again(client_of, world):
    assert client_of("left").get(f"/account/groups/{world.groups['class']}/leave").status == 404


def test_deleting_wants_the_own_name_typed(learner):
    page = learner.submit("/account/delete", {"sign_in_name": "instructor"})

    assert page.status == 422
    assert page.errors["sign_in_name"] == "Type learner, the name you sign in with."
    assert learner.get("/account").status == 200


def test_deleting_ends_the_account(learner, client, world):
    page = learner.submit("/account/delete", {"sign_in_name": "Learner"})

    assert learner.get(page.location).heading == "Your account is deleted"
    assert learner.get("/account").status == 303
    assert client.submit("/sign-in", {"sign_in_name": "learner", "password": world.password}).status == 422


def test_the_last_administrator_stays(client_of):
    browser = client_of("administrator")

    page = browser.submit("/account/delete", {"sign_in_name": "administrator"})

    assert page.errors["sign_in_name"] == "Make somebody else administrator first: the site needs one."
    assert browser.get("/account").status == 200
