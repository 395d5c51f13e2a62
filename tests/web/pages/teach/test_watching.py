"""Sitting beside a learner at a watched proof run, from both screens."""

import pytest

SKILL = "bends.offset"
PROOF = f"/record/{SKILL}/proof"


@pytest.fixture
def here(world, given):
    return f"/groups/{world.groups['class']}/people/{given.public_id('learner')}/watch"


@pytest.fixture
def instructor(client_of, given):
    given.shares("readiness")
    return client_of("instructor")


@pytest.fixture
def learner(client_of):
    return client_of("learner")


def sit_down(instructor, here, skill=SKILL):
    return instructor.submit(here, {"skill": skill, "beside": "yes"})


def ask(learner):
    """The next question of the run."""
    sent = learner.post(f"{PROOF}/next", {"csrf_token": learner.get("/practice").value("csrf_token")})
    return sent.location.rsplit("/", 1)[-1]


def answered(given, problem):
    given.answer(problem, given.right(problem))


def test_before_a_run_opens_it_says_what_is_missing(instructor, here, given):
    given.job_type("exposed-garage")

    page = instructor.get(here)

    assert "No run can be watched now" in page.words
    assert "Offsets 6 answers of practice more." in page.words


def test_the_leader_opens_a_sitting_and_the_learner_answers_in_it(instructor, learner, here, given):
    given.able(SKILL)
    page = instructor.get(here)
    assert "I sit beside Learner Person now, and see to it that nobody helps." in page.words

    assert sit_down(instructor, here).location == here

    assert "Open now: Offsets Beside Learner Person Instructor Person" in instructor.get(here).words
    assert "Instructor Person sits beside you, until" in learner.get(PROOF).words
    answered(given, ask(learner))
    assert "Answers counted in this run 1" in instructor.get(here).words
    assert "Watched yes, to its end" in learner.get(PROOF).words


def test_without_signing_nothing_is_watched(instructor, here, given):
    given.able(SKILL)
    page = instructor.submit(here, {"skill": SKILL})

    assert page.status == 422
    assert page.errors == {"beside": "Sign that you sit there. Without it nothing is watched."}
    assert "Open now" not in page.words


def test_a_skill_has_to_be_chosen(instructor, here, given):
    given.able(SKILL)

    assert set(instructor.submit(here, {"beside": "yes"}).errors) == {"skill"}


def test_what_is_answered_after_the_leader_left_is_not_taken(instructor, learner, here, given):
    given.able(SKILL)
    sit_down(instructor, here)
    first = ask(learner)
    instructor.submit(here, action=f"{here}/{SKILL}/leave")

    page = learner.get(PROOF)
    assert "This run is a watched one, and nobody sits beside you now." in page.words
    assert "An answer given while nobody watches is not taken" in page.words
    assert "Next question" not in page.words
    sit_down(instructor, here)
    again = ask(learner)
    assert again != first
    assert given.drawn(again).family_id == given.drawn(first).family_id
    assert "Still count today 8" in learner.get(PROOF).words


def test_a_sitting_that_ran_out_takes_no_answer_and_the_page_says_so(instructor, learner, here, given, clock):
    given.able(SKILL)
    sit_down(instructor, here)
    problem = ask(learner)
    path = f"/problems/{problem}"
    form = learner.get(path)
    sent = {"csrf_token": form.value("csrf_token"), "answer_key": form.value("answer_key"), "answer": "12"}
    clock.forward(minutes=61)

    assert "Put it aside" in learner.get(path).words
    late = learner.post(path, sent)

    assert late.status == 409
    assert "Nobody watches this run now" in late.words
    assert given.answers() == []


def test_put_aside_it_leads_back_to_the_run(instructor, learner, here, given, clock):
    given.able(SKILL)
    sit_down(instructor, here)
    problem = ask(learner)
    clock.forward(minutes=61)
    sent = learner.submit(f"/problems/{problem}", action=f"{PROOF}/next")

    assert sent.location == PROOF
    assert "This run is a watched one" in learner.get(PROOF).text
    assert learner.get("/bench").status == 200


def test_a_run_that_nobody_watches_has_to_end_first(instructor, learner, here, given):
    given.able(SKILL)
    learner.submit(PROOF)

    page = instructor.get(here)

    assert "A run that nobody watches is under way in this skill" in page.words
    assert "Open the sitting" not in page.words


def test_what_the_run_says_no_to_is_said_beside_the_skill(instructor, learner, here, given):
    given.able(SKILL)
    page = instructor.get(here)
    form = page.form(here) | {"skill": SKILL, "beside": "yes"}
    learner.submit(PROOF)

    refused = instructor.post(here, form)

    assert refused.status == 422
    assert refused.errors["why-not"].startswith("A run that nobody watches is under way")


def test_the_members_page_leads_there_and_what_was_done_is_noted(instructor, learner, here, given):
    given.able(SKILL)

    assert here in instructor.get(here.removesuffix("/watch")).links()
    sit_down(instructor, here)
    noted = learner.get("/account/held").words
    assert "A leader of Tuesday evening opened a sitting beside you, for a watched proof run: Offsets." in noted


def test_nobody_watches_who_is_not_shown_readiness(client_of, here):
    assert client_of("instructor").get(here).status == 403


def test_nobody_watches_a_run_of_his_own(client_of, world, given):
    given.able(SKILL, "instructor")
    given.joins("instructor")
    given.shares("readiness", "instructor")
    own = f"/groups/{world.groups['class']}/people/{given.public_id('instructor')}/watch"
    browser = client_of("instructor")

    assert "nobody watches a run of his own" in browser.get(own).words
    token = browser.get("/practice").value("csrf_token")
    sent = browser.post(own, {"csrf_token": token, "skill": SKILL, "beside": "yes"})
    assert sent.status == 422
    assert sent.errors == {"why-not": "Nobody watches a run of his own."}


def test_found_ready_in_a_watched_run_stands_there(instructor, here, given):
    given.found_ready(SKILL, watched_by="instructor")

    assert "Found ready in a watched run Offsets" in instructor.get(here).words


def test_the_evidence_names_who_sat_there(instructor, learner, world, here, given):
    job = given.job_type("exposed-garage")
    given.able(SKILL)
    sit_down(instructor, here)
    answered(given, ask(learner))

    page = instructor.get(f"/groups/{world.groups['class']}/board/{job}/people/{given.public_id('learner')}")

    assert "Watched by Instructor Person" in page.words
    assert f"{here}?skill={SKILL}" in page.links()


def test_leaving_after_readiness_was_closed_leads_to_a_page_that_is_open(instructor, learner, here, given):
    given.able(SKILL)
    sit_down(instructor, here)
    page = instructor.get(here)
    given.shares_no_more("readiness")

    left = instructor.post(f"{here}/{SKILL}/leave", {"csrf_token": page.value("csrf_token")})
    assert left.location == here.removesuffix("/watch")
    page = instructor.get(left.location)
    assert page.status == 200
    assert "The sitting is ended." in page.words
    assert "nobody sits beside you now" in learner.get(PROOF).words
