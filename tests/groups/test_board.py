from __future__ import annotations

import pytest
from sqlalchemy import select

from trainer.accounts.access import NotAllowedError, NotFoundError
from trainer.accounts.sharing import Shared
from trainer.groups.board import board
from trainer.groups.membership import leave, set_sharing
from trainer.records.models import AuditLine


def see(town, group, name):
    return town.with_library(name, board, group, town.now)


def share(town, name, group, what, *, shared=True):
    town.do(name, set_sharing, group, what, town.now, shared=shared)


def looked_at(town):
    with town.database.read() as session:
        return set(session.scalars(select(AuditLine.subject_id).where(AuditLine.what == "looked.readiness")))


def test_a_class_shows_assigned_work_and_nothing_else(town):
    town.join(town.class_, "lena")
    work = town.assign("straps-run", "offset-spacing")
    town.answer("lena", town.open("lena", work))
    (lena,) = see(town, town.class_, "ines").members

    assert (lena.display_name, lena.work_done, lena.work_lines) == ("Lena", 1, 2)
    assert lena.shares == {Shared.ASSIGNED}
    assert lena.skills is None
    assert looked_at(town) == set()


def test_a_crew_shows_where_each_stands(any_town):
    town = any_town
    town.join(town.crew, "lena", "leo")
    town.practise("lena", *["right"] * 6)
    lena, leo = see(town, town.crew, "fred").members

    assert [line.counted for line in lena.skills] == [6, 0, 0]
    assert lena.skills[0].chance > 0.6
    assert [line.counted for line in leo.skills] == [0, 0, 0]
    assert looked_at(town) == {town.ids["lena"], town.ids["leo"]}


def test_the_owner_sees_every_crew_of_the_shop(town):
    town.join(town.crew, "lena")

    assert [member.display_name for member in see(town, town.crew, "otto").members] == ["Lena"]


def test_a_learner_opens_more_to_a_class_and_closes_it_again(town):
    town.join(town.class_, "lena")
    share(town, "lena", town.class_, "readiness")
    assert see(town, town.class_, "ines").members[0].skills is not None

    share(town, "lena", town.class_, "readiness", shared=False)
    assert see(town, town.class_, "ines").members[0].skills is None


def test_slips_that_come_back_show_only_with_practice(town):
    town.join(town.crew, "lena")
    town.practise("lena", "one-too-many", "one-too-many")
    assert see(town, town.crew, "fred").members[0].skills[0].mistakes == ()

    share(town, "lena", town.crew, "practice")
    assert see(town, town.crew, "fred").members[0].skills[0].mistakes == ("one too many",)


def test_after_leaving_nothing_is_shown(town):
    town.join(town.crew, "lena")
    town.do("lena", leave, town.crew, town.now)

    assert see(town, town.crew, "fred").members == ()


def test_nobody_else_sees_the_board(town):
    town.join(town.crew, "lena")
    with pytest.raises(NotAllowedError):
        see(town, town.crew, "lena")
    for name in ("ines", "ada", "stranger"):
        with pytest.raises(NotFoundError):
            see(town, town.crew, name)
