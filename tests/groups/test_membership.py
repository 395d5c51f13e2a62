from __future__ import annotations

import pytest
from sqlalchemy import select

from trainer.accounts.access import NotAllowedError, NotFoundError
from trainer.accounts.sharing import Shared, shared_with
from trainer.calc.message import InputError
from trainer.groups.joining import Joined, join
from trainer.groups.membership import close_joining, leave, make_group, open_joining, set_sharing, sharing_of
from trainer.records.models import AuditLine, Group, Membership, Share


def group_row(town, public_id):
    with town.database.read() as session:
        return session.scalars(select(Group).where(Group.public_id == public_id)).one()


def shares(town, name, public_id):
    with town.database.read() as session:
        return shared_with(session, town.ids[name], group_row(town, public_id).id)


def test_a_school_has_classes_and_a_shop_has_crews_and_who_makes_one_leads_it(town):
    assert group_row(town, town.class_).kind == "class"
    assert group_row(town, town.crew).kind == "crew"
    assert [one.group_public_id for one in town.actor("ines").leads] == [town.class_]


def test_an_owner_makes_a_crew_and_leads_it_without_a_membership_of_his_own(town):
    crew = town.do("otto", make_group, town.shop, name="Roof crew", now=town.now)

    assert town.actor("otto").leads == ()
    assert town.do("otto", open_joining, crew, town.now)


def test_who_has_no_role_in_the_organisation_makes_no_group(town):
    for name, organisation in (("ines", town.shop), ("lena", town.school), ("ada", town.school)):
        with pytest.raises(NotFoundError):
            town.do(name, make_group, organisation, name="Mine", now=town.now)


def test_a_group_needs_a_name(town):
    with pytest.raises(InputError) as raised:
        town.do("ines", make_group, town.school, name="x" * 121, now=town.now)

    assert raised.value.field == "name"


def test_a_new_code_makes_the_old_one_useless_and_a_closed_group_has_none(town):
    old = town.code(town.class_)
    new = town.code(town.class_)

    assert not isinstance(town.do("lena", join, old, town.now), Joined)
    assert isinstance(town.do("lena", join, new, town.now), Joined)

    town.do("ines", close_joining, town.class_, town.now)
    assert not isinstance(town.do("leo", join, new, town.now), Joined)


def test_only_leaders_open_and_close(town):
    town.join(town.class_, "lena")
    with pytest.raises(NotAllowedError):
        town.do("lena", open_joining, town.class_, town.now)
    with pytest.raises(NotFoundError):
        town.do("fred", close_joining, town.class_, town.now)


def test_leaving_ends_membership_and_sharing(any_town):
    town = any_town
    town.join(town.crew, "lena")
    town.do("lena", leave, town.crew, town.after(days=1).now)

    assert town.actor("lena").learns_in == ()
    assert shares(town, "lena", town.crew) == frozenset()
    with pytest.raises(NotFoundError):
        town.do("lena", leave, town.crew, town.now)


def test_who_comes_back_starts_sharing_anew(any_town):
    town = any_town
    town.join(town.crew, "lena")
    town.do("lena", leave, town.crew, town.after(days=1).now)
    town.after(days=1).join(town.crew, "lena")

    assert shares(town, "lena", town.crew) == {Shared.ASSIGNED, Shared.READINESS}
    with town.database.read() as session:
        assert len(session.scalars(select(Membership).where(Membership.person_id == town.ids["lena"])).all()) == 2
        assert len(session.scalars(select(Share).where(Share.person_id == town.ids["lena"])).all()) == 4


def test_a_member_opens_and_closes_readiness_and_practice(town):
    town.join(town.class_, "lena")
    town.do("lena", set_sharing, town.class_, "practice", town.now, shared=True)
    lines = {line.what: (line.shared, line.may_change) for line in town.do("lena", sharing_of, town.class_)}

    assert lines == {
        Shared.ASSIGNED: (True, False),
        Shared.READINESS: (False, True),
        Shared.PRACTICE: (True, True),
    }

    town.do("lena", set_sharing, town.class_, "practice", town.now, shared=False)
    assert shares(town, "lena", town.class_) == {Shared.ASSIGNED}


@pytest.mark.parametrize("what", ["assigned", "everything"])
def test_assigned_work_stays_shared_and_nothing_else_can_be_opened(town, what):
    town.join(town.class_, "lena")
    with pytest.raises(InputError) as raised:
        town.do("lena", set_sharing, town.class_, what, town.now, shared=False)

    assert raised.value.field == "what"


def test_only_members_share(town):
    with pytest.raises(NotFoundError):
        town.do("lena", set_sharing, town.class_, "readiness", town.now, shared=True)


def test_joining_and_leaving_are_noted_for_the_person(town):
    town.join(town.class_, "lena")
    town.do("lena", leave, town.class_, town.now)
    with town.database.read() as session:
        noted = session.scalars(select(AuditLine.what).where(AuditLine.subject_id == town.ids["lena"])).all()

    assert noted == ["group.joined", "group.left"]


def test_a_code_that_another_group_has_is_made_again(town, monkeypatch):
    taken = town.code(town.class_)
    codes = iter([taken, "22222222"])
    monkeypatch.setattr("trainer.groups.membership.new_code", lambda: next(codes))

    assert town.code(town.crew) == "22222222"
