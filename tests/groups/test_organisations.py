from __future__ import annotations

import pytest

from trainer.accounts.access import NotAllowedError, NotFoundError
from trainer.calc.message import InputError
from trainer.groups.membership import make_group
from trainer.groups.organisations import appoint, dismiss, make_organisation, staff_of


def test_the_administrator_makes_a_school_and_appoints_its_owner(town):
    made = town.do("ada", make_organisation, name=" North  school ", kind="school", time_zone="UTC", now=town.now)
    town.do("ada", appoint, made, sign_in_name="LEO", role="owner", now=town.now)

    assert [(line.display_name, line.role) for line in town.do("leo", staff_of, made)] == [("Leo", "owner")]


def test_nobody_else_makes_one(town):
    with pytest.raises(NotAllowedError):
        town.do("otto", make_organisation, name="Mine", kind="shop", time_zone="UTC", now=town.now)


@pytest.mark.parametrize(
    ("field", "value"), [("name", "  "), ("kind", "club"), ("time_zone", "Mars/Olympus"), ("name", "a\u202eb")]
)
def test_what_cannot_be_used_is_said_with_its_field(town, field, value):
    given = {"name": "North", "kind": "shop", "time_zone": "UTC"} | {field: value}
    with pytest.raises(InputError) as raised:
        town.do("ada", make_organisation, **given, now=town.now)

    assert raised.value.field == field


def test_the_owner_appoints_and_twice_is_once(any_town):
    for _ in range(2):
        any_town.do("otto", appoint, any_town.shop, sign_in_name="lena", role="foreman", now=any_town.now)
    staff = any_town.do("otto", staff_of, any_town.shop)

    assert [(line.display_name, line.role) for line in staff] == [
        ("Otto", "owner"),
        ("Fred", "foreman"),
        ("Lena", "foreman"),
    ]


def test_a_foreman_appoints_nobody_and_a_stranger_finds_nothing(town):
    with pytest.raises(NotAllowedError):
        town.do("fred", appoint, town.shop, sign_in_name="lena", role="foreman", now=town.now)
    with pytest.raises(NotFoundError):
        town.do("stranger", staff_of, town.shop)
    with pytest.raises(NotFoundError):
        town.do("ada", staff_of, "no-such")


@pytest.mark.parametrize(("field", "given"), [("sign_in_name", "nobody.here"), ("role", "learner")])
def test_nobody_is_appointed_who_is_not_there_or_to_what_is_none(town, field, given):
    asked = {"sign_in_name": "lena", "role": "foreman"} | {field: given}
    with pytest.raises(InputError) as raised:
        town.do("otto", appoint, town.shop, **asked, now=town.now)

    assert raised.value.field == field


def test_who_is_dismissed_leads_nothing_any_more(any_town):
    any_town.do("otto", dismiss, any_town.shop, "public-fredxxxxxxxxxxx", any_town.now)

    assert any_town.actor("fred").memberships == ()
    with pytest.raises(NotFoundError):
        any_town.do("fred", make_group, any_town.shop, name="Another crew", now=any_town.now)


def test_an_owner_does_not_dismiss_himself_or_somebody_unknown(town):
    with pytest.raises(NotAllowedError):
        town.do("otto", dismiss, town.shop, "public-ottoxxxxxxxxxxx", town.now)
    with pytest.raises(NotFoundError):
        town.do("otto", dismiss, town.shop, "no-such", town.now)
