"""The organisations of a site, and the staff of one."""

from __future__ import annotations

import pytest

from trainer.accounts.access import NotAllowedError, NotFoundError
from trainer.groups.organisations import appoint, make_organisation
from trainer.groups.register import MOST_LISTED, organisations_of_site, staff_page


def test_the_administrator_sees_organisations_and_their_owners(any_town):
    any_town.do("otto", appoint, any_town.shop, sign_in_name="fred", role="owner", now=any_town.now)

    found = any_town.do("ada", organisations_of_site)

    assert [(one.name, one.kind, one.time_zone, one.owners) for one in found.lines] == [
        ("Corner shop", "shop", "America/Chicago", ("Otto", "Fred")),
        ("Riverside school", "school", "America/Chicago", ()),
    ]


def test_of_very_many_the_first_are_listed_and_the_others_found_by_a_part_of_their_name(any_town):
    for nth in range(MOST_LISTED):
        place = {"name": f"A shop, 100% {nth}", "kind": "shop", "time_zone": "America/Chicago", "now": any_town.now}
        any_town.do("ada", make_organisation, **place)
    first, named, no_sign = (any_town.do("ada", organisations_of_site, name) for name in ("", "VERSIDE s", "%_"))

    assert (len(first.lines), first.named) == (MOST_LISTED, MOST_LISTED + 2)
    assert "Riverside school" not in {one.name for one in first.lines}
    assert ([one.name for one in named.lines], named.named) == (["Riverside school"], 1)
    assert (no_sign.lines, no_sign.named) == ((), 0)


@pytest.mark.parametrize("who", ["otto", "ines", "stranger"])
def test_nobody_else_sees_them(town, who):
    with pytest.raises(NotAllowedError):
        town.do(who, organisations_of_site)


@pytest.mark.parametrize("who", ["otto", "ada"])
def test_owner_and_administrator_see_the_staff(town, who):
    found = town.do(who, staff_page, town.shop)

    assert found.organisation.name == "Corner shop"
    assert [(one.display_name, one.role) for one in found.staff] == [("Otto", "owner"), ("Fred", "foreman")]


def test_others_do_not(town):
    with pytest.raises(NotAllowedError):
        town.do("fred", staff_page, town.shop)
    for who, organisation in (("ines", town.shop), ("otto", town.school), ("ada", "0" * 22), ("ada", "?")):
        with pytest.raises(NotFoundError):
            town.do(who, staff_page, organisation)
