"""A key that a learner calls wrong: from the button below the verdict to the new gradings."""

from __future__ import annotations

from urllib.parse import urlencode

import pytest


@pytest.fixture
def wrong(given, do, more_people):
    """Two learners who multiplied by the sine, as a wrong key would make of all."""
    work = given.work("offset-spacing")
    more_people("amy")
    problems = {who: do(work, "sine-for-cosecant", who=who) for who in ("learner", "amy")}
    return {"work": work, "problem": problems["learner"]}


def sent_in(learner, problem):
    page = learner.get(f"/problems/{problem}")
    (address,) = [link for link in page.links() if link.endswith("/key")]
    return learner.submit(address, {"own_answer": "12 in", "why": "The sine goes below."})


def test_below_every_verdict_one_can_say_so_and_reads_the_answer(client_of, instructor, wrong):
    learner = client_of("learner")
    assert sent_in(learner, wrong["problem"]).status == 303
    page = learner.get(f"/problems/{wrong['problem']}")
    assert "You said that this key is wrong. Your answer: 12 in." in page.words
    assert "Nobody has answered yet" in page.words
    assert not [link for link in page.links() if link.endswith("/key")]

    assert "One waits for you" in instructor.get("/groups").words
    queue = instructor.get("/keys")
    (address,) = [link for link in queue.links() if link.startswith("/keys/")]
    claim = instructor.get(address)
    assert "The sine goes below." in claim.words
    assert "What one other person answered first" in claim.words
    assert instructor.submit(address, {"reply": "Look at step 2."}).status == 303

    assert "Look at step 2." in learner.get(f"/problems/{wrong['problem']}").words
    assert "Here is the answer." in learner.get("/today").words
    assert "Nothing waits for you" in instructor.get("/keys").words


def test_a_form_with_nothing_in_it_says_what_to_type(client_of, wrong):
    learner = client_of("learner")
    address = f"/problems/{wrong['problem']}/key"
    page = learner.submit(address, {"own_answer": "", "why": ""})

    assert page.status == 422
    assert set(page.errors) == {"own_answer", "why"}


@pytest.mark.parametrize("typed", ["<script>zq()</script>", '"><b onzq=1>', "{{ 7*7 }}", "=1+1", "\u202e9"])
def test_what_is_typed_into_it_comes_back_as_words_to_both(client_of, instructor, wrong, typed):
    learner, address = client_of("learner"), f"/problems/{wrong['problem']}/key"
    refused = learner.submit(address, {"own_answer": typed, "why": ""})
    assert refused.status == 422
    assert "<script>zq" not in refused.text
    assert "<b onzq" not in refused.text

    learner.submit(address, {"own_answer": typed, "why": typed})
    (claim,) = [link for link in instructor.get("/keys").links() if link.startswith("/keys/")]
    for page in (learner.get(f"/problems/{wrong['problem']}"), instructor.get("/keys"), instructor.get(claim)):
        assert page.status == 200
        assert "<script>zq" not in page.text
        assert "<b onzq" not in page.text


def test_before_a_verdict_there_is_nothing_to_call_wrong(client_of, given):
    learner, problem = client_of("learner"), given.problem()

    assert not [link for link in learner.get(f"/problems/{problem}").links() if link.endswith("/key")]
    assert "once there is a verdict" in learner.get(f"/problems/{problem}/key").words


def test_whose_result_changes_is_shown_before_and_then_it_is_done(client_of, instructor, given, wrong):
    learner = client_of("learner")
    sent_in(learner, wrong["problem"])
    rules = given.library.families["offset-spacing"].rules_hash
    address = f"/keys/of/{rules}"
    page = instructor.get(address)
    assert "asked as usual" in page.words
    assert "The question, as one learner got it" in page.words
    assert "File: offset-spacing.toml" in page.words
    assert page.tree.find(".//figure[@class='drawing']") is not None

    asked = {"remedy": "also", "accepts": "depth * sin(angle)", "reason": "The drawing shows the other side."}
    list_ = instructor.get(f"{address}?{urlencode(asked)}")
    assert "Accept another answer too: whose result changes" in list_.words
    assert list_.words.count("Not right: a known mistake → Right") == 2
    done = instructor.submit(f"{address}?{urlencode(asked)}", action=address)
    assert done.status == 303

    after = instructor.get(address)
    assert "2 people’s results were graded again." in after.words
    assert "in doubt since" in after.words
    page = learner.get(f"/problems/{wrong['problem']}")
    assert "Another answer is right too" in page.words
    assert "You were right: the key is wrong." in page.words
    assert "2 right at the first try" in instructor.get(f"/given/{wrong['work']}").words


@pytest.mark.parametrize(
    ("asked", "field"),
    [
        ({"remedy": "", "reason": "So."}, "remedy"),
        ({"remedy": "also", "accepts": "no such number", "reason": "So."}, "accepts"),
        ({"remedy": "credit", "reason": " "}, "reason"),
        ({"remedy": "new-key", "reason": "So."}, "remedy"),
    ],
)
def test_what_cannot_be_done_is_said_beside_its_field(instructor, given, asked, field):
    page = instructor.get(f"/keys/of/{given.rules()}?{urlencode(asked)}")

    assert page.status == 422
    assert field in page.errors


@pytest.mark.parametrize(("remedy", "said"), [("credit", "Counted: the key was wrong"), ("set-aside", "Not counted")])
def test_a_verdict_that_a_ruling_gave_is_shown_as_one(client_of, instructor, given, wrong, remedy, said):
    address = f"/keys/of/{given.library.families['offset-spacing'].rules_hash}"
    asked = urlencode({"remedy": remedy, "reason": "A wrong file."})
    instructor.submit(f"{address}?{asked}", action=address)

    assert said in client_of("learner").get(f"/problems/{wrong['problem']}").words
    assert said in instructor.get(f"/given/{wrong['work']}/lines/1").words


def test_while_work_in_the_room_lasts_the_form_does_not_tell_the_key(client_of, instructor, given, do):
    room = given.work("offset-shrink", kind="room", title="Tonight")
    instructor.submit(f"/given/{room}/room", action=f"/given/{room}/room/open")
    problem, learner = do(room, "99 in"), client_of("learner")
    page = learner.get(f"/problems/{problem}/key")

    assert "What you worked out" in page.words
    assert "The answer:" not in page.words

    instructor.submit(f"/given/{room}/room", action=f"/given/{room}/room/end")
    assert "The answer:" in learner.get(f"/problems/{problem}/key").words


@pytest.mark.usefixtures("wrong")
@pytest.mark.parametrize(
    ("who", "said"),
    [("foreman", "asked beyond your own school or shop too"), ("instructor", "A result of your own would change")],
)
def test_what_only_the_site_decides_is_said_before_and_not_done(instructor, given, who, said):
    address, problem = f"/keys/of/{given.rules()}", given.problem(who=who)
    asked = {"remedy": "credit", "reason": "A wrong file."}
    before = instructor.get(f"{address}?{urlencode(asked)}")
    given.answer(problem, given.mistaken(problem, "sine-for-cosecant", who=who), who=who)
    page = instructor.get(f"{address}?{urlencode(asked)}")
    refused = instructor.post(address, before.form(address))

    assert said in page.words
    assert "Do it, and note it" in before.words
    assert "Do it, and note it" not in page.words
    assert (refused.status, said in refused.words) == (403, True)
    assert instructor.submit(f"{address}?{urlencode(asked | {'remedy': 'doubt'})}", action=address).status == 303
    assert "in doubt since" in instructor.get(address).words
