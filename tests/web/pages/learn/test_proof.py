"""The pages of a proof run."""

import pytest

from trainer.progress.proof_families import askable

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
    assert "under way" in client.get("/record/bends.offset").words


def test_it_can_be_stopped(ready_to_try):
    client = ready_to_try
    send(client, PATH, PATH)
    sent = send(client, PATH, f"{PATH}/stop")

    assert sent.location == PATH
    assert "Begin the run" in client.get(PATH).words


def test_a_skill_that_there_is_not_is_not_found(client_of):
    assert client_of("learner").get("/record/bends.nothing/proof").status == 404


def test_a_job_type_that_wants_it_watched_says_so_in_plain_words(client_of, given):
    given.able("bends.offset")
    given.job_type("exposed-garage")

    page = client_of("learner").get(PATH)

    assert "It needs to be watched." in page.words
    assert "“Exposed EMT in a garage” counts only a watched run:" in page.words
    assert "your foreman or instructor sits beside you and opens it" in page.words
    assert "It counts for none of the jobs that ask for this skill here" in page.words


def test_found_ready_unwatched_it_still_needs_to_be_watched(client_of, given):
    given.found_ready("bends.offset")
    given.job_type("exposed-garage")
    learner = client_of("learner")

    assert "It still needs to be watched." in learner.get(PATH).words
    assert "A watched run takes 15 points" in learner.get(PATH).words
    assert "Offsets: needs to be watched" in learner.get("/jobs").words


def test_a_watched_run_counts_on_though_a_later_one_was_not_watched(client_of, given):
    given.job_type("exposed-garage")
    given.found_ready("bends.offset", watched_by="instructor", days_ago=9)
    given.ready_run("bends.offset", days_ago=2)
    learner = client_of("learner")

    words = learner.get(PATH).words
    assert "Taken unwatched." in words
    assert "A watched run found it ready Mon, Nov 16, 2026. It still counts" in words
    assert "needs to be watched" not in words
    assert "ready nobody strict 17" in words
    assert "ready Instructor Person strict 17" in words
    assert "Offsets: needs to be watched" not in learner.get("/jobs").words


def test_trouble_after_a_watched_run_asks_for_a_watched_one_again(client_of, given):
    given.job_type("exposed-garage")
    given.found_ready("bends.offset", watched_by="instructor", days_ago=9)
    given.finding()
    given.clock.forward(days=1)
    given.ready_run("bends.offset", days_ago=0)

    words = client_of("learner").get(PATH).words
    assert "A watched run found it ready" in words
    assert "It is due again." in words
    assert "It needs to be watched again." in words


def test_the_strict_line_is_put_in_plain_words(client_of):
    page = client_of("learner").get(PATH)

    assert "This is the strict line" in page.words
    assert "Of 100 people who get 7 of 10 right, about 2 pass the first run and about 3 ever do" in page.words


def test_a_run_begins_on_the_line_that_the_job_types_ask(client_of, given):
    given.able("fittings.connectors")
    given.job_type("exposed-garage")
    path = "/record/fittings.connectors/proof"
    learner = client_of("learner")
    assert "about 14 pass the first run and about 31 in the end" in learner.get(path).words

    learner.submit(path)

    page = learner.get(path)
    assert "Line lighter" in page.words
    assert "of the 9 points that decide" in page.words


def test_with_a_stricter_job_type_beside_it_the_run_is_strict_and_a_lighter_one_on_its_way_is_said(client_of, given):
    given.able("supports.straps")
    given.job_type("first-week")
    path = "/record/supports.straps/proof"
    learner = client_of("learner")
    learner.submit(path)
    given.job_type("exposed-garage")

    page = learner.get(path)

    assert "This run is on the lighter line. It does not count where the strict one is asked." in page.words
    assert "First-week helper, Riverside evening school (lighter)" in page.words
    assert "Exposed EMT in a garage, Riverside evening school (strict, watched)" in page.words


