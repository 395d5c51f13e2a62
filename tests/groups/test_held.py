from __future__ import annotations

import pytest
from sqlalchemy.exc import NoResultFound

from trainer.groups.held import LeftGroup, held_about
from trainer.groups.membership import leave


def held(town, name):
    with town.database.read() as session:
        return held_about(session, town.ids[name])


def test_a_new_account_holds_nothing(any_town):
    found = held(any_town, "lena")

    assert (found.problems, found.answers, found.skills, found.lessons, found.photos, found.left) == (0, 0, 0, 0, 0, ())
    assert found.since == any_town.now


def test_each_thing_is_counted_once_and_only_for_its_person(any_town):
    town = any_town
    town.practise("lena", "right", "right")
    town.practise("leo", "right")

    found = held(town, "lena")

    assert (found.problems, found.answers, found.skills) == (2, 2, 1)
    assert held(town, "leo").answers == 1


def test_a_group_that_was_left_keeps_the_answers_to_its_own_work(any_town):
    town = any_town
    town.join(town.class_, "lena")
    work = town.assign("straps-run")
    town.answer("lena", town.open("lena", work))
    town.practise("lena", "right")
    town.after(days=1).do("lena", leave, town.class_, town.now)

    assert held(town, "lena").left == (LeftGroup("Tuesday class", "Riverside school", "class", town.now, 1),)


def test_a_group_that_was_joined_again_is_not_left(any_town):
    town = any_town
    town.join(town.class_, "lena")
    town.after(days=1).do("lena", leave, town.class_, town.now)
    town.after(days=1).join(town.class_, "lena")

    assert held(town, "lena").left == ()


def test_the_group_that_was_left_last_comes_first(any_town):
    town = any_town
    for group in (town.crew, town.class_):
        town.join(group, "lena")
        town.after(days=1).do("lena", leave, group, town.now)

    assert [group.name for group in held(town, "lena").left] == ["Tuesday class", "Garage crew"]


def test_nobody_holds_nothing(town):
    town.ids["gone"] = 999_999

    with pytest.raises(NoResultFound):
        held(town, "gone")
