"""One member as leaders see them."""

from __future__ import annotations

import pytest

SLIP = "sine-for-cosecant"


@pytest.fixture
def person(given, here):
    """The learner's page in the class; `person("skills", ...)` something below it."""
    own = given.public_id("learner")
    return lambda *parts, group="class": here("people", own, *parts, group=group)


@pytest.fixture
def crew_person(given, client_of, world):
    """The learner, who has joined the crew."""
    client_of("learner").submit(f"/join/{world.codes['crew']}")
    return f"/groups/{world.groups['crew']}/people/{given.public_id('learner')}"


def practised(given, times=6):
    """Right answers in practice; the last problem."""
    for _ in range(times):
        problem = given.problem()
        given.answer(problem, given.right(problem))
    return problem


def test_a_class_sees_its_work_and_is_told_in_words_what_is_not_shown(instructor, person, given, do):
    work = given.work()
    problem = do(work, SLIP)
    practised(given)
    page = instructor.get(person())

    assert page.heading == "Learner Person"
    assert "1. Distance between the marks of an offset" in page.words
    assert "Not right: a known mistake" in page.words
    assert "Not begun" in page.words
    assert "Learner Person does not show Tuesday evening where they stand" in page.words
    assert "right of 10" not in page.words
    assert {person("problems", problem), f"/given/{work}"} <= set(page.links())


def test_a_member_without_work_says_so(instructor, person):
    assert "No work was given here yet." in instructor.get(person()).words


def test_a_crew_sees_skills_in_words_with_the_answers_behind(foreman, crew_person, given):
    practised(given)
    page = foreman.get(crew_person)

    assert "right of 10 today" in page.words
    assert "From 6 answers on one day" in page.words or "From 6 answers on 1 day" in page.words
    assert f"{crew_person}/skills/bends.offset" in page.links()
    assert "Not begun:" in page.words


def test_a_crew_member_who_has_begun_nothing(foreman, crew_person):
    assert "No skill begun yet." in foreman.get(crew_person).words


def test_that_somebody_looked_can_be_read_by_the_one_looked_at(instructor, client_of, person, given, do):
    problem = do(given.work())
    instructor.get(person())
    instructor.get(person("problems", problem))
    held = client_of("learner").get("/account/held").words

    assert held.count("A leader of Tuesday evening looked at what you answered in assigned work.") == 1
    assert "By Instructor Person." in held


def test_the_answers_behind_a_skill_show_what_was_typed_only_with_practice(instructor, person, given, share):
    share("readiness")
    problem = practised(given, times=1)
    typed = given.right(problem)
    closed = instructor.get(person("skills", "bends.offset"))

    assert "Too early to say" in closed.words
    assert "Distance between the marks of an offset" in closed.words
    assert "does not show Tuesday evening what was typed in practice" in closed.words
    assert typed not in closed.words
    assert person("problems", problem) not in closed.links()

    share("practice")
    opened = instructor.get(person("skills", "bends.offset"))
    assert typed in opened.words
    assert person("problems", problem) in opened.links()


def test_assigned_answers_are_open_among_those_of_practice(instructor, person, given, share, do):
    share("readiness")
    practised(given, times=1)
    problem = do(given.work())
    page = instructor.get(person("skills", "bends.offset"))

    assert given.right(problem) in page.words
    assert "not shown" in page.words
    assert person("problems", problem) in page.links()


def test_a_skill_without_answers_says_so(instructor, person, share):
    share("readiness")

    assert "No answers yet." in instructor.get(person("skills", "bends.offset")).words


def test_a_skill_that_there_is_not_is_not_found(instructor, person, share):
    share("readiness")

    assert instructor.get(person("skills", "no.such")).status == 404


def test_what_is_not_shared_is_refused_in_words(instructor, person):
    page = instructor.get(person("skills", "bends.offset"))

    assert page.status == 403
    assert "Learner Person does not share readiness with Tuesday evening." in page.words


