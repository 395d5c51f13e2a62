"""What a leader finds on the desk."""

from __future__ import annotations

from datetime import timedelta

from trainer.groups.assigned import withdraw
from trainer.groups.board import board
from trainer.groups.desk import begun_in, desk
from trainer.groups.membership import close_joining, leave, make_group
from trainer.groups.more_time import give_more_time
from trainer.groups.results import results

from .conftest import public


def see(town, who):
    return town.do(who, desk, town.now)


def test_who_leads_nothing_has_an_empty_desk(town):
    town.join(town.class_, "lena")

    assert see(town, "lena") == []
    assert see(town, "ada") == []


def test_a_leader_finds_the_own_groups_and_an_owner_all_of_the_shop(any_town):
    any_town.do("otto", make_group, any_town.shop, name="Attic crew", now=any_town.now)

    assert [group.name for group in see(any_town, "fred")] == ["Garage crew"]
    assert [group.name for group in see(any_town, "otto")] == ["Attic crew", "Garage crew"]
    assert [(group.name, group.kind, group.organisation) for group in see(any_town, "ines")] == [
        ("Tuesday class", "class", "Riverside school")
    ]


def test_people_are_those_who_are_in_it_now(town):
    town.join(town.class_, "lena", "leo")
    town.do("leo", leave, town.class_, town.now)

    assert see(town, "ines")[0].people == 1


def test_whether_it_can_be_joined(town):
    assert see(town, "ines")[0].is_open
    town.do("ines", close_joining, town.class_, town.now)
    assert not see(town, "ines")[0].is_open


def test_work_to_come_stands_soonest_first_with_how_many_have_begun(any_town):
    any_town.join(any_town.class_, "lena", "leo")
    later = any_town.assign("straps-run", due_in=6, title="Later")
    sooner = any_town.assign("straps-run", "offset-spacing", title="Sooner")
    gone = any_town.assign("straps-run", title="Withdrawn")
    any_town.do("ines", withdraw, gone, any_town.now)
    any_town.answer("lena", any_town.open("lena", sooner))
    any_town.answer("lena", any_town.open("lena", sooner, position=2))
    any_town.open("leo", sooner)

    assert [(work.work, work.title, work.begun) for work in see(any_town, "ines")[0].due] == [
        (sooner, "Sooner", 1),
        (later, "Later", 0),
    ]
    any_town.after(days=5)
    assert [work.work for work in see(any_town, "ines")[0].due] == [later]


def test_a_group_with_something_due_stands_before_one_without(town):
    other = town.do("ines", make_group, town.school, name="Advanced class", now=town.now)
    town.assign("straps-run")

    assert [group.group for group in see(town, "ines")] == [town.class_, other]


def test_who_has_begun_is_the_same_on_the_desk_the_board_and_among_the_results(any_town):
    town = any_town
    town.join(town.class_, "lena", "leo", "stranger")
    work = town.assign("straps-run", "offset-spacing")
    town.open("leo", work)
    later = {"ends_on": (town.now + timedelta(days=9)).date(), "reason": "On the road", "now": town.now}
    town.do("ines", give_more_time, work, public("lena"), **later)
    too_late = town.open("stranger", work)
    town.after(days=5)
    town.answer("lena", town.open("lena", work))
    town.answer("stranger", too_late)

    group = town.actor("ines").leads[0].group_id
    with town.database.read() as session:
        assert begun_in(session, [group]) == {work: 1}
    found = town.with_library("ines", results, work, town.now)
    assert [one.display_name for one in found.people if one.has_begun] == ["Lena"]
    members = town.with_library("ines", board, town.class_, town.now).members
    assert [(one.display_name, one.work_done) for one in members if one.work_done] == [("Lena", 1)]


def test_an_answer_after_the_due_date_or_of_someone_who_left_is_not_counted(town):
    town.join(town.class_, "lena", "leo")
    work = town.assign("straps-run")
    town.answer("lena", town.open("lena", work))
    late = town.open("leo", work)
    town.do("lena", leave, town.class_, town.now)
    town.after(days=9)
    town.answer("leo", late)

    group = town.actor("ines").leads[0].group_id
    with town.database.read() as session:
        assert begun_in(session, [group]) == {}
