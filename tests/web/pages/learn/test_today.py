"""What to do now, and why."""

from __future__ import annotations


def main_action(page):
    """Words and target of the one main action."""
    found = [one for one in page.tree.iter() if one.get("class") == "button"]
    assert len(found) == 1
    words = " ".join("".join(found[0].itertext()).split())
    return words, found[0].get("href")


def test_a_newcomer_is_given_the_lesson_of_the_first_skill_and_told_why(learner):
    page = learner.get("/today")

    assert page.heading == "Today"
    assert "Read this first" in page.words
    words, href = main_action(page)
    assert words == "Read the lesson"
    assert learner.get(href).status == 200


def test_a_newcomer_is_told_how_the_page_works_until_something_is_done(learner, client_of, given):
    assert "New here? Do what stands first" in learner.get("/today").words
    assert "“What do you know already?” instead" in learner.get("/today").words
    assert "New here?" not in client_of("instructor").get("/today").words

    given.problem()
    assert "New here?" not in learner.get("/today").words


def test_a_problem_that_was_left_open_comes_first(learner, given):
    problem = given.problem()
    page = learner.get("/today")

    assert "You left this open; the numbers are the same." in page.words
    assert main_action(page) == ("Go on with it", f"/problems/{problem}")


def test_work_that_is_due_soon_comes_before_practice_with_its_date_where_the_school_is(learner, given):
    # Due at the end of Nov 28 in Chicago, which is Nov 29 in UTC.
    work = given.work(due_in=3)
    page = learner.get("/today")

    assert main_action(page) == ("Open the work", f"/work/{work}")
    assert "Assigned, due Sat, Nov 28, 2026" in page.words
    assert "Tuesday evening expects it in 3 days: 2 of 2 still to answer." in page.words


def test_work_that_is_due_later_stands_below(learner, given):
    work = given.work(due_in=6)
    page = learner.get("/today")

    assert main_action(page)[0] == "Read the lesson"
    assert f"/work/{work}" in page.links()


def test_practice_is_one_button_once_the_lesson_is_read(app, learner, given, monkeypatch):
    monkeypatch.setattr(app.extensions["trainer.library"], "lesson_heads", {})
    page = learner.get("/today")
    assert main_action(page) == ("Give me the problem", None)

    sent = learner.press(page, "/practice")

    assert sent.status == 303
    assert given.drawn(sent.location.rsplit("/", 1)[1]).text


def test_a_site_without_questions_says_so(app, learner, monkeypatch):
    library = app.extensions["trainer.library"]
    monkeypatch.setattr(library, "families", {})
    monkeypatch.setattr(library, "_of_skill", {})

    assert "There is nothing to practice yet" in learner.get("/today").words


def test_one_who_belongs_nowhere_is_shown_how_to_join(client_of):
    page = client_of("stranger").get("/today")

    assert "You are in no class and no crew." in page.words
    assert "/join" in page.links()
    assert "/work" not in page.links()


def test_one_who_leads_and_learns_nowhere_is_not_told_to_join(client_of):
    page = client_of("instructor").get("/today")

    assert "You are in no class" not in page.words
    assert "/work" not in page.links()


def test_it_is_only_read(learner):
    assert learner.browser.post("/today").status == 405