def test_a_problem_stands_as_it_was_with_every_answer(instructor, person, given, do):
    problem = do(given.work(), SLIP)
    given.answer(problem, given.right(problem))
    page = instructor.get(person("problems", problem))

    assert page.heading == "Distance between the marks of an offset: Learner Person"
    assert "Not right: a known mistake" in page.words
    assert "is the depth times the sine of the angle" in page.words
    assert given.right(problem) in page.words
    assert "Wed, Nov 25, 2026, 9:00 am" in page.words
    assert "Worked in these numbers" in page.words
    assert "How far apart do the two marks go" in page.words


def test_an_open_problem_keeps_its_key_to_itself(instructor, person, given):
    problem = given.line(given.work())
    page = instructor.get(person("problems", problem))

    assert "No answer to it yet." in page.words
    assert "still open" in page.words
    assert "Worked in these numbers" not in page.words
    assert "The answer:" not in page.words


@pytest.mark.parametrize("family", ["connector-for-the-job", "fittings-that-belong"])
def test_options_of_a_closed_problem_say_whether_they_apply(instructor, person, given, do, family):
    problem = do(given.work(family))
    page = instructor.get(person("problems", problem))

    assert "Applies." in page.words
    assert "Does not apply." in page.words


@pytest.mark.parametrize("family", ["connector-for-the-job", "fittings-that-belong"])
def test_options_of_an_open_problem_do_not(instructor, person, given, family):
    page = instructor.get(person("problems", given.line(given.work(family))))

    assert "elong." not in page.words


def test_a_problem_of_practice_is_refused_until_it_is_shown(instructor, person, given, share):
    problem = practised(given, times=1)
    assert instructor.get(person("problems", problem)).status == 403

    share("practice")
    assert "practice" in instructor.get(person("problems", problem)).words


def test_a_problem_that_was_given_up_says_so(instructor, client_of, person, given):
    problem = given.line(given.work())
    learner = client_of("learner")
    learner.submit(f"/problems/{problem}", action=f"/problems/{problem}/steps")
    page = instructor.get(person("problems", problem))

    assert "Given up" in page.words


def test_another_leader_finds_nobody(foreman, person, given, do):
    problem = do(given.work())
    for path in (person(), person("skills", "bends.offset"), person("problems", problem)):
        assert foreman.get(path).status == 404


def test_in_another_group_of_ones_own_the_person_is_not_found(instructor, person, given, do):
    problem = do(given.work())

    assert instructor.get(person(group="other class")).status == 404
    assert instructor.get(person("problems", problem, group="other class")).status == 404


def test_unknown_people_and_problems_are_not_found(instructor, here, person):
    assert instructor.get(here("people", "0" * 22)).status == 404
    assert instructor.get(here("people", "?")).status == 404
    assert instructor.get(person("problems", "0" * 22)).status == 404


def test_who_has_left_leaves_the_work_and_nothing_else(instructor, client_of, person, given, do, here, share):
    share("readiness")
    do(given.work())
    client_of("learner").submit(f"/account{here()}/leave")
    page = instructor.get(person())

    assert "Learner Person has left." in page.words
    assert "1. Distance between the marks of an offset" in page.words
    assert instructor.get(person("skills", "bends.offset")).status == 403


def test_more_answers_take_no_more_queries(instructor, person, given, share, do):
    share("readiness")
    do(given.work())
    practised(given, times=1)
    few = [instructor.get(path) for path in (person(), person("skills", "bends.offset"))]
    practised(given, times=5)
    do(given.work(title="More"))
    many = [instructor.get(path) for path in (person(), person("skills", "bends.offset"))]

    assert [len(page.queries) for page in many] <= [len(page.queries) for page in few]


def test_the_page_of_a_member_leads_to_each_job_and_its_plan_once_readiness_is_shown(instructor, person, given, share):
    job = given.job_type("first-week")
    assert not any(job in link for link in instructor.get(person()).links())

    share("readiness")
    page = instructor.get(person())
    (way,) = [link for link in page.links() if job in link]
    assert "Ready for: First-week helper" in page.words
    assert f"{way}/plan" in instructor.get(way).links()