def test_with_fewer_than_three_kinds_of_question_left_the_run_says_so_and_waits(client_of, given):
    learner = client_of("learner")
    given.able("bends.offset")
    first = learner.submit(PATH).location.rsplit("/", 1)[-1]
    given.answer(first, given.right(first))
    left = [family.id for family in askable(given.library, "bends.offset")]
    for family in left[2:]:
        given.doubt(family)

    page = learner.get(PATH)

    assert "The run waits. This skill has 2 kinds of question that can be asked in a proof run now" in page.words
    assert "Next question" not in page.words
    assert send(learner, PATH, f"{PATH}/next").location == PATH
    for family in left:
        given.doubt(family)
    assert "This skill has 0 kinds of question" in learner.get(PATH).words


def test_a_question_whose_key_came_into_doubt_is_asked_no_more(client_of, given):
    learner = client_of("learner")
    given.able("bends.offset")
    asked = learner.submit(PATH).location.rsplit("/", 1)[-1]
    family = given.drawn(asked).family_id
    given.doubt(family)

    for _ in range(5):
        problem = send(learner, PATH, f"{PATH}/next").location.rsplit("/", 1)[-1]
        assert given.drawn(problem).family_id != family
        given.answer(problem, given.right(problem))


def test_a_wrong_unit_is_asked_once_more_on_the_page(client_of, given):
    learner = client_of("learner")
    given.able("bends.offset")
    asked = learner.submit(PATH).location
    problem = asked.rsplit("/", 1)[-1]
    while given.drawn(problem).unit != "in":
        given.answer(problem, given.right(problem))
        problem = send(learner, PATH, f"{PATH}/next").location.rsplit("/", 1)[-1]
    counted = learner.get(PATH).words.split("Answers counted ")[1].split()[0]
    answer = f"{given.drawn(problem).keys[0].value * 25.4:.0f}"

    learner.submit(f"/problems/{problem}", {"answer": answer})

    page = learner.get(f"/problems/{problem}")
    assert "Send the answer" in page.words
    assert f"Answers counted {counted}" in learner.get(PATH).words
    learner.submit(f"/problems/{problem}", {"answer": answer})
    assert "Next question" in learner.get(f"/problems/{problem}").words
    assert f"Answers counted {int(counted) + 1}" in learner.get(PATH).words


def test_the_page_of_a_skill_and_of_its_run_take_few_queries_with_all_there_is_behind_them(client_of, given):
    given.job_type("exposed-garage")
    given.failed_run("bends.offset")
    given.finding()
    given.able("bends.offset")
    learner = client_of("learner")
    problem = given.problem("learner", family_id="offset-spacing")
    given.answer(problem, given.right(problem))

    for path in ("/record/bends.offset", PATH):
        assert len(learner.get(path).queries) <= 16
    asked = given.proof_question("bends.offset")
    given.answer(asked, given.right(asked))
    for path in ("/record/bends.offset", PATH):
        assert len(learner.get(path).queries) <= 16


def test_what_ends_ready_is_said_with_the_days_that_a_job_type_sets(client_of, given):
    given.found_ready("bends.offset")
    learner = client_of("learner")
    fades = "it lapses: practice alone does not bring it back then, and you show it again in a shorter run."
    assert fades in learner.get(PATH).words
    assert "in any case" not in learner.get(PATH).words

    given.job_type("exposed-garage")
    assert "it is due after 365 days in any case" in learner.get(PATH).words


def test_what_lapsed_is_said_plainly_and_stays_due_after_practice(client_of, given, clock):
    given.found_ready("bends.offset", level=3.6, watched_by="instructor")
    given.job_type("exposed-garage")
    assert "lapsed" not in client_of("learner").get(PATH).words
    clock.forward(days=91)
    learner = client_of("learner")
    assert "lapsed since then" in learner.get(PATH).words
    problem = given.problem("learner", family_id="offset-spacing")
    given.answer(problem, given.right(problem, "learner"), "learner")

    page = learner.get(PATH)
    assert "It does not count until a new run shows it again." in page.words
    assert "Open: you can show it again." in page.words
    assert "Practice has brought it back up; only a new proof run" in learner.get("/jobs").words
    assert "A shorter proof run shows it again; practice alone does not." in learner.get("/today").words
