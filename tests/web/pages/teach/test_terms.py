"""Pages of a class over the terms, and of a new password at the desk."""

from __future__ import annotations

import pytest


@pytest.fixture
def browser(client_of):
    return client_of("instructor")


@pytest.fixture
def group(world):
    return f"/groups/{world.groups['class']}"


def test_a_class_gets_another_name(browser, group):
    page = browser.submit(f"{group}/name", {"name": "Wednesday evening"})

    assert page.location == group
    assert browser.get(group).heading == "Wednesday evening"


def test_a_name_that_is_taken_is_refused_kindly(browser, group):
    page = browser.submit(f"{group}/name", {"name": "thursday evening"})

    assert page.status == 422
    assert "There is a class or crew called thursday evening already" in page.errors["name"]


def test_a_class_is_put_away_and_opened_again(browser, group):
    browser.submit(f"{group}/away")
    desk = browser.get("/groups")
    assert "Put away" in desk.words
    page = browser.get(group)
    assert "Put away on" in page.words
    assert "The code" not in page.words

    browser.submit(group, action=f"{group}/back")

    assert "Put away on" not in browser.get(group).words


def test_in_a_class_that_is_put_away_no_work_is_given_or_begun_and_own_answers_can_be_read(
    browser, group, client_of, given
):
    work = given.work("offset-spacing", "strap-count")
    problem, learner = given.line(work), client_of("learner")
    given.answer(problem, given.right(problem))
    name = f"{group}/work/new/name?count-strap-count=1"
    form = browser.get(name).form(f"{group}/work") | {"title": "More"}
    browser.submit(f"{group}/away")

    refused = browser.post(f"{group}/work", form)
    assert refused.status == 403
    assert "Tuesday evening is put away. Open it again first." in refused.words
    assert not [link for link in browser.get(group).links() if "/work/new" in link]
    assert learner.get(f"/work/{work}").status == 404
    assert learner.get(f"/problems/{problem}").status == 200
    assert learner.get("/record").status == 200


def test_a_class_whose_name_is_given_anew_gets_another_one_first(browser, group):
    browser.submit(f"{group}/away")
    browser.submit("/groups", {"name": "Tuesday evening"})

    page = browser.submit(group, action=f"{group}/back")

    assert page.location == f"{group}/name"
    assert "another one of that name" in browser.get(page.location).words


def test_the_copy_for_the_next_term_proposes_a_name(browser, group, client_of):
    assert browser.get(f"{group}/copy").value("name") == "Tuesday evening, Spring 2027"

    page = browser.submit(f"{group}/copy", {"people": "yes"})

    made = browser.get(page.location)
    assert made.heading == "Tuesday evening, Spring 2027"
    assert "Learner Person" in made.words
    assert client_of("learner").get("/today").location.startswith("/account/told")


def test_a_learner_at_the_desk_gets_a_password_that_works_once(browser, group, given, client):
    learner = f"{group}/people/{given.public_id('learner')}"
    page = browser.submit(f"{learner}/password")
    assert page.status == 201
    assert page.headers["Cache-Control"] == "no-store"
    once = page.tree.findall(".//p[@class='code__signs code__signs--long']")[1].text

    slip = browser.post(
        f"{group}/slips.pdf", {"slip": f"{given.public_id('learner')} {once}", "csrf_token": page.value("csrf_token")}
    )
    assert once in slip.paper
    page = client.submit("/sign-in", {"sign_in_name": "learner", "password": once})
    assert page.status == 303
    assert client.get("/practice").location == "/account/password"


def test_where_no_password_may_be_given_the_page_says_why(browser, group, given):
    given.joins("learner", "crew")
    learner = f"{group}/people/{given.public_id('learner')}"

    page = browser.get(f"{learner}/password")

    assert "belongs, or belonged, to another school or shop too" in page.words
    assert not [one for one in page.tree.iter("form") if one.get("action").endswith("/password")]
