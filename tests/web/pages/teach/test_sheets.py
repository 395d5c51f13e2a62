"""Assigned work on paper: sheets that are made once, printed for a whole class, and typed in by their code."""

from __future__ import annotations

import pytest

from trainer.problems.codes import read_code


@pytest.fixture
def work(given, more_people):
    more_people("amy", "bob")
    return given.work("offset-spacing", "strap-count", "box-that-holds-it")


@pytest.fixture
def made(instructor, work):
    """The page of the sheets, once they are made."""
    path = f"/given/{work}/sheets"
    assert instructor.submit(path).status == 303
    return instructor.get(path)


def code_of(page, name):
    words = page.words[page.words.index("Name Sheet Questions") :]
    after = words[words.index(name) + len(name) :].split()
    return read_code(after[0] + after[1])


def test_before_they_are_made_nothing_is_printed(instructor, work):
    assert "Make the sheets" in instructor.get(f"/given/{work}/sheets").words
    assert instructor.get(f"/given/{work}/sheets.pdf").status == 303
    assert instructor.get(f"/given/{work}/answers.pdf").status == 303


def test_each_learner_finds_name_code_and_other_numbers_on_the_own_pages(instructor, work, made):
    assert "9 questions more are on paper." in made.text
    found = instructor.get(f"/given/{work}/sheets.pdf").paper.split("\n")

    for name in ("Amy", "Bob", "Learner Person"):
        code = code_of(made, name)
        own = [one for one in found if f"{code[:4]} {code[4:]}" in one]
        assert own
        assert all(name in one for one in own)
        assert f"page 1 of {len(own)}" in own[0]
        assert found.index(own[0]) % 2 == 0
        assert "This is training." in own[0]
    texts = ["".join(one for one in found if name in one) for name in ("Amy", "Bob")]
    assert texts[0].replace("Amy", "") != texts[1].replace("Bob", "")
    assert "Answer 3: one letter" in texts[0]


def test_the_answers_are_printed_apart_and_by_code(instructor, work, made, given):
    answers = instructor.get(f"/given/{work}/answers.pdf").paper
    code = code_of(made, "Amy")

    assert "Not for learners." in answers
    assert f"{code[:4]} {code[4:]}" in answers
    straps = given.drawn(given.line(work, 2, who="amy"), "amy").keys[0].value
    assert f"{straps:g} straps" in answers
    assert "straps, within" not in answers
    assert "in, within 1/16 in" in " ".join(answers.split())


def test_made_again_nothing_changes(instructor, work, made):
    token = instructor.get(f"/given/{work}/withdraw").value("csrf_token")
    more = instructor.post(f"/given/{work}/sheets", {"csrf_token": token})
    again = instructor.get(f"/given/{work}/sheets")

    assert more.status == 303
    assert "Everybody has a sheet already." in again.text
    assert code_of(made, "Amy") == code_of(again, "Amy")


def test_the_code_leads_its_learner_to_the_questions_and_a_leader_to_the_results(instructor, client_of, work, made):
    learner, code = client_of("learner"), code_of(made, "Learner Person")

    assert learner.get(f"/sheet/{code}").location == f"/work/{work}"
    typed = learner.submit("/sheet", {"code": f" {code[:4].lower()}-{code[4:]} "})
    assert learner.get(typed.location).location == f"/work/{work}"
    assert instructor.get(f"/sheet/{code}").location == f"/given/{work}"


def test_another_ones_code_and_a_slip_of_the_pen_are_told_apart(client_of, made):
    learner, code = client_of("learner"), code_of(made, "Amy")
    slip = code[:-1] + next(sign for sign in "23" if sign != code[-1])

    other = learner.get(f"/sheet/{code}")
    assert (other.status, other.value("code")) == (404, code)
    assert "No sheet of yours has this code." in other.text
    wrong = learner.get(f"/sheet/{slip}")
    assert (wrong.status, wrong.value("code")) == (422, slip)
    assert "eight letters and digits" in wrong.text


def test_work_that_is_taken_back_makes_no_more_sheets(instructor, work):
    before = instructor.get(f"/given/{work}/sheets")
    instructor.submit(f"/given/{work}/withdraw")

    assert "no more sheets are made" in instructor.get(f"/given/{work}/sheets").words
    instructor.post(f"/given/{work}/sheets", {"csrf_token": before.value("csrf_token")})
    assert "taken back" in instructor.get(f"/given/{work}/sheets").text


def test_a_part_that_goes_on_with_ones_own_number_is_left_to_the_phone(instructor, given):
    """Printed with the right number it would tell the answer to the part before, and ask another number than the phone."""
    work = given.work("step-to-a-box")
    instructor.submit(f"/given/{work}/sheets")
    sheet = instructor.get(f"/given/{work}/sheets.pdf").paper
    answers = instructor.get(f"/given/{work}/answers.pdf").paper

    job = given.library.jobs["step-to-a-box"]
    carried = [nth for nth, carries in enumerate(job.carries, start=1) if carries]
    assert carried
    assert sheet.count("This one goes on with your own numbers") == len(carried)
    assert [nth for nth in range(1, len(job.parts) + 1) if f"Answer {nth}:" not in sheet] == carried
    assert answers.count("by the learner's own numbers") == len(carried)
