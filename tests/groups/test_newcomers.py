from __future__ import annotations

import pytest
from sqlalchemy import func, select

from trainer.accounts.actor import actor_for
from trainer.accounts.passwords import CHEAP_PASSWORDS
from trainer.accounts.sign_in import Refused, SignedIn
from trainer.calc.message import InputError
from trainer.groups.joining import join_preview
from trainer.groups.newcomers import Newcomer, join_as_newcomer
from trainer.problems.codes import new_code
from trainer.records.models import Person

ANA = Newcomer(sign_in_name="Ana.Ruiz", display_name="Ana Ruiz", password="tube and strap")
HERE = "192.0.2.7"


def come(town, code, newcomer=ANA):
    more = {"address": HERE, "device": "a phone", "now": town.now, "passwords": CHEAP_PASSWORDS}
    with town.database.write() as session:
        return join_as_newcomer(session, code, newcomer, **more)


def people(town):
    with town.database.read() as session:
        return session.scalar(select(func.count(Person.id)))


def test_a_newcomer_is_made_joined_and_signed_in(any_town):
    town = any_town

    signed_in = come(town, town.code(town.class_))

    assert isinstance(signed_in, SignedIn)
    with town.database.read() as session:
        actor = actor_for(session, signed_in.token, town.now)
    assert (actor.sign_in_name, actor.display_name) == ("ana.ruiz", "Ana Ruiz")
    assert [one.group_public_id for one in actor.learns_in] == [town.class_]


def test_a_code_that_opens_nothing_makes_nobody(town):
    before = people(town)

    assert isinstance(come(town, new_code()), Refused)
    assert people(town) == before


@pytest.mark.parametrize(
    ("newcomer", "field"),
    [
        (Newcomer("lena", "Ana Ruiz", "tube and strap"), "sign_in_name"),
        (Newcomer("ana.ruiz", "  ", "tube and strap"), "display_name"),
        (Newcomer("ana.ruiz", "Ana Ruiz", "short"), "new_password"),
    ],
)
def test_what_cannot_be_used_is_named_and_makes_nobody(any_town, newcomer, field):
    before = people(any_town)

    with pytest.raises(InputError) as caught:
        come(any_town, any_town.code(any_town.class_), newcomer)

    assert caught.value.field == field
    assert people(any_town) == before


def test_wrong_codes_of_people_without_a_sign_in_count_against_their_address(town):
    for _ in range(20):
        assert not come(town, new_code()).wait

    assert come(town, town.code(town.class_)).wait
    with town.database.write() as session:
        elsewhere = join_preview(session, None, town.code(town.class_), town.now, address="192.0.2.8")
    assert elsewhere.name == "Tuesday class"


def test_people_with_a_sign_in_are_not_held_up_by_strangers_at_their_address(town):
    for _ in range(21):
        come(town, new_code())

    assert town.do("lena", join_preview, town.code(town.class_), town.now).name == "Tuesday class"
