"""Problem sets: what was given from one, and who reads of it."""

from __future__ import annotations

from datetime import timedelta

from trainer.accounts.access import problem_set_of_staff
from trainer.groups.assigned import FamilyCount, assign
from trainer.groups.membership import make_group
from trainer.groups.organisations import appoint
from trainer.groups.sets import make_set, problem_set

ASKED = [FamilyCount("straps-run")]


def test_a_school_does_not_read_where_else_a_set_of_its_own_was_given(any_town):
    """Ines teaches at the school and leads a crew of the shop, and gives the school's set to both."""
    town = any_town
    town.do("ada", appoint, town.shop, sign_in_name="ines", role="foreman", now=town.now)
    hers = town.do("ines", make_group, town.shop, name="Attic crew", now=town.now)
    kept = town.with_library("ines", make_set, town.school, name="Straps", families=ASKED, now=town.now)
    from_it = town.do("ines", problem_set_of_staff, kept).id
    for group in (town.class_, hers):
        more = {"title": "Straps", "families": ASKED, "due_on": (town.now + timedelta(days=3)).date()}
        more |= {"problem_set_id": from_it, "edition": "2023", "now": town.now}
        town.with_library("ines", assign, group, **more)
    town.add("tess")
    town.do("ada", appoint, town.school, sign_in_name="tess", role="instructor", now=town.now)

    for reader in ("tess", "ines"):
        given = town.with_library(reader, problem_set, kept).given
        assert [one.group for one in given] == ["Tuesday class"]
