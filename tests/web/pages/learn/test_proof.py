"""The pages of a proof run."""

import pytest

PATH = "/record/bends.offset/proof"


@pytest.fixture
def ready_to_try(client_of, given, clock):
    """A learner whose practice has opened the run."""
    client = client_of("learner")
    for _ in range(12):
        for family in ("offset-spacing", "offset-shrink", "offset-far-mark", "offset-near-mark"):
            problem = given.problem("learner", family_id=family)
            given.answer(problem, given.right(problem, "learner"), "learner")
        clock.forward(days=1)
        if "Begin the run" in client.get(PATH).words:
            return client
    raise AssertionError("never opened")


def send(client, path, action):
    return client.post(action, {"csrf_token": client.get(path).value("csrf_token")})


def test_before_it_opens_the_page_says_what_is_missing_and_how_it_decides(client_of):
    page = client_of("learner").get(PATH)

    assert "Not open yet." in page.words
    assert "6 answers of practice more." in page.words
    assert "it takes away about" not in page.words
    assert "takes away about 4.5" in page.words
    assert "At 15 points, from answers on 2 days or more" in page.words


def test_begun_too_early_it_says_why_not(client_of):
    client = client_of("learner")
    sent = send(client, "/practice", PATH)

    assert sent.location == PATH
    assert "6 answers of practice more." in client.get(PATH).text


def test_a_run_is_begun_answered_and_shown_as_evidence(ready_to_try, given):
    client = ready_to_try
    asked = send(client, PATH, PATH)
    page = client.get(asked.location)

    assert "Hint 1" not in page.words
    assert "I can’t do this one" in page.words
    problem = asked.location.rsplit("/", 1)[-1]
    given.answer(problem, given.right(problem, "learner"), "learner")
    after = client.get(asked.location)
    assert "Next question" in after.words
    shown = client.get(PATH)
    assert "of the 15 points that decide" in shown.words
    assert "Answers counted 1" in shown.words
    assert "on its way" in client.get("/record/bends.offset").words


def test_it_can_be_stopped(ready_to_try):
    client = ready_to_try
    send(client, PATH, PATH)
    sent = send(client, PATH, f"{PATH}/stop")

    assert sent.location == PATH
    assert "Begin the run" in client.get(PATH).words


def test_a_skill_that_there_is_not_is_not_found(client_of):
    assert client_of("learner").get("/record/bends.nothing/proof").status == 404
