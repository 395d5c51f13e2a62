from __future__ import annotations

from trainer.groups.membership import leave, set_sharing
from trainer.groups.sight import who_sees
from trainer.text.words import say


def sights(town, name):
    actor = town.actor(name)
    with town.database.read() as session:
        return who_sees(session, actor)


def said(group):
    return [say(one) for one in group.leaders]


def test_a_person_in_no_group_is_seen_by_nobody(town):
    assert sights(town, "lena") == []


def test_each_group_is_told_with_its_leaders_and_what_they_see(any_town):
    town = any_town
    town.join(town.class_, "lena")
    town.join(town.crew, "lena")

    class_, crew = sights(town, "lena")

    assert (class_.name, class_.organisation, said(class_)) == ("Tuesday class", "Riverside school", ["Ines"])
    assert (crew.name, crew.organisation, said(crew)) == (
        "Garage crew",
        "Corner shop",
        ["Otto (runs the shop)", "Fred"],
    )
    assert [line.what for line in class_.lines if line.shared] == ["assigned"]
    assert [line.what for line in crew.lines if line.shared] == ["assigned", "readiness"]


def test_what_was_opened_is_told(town):
    town.join(town.class_, "lena")
    town.do("lena", set_sharing, town.class_, "practice", town.now, shared=True)

    (class_,) = sights(town, "lena")

    assert [line.what for line in class_.lines if line.shared] == ["assigned", "practice"]
    assert [line.what for line in class_.lines if line.may_change] == ["readiness", "practice"]


def test_a_group_that_was_left_sees_nothing_and_is_not_told(town):
    town.join(town.class_, "lena")
    town.do("lena", leave, town.class_, town.now)

    assert sights(town, "lena") == []


def test_leaders_are_not_told_as_if_they_learned(town):
    assert sights(town, "ines") == []
