"""A crew skill by skill, and who has a role in an organisation."""

from __future__ import annotations

import pytest


@pytest.fixture
def school(world):
    return f"/organisations/{world.organisations['school']}/staff"


@pytest.fixture
def in_crew(client_of, world):
    """Lets people join the crew; the crew's page by skill."""

    def join(*names):
        for name in names:
            client_of(name).submit(f"/join/{world.codes['crew']}")
        return f"/groups/{world.groups['crew']}/skills"

    return join


def practise(given, who, times):
    for _ in range(times):
        problem = given.problem(who)
        given.answer(problem, given.right(problem, who), who)


def test_who_stands_best_on_a_skill_stands_first(client_of, in_crew, given):
    path = in_crew("learner", "stranger", "left")
    practise(given, "learner", 2)
    practise(given, "stranger", 6)
    page = client_of("foreman").get(path)

    offsets = page.words.split("Bends Offsets")[1]
    assert offsets.index("Stranger Person") < offsets.index("Learner Person")
    assert "right of 10 today" in offsets
    assert "Too early to say, with 2 answers so far." in offsets
    assert "Not begun: Left Person." in offsets
    assert f"/people/{given.public_id('stranger')}/skills/bends.offset" in " ".join(page.links())


def test_who_closes_the_own_record_is_named_and_not_shown(client_of, in_crew, given, world):
    path = in_crew("learner", "stranger")
    practise(given, "learner", 1)
    practise(given, "stranger", 1)
    held = client_of("stranger")
    token = held.get("/account/held").value("csrf_token")
    held.post(f"/account/groups/{world.groups['crew']}/sharing", {"csrf_token": token})
    page = client_of("foreman").get(path)

    assert "These do not show where they stand: Stranger Person." in page.words
    assert f"/people/{given.public_id('stranger')}/" not in " ".join(page.links())


def test_an_empty_crew_says_what_to_do(client_of, in_crew):
    assert "Give out the code" in client_of("foreman").get(in_crew()).words


def test_a_crew_without_answers_says_so(client_of, in_crew):
    page = client_of("foreman").get(in_crew("learner"))

    assert "Nobody who shows it has answered anything yet." in page.words


def test_a_class_in_which_nobody_shows_it_says_so(client_of, world):
    page = client_of("instructor").get(f"/groups/{world.groups['class']}/skills")

    assert "Nobody here shows where they stand." in page.words


def test_looking_is_noted(client_of, in_crew):
    path = in_crew("learner")
    client_of("foreman").get(path)

    assert "A leader of Garage crew looked at where you stand." in client_of("learner").get("/account/held").words


def test_more_people_take_no_more_queries(client_of, in_crew, given):
    path = in_crew("learner")
    practise(given, "learner", 1)
    few = client_of("foreman").get(path)
    in_crew("stranger", "left")
    practise(given, "stranger", 2)
    many = client_of("foreman").get(path)

    assert len(many.queries) == len(few.queries)


def test_an_owner_sees_who_leads_and_can_dismiss_all_but_himself(client_of, school, given):
    page = client_of("owner").get(school)

    assert page.heading == "Riverside evening school"
    assert "Owner Person Owner, since" in page.words
    assert f"{school}/{given.public_id('instructor')}/dismiss" in page.links()
    assert f"{school}/{given.public_id('owner')}/dismiss" not in page.links()
    assert "/groups" in page.links()


def test_no_role_is_chosen_beforehand(client_of, school):
    page = client_of("owner").get(school)

    assert [one for one in page.tree.iter("input") if "checked" in one.attrib] == []


def test_somebody_appointed_leads(client_of, school):
    owner = client_of("owner")
    asked = owner.submit(school, {"sign_in_name": " Stranger ", "role": "instructor"}, action=school)
    assert asked.heading == "Appoint Stranger Person: Instructor"
    assert "Stranger Person Instructor" not in owner.get(school).words

    assert owner.post(school, asked.form(school)).location == school
    assert "Stranger Person Instructor" in client_of("owner").get(school).words
    assert client_of("stranger").get("/groups").status == 200


@pytest.mark.parametrize(
    ("typed", "field", "said"),
    [
        ({"sign_in_name": " "}, "sign_in_name", "Type the sign-in name"),
        ({"sign_in_name": "no.body"}, "sign_in_name", "the sign-in name of somebody who has an account here"),
        ({"sign_in_name": "stranger", "role": ""}, "role", "Choose a role."),
        ({"sign_in_name": "stranger", "role": "king"}, "role", "owner, instructor or foreman"),
    ],
)
def test_what_will_not_do_is_kept_for_mending(client_of, school, typed, field, said):
    page = client_of("owner").submit(school, {"role": "instructor"} | typed)

    assert page.status == 422
    assert said in page.errors[field]
    assert page.value("sign_in_name") == typed["sign_in_name"]


def test_dismissing_asks_first_and_ends_all_that_was_led(client_of, school, given, world):
    path = f"{school}/{given.public_id('instructor')}/dismiss"
    owner = client_of("owner")
    assert owner.get(path).heading == "Dismiss Instructor Person"

    page = owner.submit(path)

    assert page.location == school
    assert "Instructor Person leads nothing here any more." in owner.get(school).words
    assert client_of("instructor").get(f"/groups/{world.groups['class']}").status == 403
    assert owner.get(f"/groups/{world.groups['class']}").status == 200


def test_only_staff_can_be_dismissed(client_of, school, given):
    owner, learner = client_of("owner"), client_of("learner")
    token = owner.get(school).value("csrf_token")
    held = learner.get("/account/held").words

    for who in (given.public_id("learner"), "0" * 22, "x"):
        assert owner.get(f"{school}/{who}/dismiss").status == 404
        assert owner.post(f"{school}/{who}/dismiss", {"csrf_token": token}).status == 404
    assert learner.get("/account/held").words == held


def test_an_owner_cannot_dismiss_himself(client_of, school, given):
    owner = client_of("owner")
    token = owner.get(school).value("csrf_token")

    page = owner.post(f"{school}/{given.public_id('owner')}/dismiss", {"csrf_token": token})

    assert page.status == 403
    assert "You cannot take your own role away" in page.words


def test_an_owner_of_another_organisation_finds_nothing(client_of, world):
    path = f"/organisations/{world.organisations['shop']}/staff"

    assert client_of("owner").get(path).status == 404
    assert client_of("owner").get("/organisations/nowhere/staff").status == 404
