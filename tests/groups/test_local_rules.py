"""Which local rules a school or shop follows."""

import pytest

from trainer.accounts.access import NotAllowedError, NotFoundError
from trainer.calc.message import InputError
from trainer.groups.assigned import FamilyCount, assign
from trainer.groups.local_rules import follow, followed
from trainer.library.shelf import Library
from trainer.problems.shelf import content_root
from trainer.records.models import AssignedFamily, ContentVersion


@pytest.fixture(scope="module")
def shelf():
    return Library(content_root())


@pytest.fixture
def ruled(any_town, shelf):
    any_town.library = shelf
    any_town.with_library("otto", follow, any_town.shop, rules=["shorter-pulls"], now=any_town.now)
    return any_town


def test_the_owner_chooses_and_takes_back(ruled):
    assert ruled.do("otto", followed, ruled.shop).local_rules == ("shorter-pulls",)
    assert ruled.actor("fred").local_rules == ("shorter-pulls",)
    assert ruled.actor("ines").local_rules == ()

    ruled.with_library("otto", follow, ruled.shop, rules=[], now=ruled.now)

    assert ruled.do("otto", followed, ruled.shop).local_rules == ()


def test_a_rule_that_there_is_not_is_refused_by_name(town, shelf):
    town.library = shelf
    with pytest.raises(InputError) as raised:
        town.with_library("otto", follow, town.shop, rules=["no-such"], now=town.now)

    assert (raised.value.field, raised.value.given) == ("rules", "no-such")


@pytest.mark.parametrize(("who", "error"), [("fred", NotAllowedError), ("stranger", NotFoundError)])
def test_nobody_else_chooses(town, who, error):
    with pytest.raises(error):
        town.with_library(who, follow, town.shop, rules=[], now=town.now)


def test_work_given_under_a_rule_keeps_it_when_the_rule_goes(ruled, shelf):
    given = {"title": "Degrees", "families": [FamilyCount("degrees-left", 1)], "edition": "2023", "now": ruled.now}
    ruled.with_library("fred", assign, ruled.crew, due_on=ruled.now.date(), **given)
    ruled.with_library("otto", follow, ruled.shop, rules=[], now=ruled.now)

    with ruled.database.read() as session:
        version = session.query(ContentVersion).join(AssignedFamily).one()
        assert shelf.family_in_version(version.rules_hash, version.words_hash, version.body).shape.local == {
            "bends.total.limit": 270
        }
