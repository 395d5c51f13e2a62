"""Who gets what: every asker against every thing, on both databases."""

from __future__ import annotations

import pytest
from sqlalchemy import select, update

from trainer.accounts import access
from trainer.accounts.access import NotAllowedError, NotFoundError
from trainer.accounts.people import delete_person
from trainer.accounts.sharing import Shared, end_sharing, set_shared, shared_with
from trainer.records.models import Membership, Organisation, ProblemSet
from trainer.text.words import say

EVERYBODY = ("kim", "ana", "ines", "ivo", "finn", "olga", "ada", "sam", "pat", "inka")
ODD = ("", "no-such", "\x00", "\ud800", "x" * 22, "x" * 10_000, "' OR 1=1 --", "1")


def outcome(place, name, fetch, *arguments):
    """The name of the person who asks, if the asked-for thing is handed out; else why not."""
    actor = place.actor(name)
    with place.database.read() as session:
        try:
            return fetch(session, actor, *arguments)
        except NotFoundError:
            return "not found"
        except NotAllowedError as error:
            return "not allowed" if say(error.reason) else "not said why"


def who_gets(place, fetch, *arguments):
    """Who is handed the thing, and who is told that it is not for them; everybody else is told that there is none."""
    outcomes = {name: outcome(place, name, fetch, *arguments) for name in EVERYBODY}
    return (
        {name for name, found in outcomes.items() if not isinstance(found, str)},
        {name for name, found in outcomes.items() if found == "not allowed"},
    )


@pytest.mark.parametrize(
    ("problem", "owner"),
    [("assigned", "kim"), ("practice", "kim"), ("proof", "kim"), ("former", "pat"), ("former practice", "pat")],
)
def test_a_problem_is_its_persons_own_also_after_leaving(place, problem, owner):
    assert who_gets(place, access.own_problem, place.problem[problem]) == ({owner}, set())


@pytest.mark.parametrize(
    ("group", "leaders", "learners"),
    [("tuesday", {"ines"}, {"kim", "ana"}), ("friday", {"ivo"}, set()), ("crew", {"finn", "olga"}, {"kim"})],
)
def test_a_group_is_for_those_who_lead_it_and_its_learners_know_of_it(place, group, leaders, learners):
    assert who_gets(place, access.group_led_by, place.group[group]) == (leaders, learners)
    assert who_gets(place, access.group_of_member, place.group[group]) == (learners, set())


@pytest.mark.parametrize(
    ("work", "leaders", "learners"),
    [("work", {"ines"}, {"kim", "ana"}), ("elsewhere", {"ivo"}, set()), ("crew work", {"finn", "olga"}, {"kim"})],
)
def test_assigned_work_is_for_the_learners_of_its_group_and_for_those_who_lead_it(place, work, leaders, learners):
    assert who_gets(place, access.assigned_work_to, place.work[work]) == (learners, set())
    assert who_gets(place, access.assigned_work_led_by, place.work[work]) == (leaders, learners)


def test_withdrawn_work_is_gone_for_learners_and_stays_for_those_who_gave_it(place):
    assert who_gets(place, access.assigned_work_to, place.work["withdrawn"]) == (set(), set())
    assert who_gets(place, access.assigned_work_led_by, place.work["withdrawn"])[0] == {"ines"}


def test_groups_are_made_by_the_staff_of_the_organisation(place):
    assert who_gets(place, access.organisation_of_staff, place.organisation["school"]) == ({"ines", "ivo"}, set())
    assert who_gets(place, access.organisation_of_staff, place.organisation["shop"]) == ({"finn", "olga"}, set())


def test_a_problem_set_is_for_the_staff_of_its_organisation_until_it_is_put_away(place, now):
    with place.database.write() as session:
        school = session.scalar(select(Organisation.id).where(Organisation.public_id == place.organisation["school"]))
        by = place.actor("ines").person_id
        kept = ProblemSet(organisation_id=school, name="Offsets", made_by_id=by, made_at=now, changed_at=now)
        session.add(kept)
        session.flush()
        public_id = kept.public_id

    assert who_gets(place, access.problem_set_of_staff, public_id) == ({"ines", "ivo"}, set())
    with place.database.write() as session:
        session.execute(update(ProblemSet).values(put_away_at=now))
    assert who_gets(place, access.problem_set_of_staff, public_id) == (set(), set())


