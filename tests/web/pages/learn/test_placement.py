"""The pages of a placement run."""

import re


def send(client, path, action):
    return client.press(client.get(path), action)


def test_today_offers_it_to_a_newcomer_and_it_says_that_it_promises_nothing(learner):
    assert "/placement" in learner.get("/today").links()

    page = learner.get("/placement")
    assert page.heading == "What do you know already?"
    assert "At most 25 questions and 25 minutes." in page.words
    assert "Only a proof run can say “ready”." in page.words


def test_it_asks_without_hints_takes_an_answer_and_goes_on(learner, given):
    asked = send(learner, "/placement", "/placement")
    page = learner.get(asked.location)
    assert "I don’t know this: show me the steps" in page.words
    assert "Hint 1" not in page.words

    problem = asked.location.rsplit("/", 1)[-1]
    given.answer(problem, given.right(problem))
    after = learner.get(asked.location)
    assert "Next question" in after.words
    following = send(learner, asked.location, "/placement/next")
    assert following.location not in {asked.location, "/placement"}
    assert "Answered 1" in learner.get("/placement").words


def test_it_ends_with_a_picture_that_says_where_to_start(learner):
    asked = send(learner, "/placement", "/placement")
    send(learner, asked.location, f"{asked.location}/steps")
    ended = send(learner, "/placement", "/placement/end")

    page = learner.get(ended.location)
    assert "0 of 1 right, Wed, Nov 25, 2026." in page.words
    assert "It does not say that you are ready for any work." in page.words
    assert "Where to start:" in page.words
    assert "0 of 1 right. Too early to say more. One of them you left: “I don’t know this”." in page.words
    assert "Not asked." in page.words
    assert any(link.startswith("/lessons/") for link in page.links())


def test_the_next_question_without_a_run_leads_to_the_page(learner):
    token = learner.get("/placement").value("csrf_token")

    assert learner.browser.post("/placement/next", {"csrf_token": token}).location == "/placement"


def test_the_record_leads_to_it_and_says_which_answers_came_from_it(learner, given):
    assert "/placement" in learner.get("/record").links()

    asked = send(learner, "/placement", "/placement")
    problem = asked.location.rsplit("/", 1)[-1]
    given.answer(problem, given.right(problem))
    skills = [link for link in learner.get("/record").links() if re.fullmatch(r"/record/[a-z-]+[.][a-z-]+", link)]
    assert "in a placement run" in learner.get(skills[0]).words
