from __future__ import annotations

import pytest
from msgspec.structs import replace
from sqlalchemy import update

from trainer.accounts.access import NotFoundError
from trainer.calc.message import InputError
from trainer.calc.shoes import DEFAULT_SHOES
from trainer.groups.membership import leave
from trainer.groups.organisations import dismiss
from trainer.groups.shoes import bench_of, end_shoe, keep_shoe, shop_of_staff
from trainer.progress import practice
from trainer.records.models import Organisation, Problem

SHOE = replace(DEFAULT_SHOES["3/4"], take_up=6.0625, radius=5.5)
YELLOW = "3/4, yellow handle"


def keep(town, who="otto", name=YELLOW, shoe=SHOE):
    return town.do(who, keep_shoe, town.shop, name=name, shoe=shoe, now=town.now)


def issue_proof(town, who):
    with town.database.write() as session:
        more = {"family_id": "straps-run", "now": town.now, "edition": "2023"}
        problem = practice.issue(session, town.library, town.ids[who], **more)
        session.execute(update(Problem).where(Problem.public_id == problem).values(context="proof"))
    return problem


def test_everybody_in_a_shop_bends_with_its_shoes(any_town):
    any_town.join(any_town.crew, "lena")
    kept = keep(any_town, "fred")

    for who in ("lena", "fred", "otto"):
        (shoe,) = any_town.do(who, bench_of).used
        assert (shoe.public_id, shoe.name, shoe.shoe, shoe.measured_by) == (kept, YELLOW, SHOE, "Fred")
        assert (shoe.measured_at, shoe.shop) == (any_town.now, any_town.shop)


def test_nobody_else_sees_them(town):
    keep(town)
    town.join(town.class_, "leo")

    for who in ("leo", "stranger", "ines", "ada"):
        assert town.do(who, bench_of).shoes == ()


def test_who_has_left_sees_them_no_longer(town):
    town.join(town.crew, "lena")
    keep(town)
    town.do("lena", leave, town.crew, town.now)

    assert town.do("lena", bench_of).shoes == ()


def test_a_back_mark_of_its_own_comes_back_as_measured(town):
    keep(town, shoe=replace(SHOE, own_back_mark=2.5))

    assert town.do("otto", bench_of).used[0].shoe == replace(SHOE, own_back_mark=2.5)


def test_measured_again_it_is_a_new_shoe_and_the_old_one_can_still_be_read(any_town):
    first = keep(any_town)
    second = keep(any_town.after(days=1), "fred", f"  {YELLOW} ", replace(SHOE, take_up=6.125))

    bench = any_town.do("otto", bench_of)
    assert [shoe.public_id for shoe in bench.used] == [second]
    old = bench.kept_shoe(first)
    assert (old.shoe, old.is_used) == (SHOE, False)


def test_one_of_another_name_stays_beside_it(town):
    keep(town)
    keep(town, name="3/4, van 2")

    assert [shoe.name for shoe in town.do("otto", bench_of).used] == ["3/4, van 2", YELLOW]


def test_a_shoe_that_was_given_away_is_offered_no_longer(any_town):
    kept = keep(any_town)
    any_town.do("fred", end_shoe, any_town.shop, kept, any_town.now)

    bench = any_town.do("otto", bench_of)
    assert bench.used == ()
    assert bench.kept_shoe(kept).shoe == SHOE


@pytest.mark.parametrize("who", ["lena", "stranger", "ines", "ada"])
def test_who_has_no_role_in_the_whole_shop_keeps_none(town, who):
    town.join(town.crew, "lena")
    kept = keep(town)

    with pytest.raises(NotFoundError):
        keep(town, who)
    with pytest.raises(NotFoundError):
        town.do(who, end_shoe, town.shop, kept, town.now)
    with pytest.raises(NotFoundError):
        town.do(who, shop_of_staff, town.shop)
    assert town.do("otto", bench_of).kept_shoe(kept).is_used


def test_who_was_dismissed_keeps_none(town):
    town.do("otto", dismiss, town.shop, town.actor("fred").public_id, town.now)

    with pytest.raises(NotFoundError):
        keep(town, "fred")


@pytest.mark.parametrize("name", ["no-such-shoe", "x" * 22, ""])
def test_no_other_shoe_is_ended(town, name):
    keep(town)

    with pytest.raises(NotFoundError):
        town.do("otto", end_shoe, town.shop, name, town.now)


def test_a_shoe_of_another_shop_is_not_ended(town):
    kept = town.do("ines", keep_shoe, town.school, name=YELLOW, shoe=SHOE, now=town.now)

    with pytest.raises(NotFoundError):
        town.do("otto", end_shoe, town.shop, kept, town.now)


@pytest.mark.parametrize("name", ["", "   ", "x" * 61, "a\u202eb"])
def test_a_name_that_cannot_be_used_is_said_so(town, name):
    with pytest.raises(InputError) as refused:
        keep(town, name=name)

    assert refused.value.field == "name"
    assert town.do("otto", bench_of).shoes == ()


def test_the_basis_is_that_of_the_first_shop_or_school(town):
    with town.database.write() as session:
        session.execute(update(Organisation).where(Organisation.name == "Riverside school").values(basis="arc"))
    town.join(town.class_, "lena")
    town.join(town.crew, "lena")

    bench = town.do("lena", bench_of)
    assert [(shop.name, shop.basis, shop.may_keep) for shop in bench.shops] == [
        ("Riverside school", "arc", False),
        ("Corner shop", "handbook", False),
    ]
    assert bench.basis == "arc"
    assert town.do("stranger", bench_of).basis == "handbook"


def test_who_leads_a_crew_keeps_the_shoes_of_the_whole_shop(town):
    (shop,) = town.do("fred", bench_of).shops

    assert shop.may_keep
    assert town.do("fred", shop_of_staff, town.shop) == shop


def test_the_bench_is_closed_while_a_question_of_a_proof_run_is_open(any_town):
    problem = issue_proof(any_town, "lena")

    assert any_town.do("lena", bench_of).closed
    assert not any_town.do("leo", bench_of).closed
    any_town.answer("lena", problem)
    assert not any_town.do("lena", bench_of).closed


def test_other_open_problems_close_nothing(town):
    town.practise("lena", "one-too-many")
    with town.database.write() as session:
        practice.issue(session, town.library, town.ids["lena"], family_id="straps-run", now=town.now, edition="2023")

    assert not town.do("lena", bench_of).closed