def test_an_organisation_is_run_by_its_owner(place):
    assert who_gets(place, access.organisation_owned_by, place.organisation["shop"]) == ({"olga"}, {"kim", "finn"})
    assert who_gets(place, access.organisation_owned_by, place.organisation["school"]) == (
        set(),
        {"kim", "ana", "ines", "ivo"},
    )


@pytest.mark.parametrize(
    ("group", "what", "seen_by", "told_no"),
    [
        ("tuesday", Shared.ASSIGNED, {"ines"}, {"kim", "ana"}),
        ("tuesday", Shared.READINESS, set(), {"kim", "ana", "ines"}),
        ("tuesday", Shared.PRACTICE, set(), {"kim", "ana", "ines"}),
        ("crew", Shared.ASSIGNED, {"finn", "olga"}, {"kim"}),
        ("crew", Shared.READINESS, {"finn", "olga"}, {"kim"}),
        ("crew", Shared.PRACTICE, set(), {"kim", "finn", "olga"}),
        ("friday", Shared.ASSIGNED, set(), set()),
    ],
)
def test_a_learners_record_is_seen_as_far_as_the_group_starts_with(place, group, what, seen_by, told_no):
    kim = place.person["kim"].public_id

    assert who_gets(place, access.learner_seen_by, place.group[group], kim, what) == (seen_by, told_no)


def test_a_learner_opens_and_closes_more(place, now):
    kim, group = place.person["kim"], place.group_id["tuesday"]
    asked = (access.learner_seen_by, place.group["tuesday"], kim.public_id, Shared.PRACTICE)
    with place.database.write() as session:
        set_shared(session, kim.id, group, Shared.PRACTICE, now, shared=True)
    opened = who_gets(place, *asked)[0]
    with place.database.write() as session:
        set_shared(session, kim.id, group, Shared.PRACTICE, now, shared=False)

    assert (opened, who_gets(place, *asked)[0]) == ({"ines"}, set())


@pytest.mark.parametrize("other", ["finn", "ines", "olga", "ada", "sam"])
def test_only_those_who_learn_in_a_group_are_seen_through_it(place, other):
    someone = place.person[other].public_id

    assert who_gets(place, access.learner_seen_by, place.group["crew"], someone, Shared.ASSIGNED) == (set(), {"kim"})


def test_after_leaving_the_group_keeps_what_was_made_under_it_and_nothing_else(place):
    pat = place.person["pat"].public_id
    seen = [
        who_gets(place, access.learner_seen_by, place.group["tuesday"], pat, what)[0]
        for what in (Shared.ASSIGNED, Shared.READINESS, Shared.PRACTICE)
    ]

    assert seen == [{"ines"}, set(), set()]
    assert not outcome(place, "ines", access.learner_seen_by, place.group["tuesday"], pat, Shared.ASSIGNED).is_member


def test_a_share_that_was_left_open_shows_nothing_once_the_membership_has_ended(place, now):
    kim, group = place.person["kim"], place.group_id["crew"]
    with place.database.write() as session:
        session.execute(update(Membership).where(Membership.person_id == kim.id).values(ended_at=now))

    with place.database.read() as session:
        assert Shared.READINESS in shared_with(session, kim.id, group)
    asked = (access.learner_seen_by, place.group["crew"], kim.public_id, Shared.READINESS)
    assert who_gets(place, *asked) == (set(), {"finn", "olga"})


@pytest.mark.parametrize(
    ("problem", "group", "seen_by", "told_no"),
    [
        ("assigned", "tuesday", {"ines"}, {"kim", "ana"}),
        ("assigned", "crew", set(), {"kim"}),
        ("for the crew", "crew", {"finn", "olga"}, {"kim"}),
        ("for the crew", "tuesday", set(), {"kim", "ana"}),
        ("proof", "crew", {"finn", "olga"}, {"kim"}),
        ("proof", "tuesday", set(), {"kim", "ana", "ines"}),
        ("practice", "crew", set(), {"kim", "finn", "olga"}),
        ("practice", "tuesday", set(), {"kim", "ana", "ines"}),
        ("former", "tuesday", set(), {"kim", "ana"}),
    ],
)
def test_a_problem_is_seen_through_the_group_that_it_belongs_to(place, problem, group, seen_by, told_no):
    asked = (access.problem_seen_by, place.group[group], place.person["kim"].public_id, place.problem[problem])

    assert who_gets(place, *asked) == (seen_by, told_no)


