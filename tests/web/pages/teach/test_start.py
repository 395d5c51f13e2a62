"""The start: an empty desk says what comes first, and a sample class is one button away and one button gone."""

from __future__ import annotations

import pytest


@pytest.fixture
def beginner(client_of, world):
    """An instructor whose only class was put away."""
    browser = client_of("instructor")
    for name in ("class", "other class"):
        browser.submit(f"/groups/{world.groups[name]}/away")
    return browser


def test_an_empty_desk_says_what_comes_first(beginner):
    page = beginner.get("/groups")

    assert "Nothing is on your desk yet Make a class first: all it takes is a name." in page.words


def test_a_class_without_people_leads_to_bringing_them_in_and_one_without_work_to_giving_it(beginner):
    made = beginner.submit("/groups", {"name": "Saturday"}).location
    page = beginner.get("/groups")
    assert "Nobody is in it yet: bring people in" in page.words
    assert f"{made}/roster" in page.links()

    text = {"text": "Ana Ruiz\n", "csrf_token": page.value("csrf_token")}
    beginner.post(f"{made}/roster/import", text, content_type="multipart/form-data")
    page = beginner.get("/groups")
    assert "give them their first questions" in page.words
    assert f"{made}/work/new" in page.links()


def test_a_sample_class_shows_results_and_goes_again(client_of, world):
    browser = client_of("instructor")
    school = world.organisations["school"]
    before = browser.get("/groups").words

    made = browser.submit("/groups", action=f"/organisations/{school}/sample").location
    page = browser.get(made)
    assert "Everybody in this class is invented" in page.words
    assert "Bea Holm (invented)" in page.words
    assert "The code" not in page.words
    work = next(link for link in page.links() if link.startswith("/given/"))
    assert browser.get(work).status == 200
    assert "Make a sample class" not in browser.get("/groups").words

    browser.submit(made, action=f"{made}/sample/remove")

    after = browser.get("/groups").words
    assert after.removeprefix("The sample class is gone, with everybody in it.") or after
    assert "Sample class (invented)" not in after
    assert browser.get(made).status == 404
    assert before in after or after.endswith(before[-200:])


def test_the_owner_s_board_of_all_leaves_the_invented_out(client_of, world):
    school = world.organisations["school"]
    client_of("instructor").submit("/groups", action=f"/organisations/{school}/sample")

    page = client_of("owner").get(f"/organisations/{school}/board")

    assert "invented" not in page.words