def test_after_leaving_only_the_problems_made_under_the_group_are_seen(place):
    pat = place.person["pat"].public_id
    made_under, own = (
        who_gets(place, access.problem_seen_by, place.group["tuesday"], pat, place.problem[problem])
        for problem in ("former", "former practice")
    )

    assert made_under[0] == {"ines"}
    assert own == (set(), {"kim", "ana", "ines"})


def test_a_deleted_learners_results_stay_with_the_group_without_a_name(place, now):
    kim = place.person["kim"]
    with place.database.write() as session:
        delete_person(session, kim.id, now)
    with place.database.read() as session:
        seen = access.learner_seen_by(
            session, place.actor("ines"), place.group["tuesday"], kim.public_id, Shared.ASSIGNED
        )

    assert (seen.display_name, seen.is_member) == ("–", False)


def test_who_has_left_a_moment_ago_gets_nothing_more(place, now):
    before = {name: place.actor(name) for name in ("ines", "kim", "olga")}
    with place.database.write() as session:
        session.execute(update(Membership).where(Membership.ended_at.is_(None)).values(ended_at=now))
        end_sharing(session, place.person["kim"].id, place.group_id["tuesday"], now)
    kim = place.person["kim"].public_id
    with place.database.read() as session:
        for actor, fetch, arguments in [
            (before["ines"], access.group_led_by, (place.group["tuesday"],)),
            (before["ines"], access.assigned_work_led_by, (place.work["work"],)),
            (before["ines"], access.learner_seen_by, (place.group["tuesday"], kim, Shared.ASSIGNED)),
            (before["ines"], access.organisation_of_staff, (place.organisation["school"],)),
            (before["olga"], access.organisation_owned_by, (place.organisation["shop"],)),
            (before["olga"], access.group_led_by, (place.group["crew"],)),
            (before["kim"], access.group_of_member, (place.group["tuesday"],)),
            (before["kim"], access.assigned_work_to, (place.work["work"],)),
        ]:
            with pytest.raises(NotFoundError):
                fetch(session, actor, *arguments)


@pytest.mark.parametrize("odd", ODD)
def test_an_odd_name_of_a_thing_is_not_found(place, odd):
    group, person = place.group["tuesday"], place.person["kim"].public_id
    asked = [
        (access.own_problem, odd),
        (access.group_led_by, odd),
        (access.group_of_member, odd),
        (access.assigned_work_to, odd),
        (access.assigned_work_led_by, odd),
        (access.organisation_of_staff, odd),
        (access.organisation_owned_by, odd),
        (access.problem_set_of_staff, odd),
        (access.learner_seen_by, odd, person, Shared.ASSIGNED),
        (access.learner_seen_by, group, odd, Shared.ASSIGNED),
        (access.problem_seen_by, group, person, odd),
    ]

    assert {outcome(place, "ines", *one) for one in asked} == {"not found"}


def test_no_function_is_left_out_of_these_tests():
    fetching = {name for name in access.__all__ if name[0].islower()}

    # A condition, not a fetch; `assigned_work_to` stands on it, and is tested above.
    assert fetching - {"given_to"} == {
        "assigned_work_led_by",
        "assigned_work_to",
        "group_led_by",
        "group_of_member",
        "learner_seen_by",
        "organisation_of_staff",
        "organisation_owned_by",
        "own_problem",
        "problem_seen_by",
        "problem_set_of_staff",
    }


def test_what_is_handed_out_says_whose_it_is(place):
    work = outcome(place, "kim", access.assigned_work_to, place.work["work"])
    group = outcome(place, "olga", access.group_led_by, place.group["crew"])

    assert (work.title, work.group.name, work.group.organisation.name) == (
        "work",
        "tuesday",
        "Riverside Evening School",
    )
    assert (group.kind, group.organisation.kind, group.organisation.time_zone) == ("crew", "shop", "UTC")
