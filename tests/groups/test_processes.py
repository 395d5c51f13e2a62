"""Work processes of a shop: its owner's own list, what stays of it, and hours against what is asked for."""

from __future__ import annotations

from datetime import timedelta

import pytest
from sqlalchemy import text
from sqlalchemy.exc import OperationalError

from trainer.accounts.access import NotAllowedError, NotFoundError
from trainer.accounts.actor import actor_of_person
from trainer.calc.message import InputError
from trainer.groups.hours import crew_hours, decide, enter, own_hours
from trainer.groups.hours_log import hours_log, total_rows, totals
from trainer.groups.process_list import (
    MOST_PROCESSES,
    add_process,
    change_process,
    process_list,
    set_aside,
    take_up,
)
from trainer.groups.processes import Process, ready_made
from trainer.records.models import WorkProcess


@pytest.fixture
def in_crew(any_town):
    any_town.join(any_town.crew, "lena", "leo")
    return any_town


def listed(town):
    return town.do("otto", process_list, town.shop)


def add(town, title="Trenching", required="", who="otto"):
    town.do(who, add_process, town.shop, title=title, required=required, now=town.now)
    return listed(town).rows[-1].process


def change(town, key, **wanted):
    wanted = {"title": "Bending", "required": "600", "now": town.now} | wanted
    town.do("otto", change_process, town.shop, key, **wanted)


def entered(town, who="lena", days_back=0, **wanted):
    day = (town.now - timedelta(days=days_back)).date().isoformat()
    wanted = {"day": day, "process": "bending", "hours": "5.5", "note": "", "now": town.now} | wanted
    return town.do(who, enter, town.crew, **wanted)


def is_postgres(town):
    with town.database.read() as session:
        return session.get_bind().dialect.name == "postgresql"


def rows_kept(town):
    with town.database.read() as session:
        return session.query(WorkProcess).count()


def test_the_ready_made_list_is_the_start_and_nothing_is_kept_until_it_is_changed(in_crew):
    assert [row.process for row in listed(in_crew).rows] == list(ready_made())
    assert rows_kept(in_crew) == 0

    own = add(in_crew, " Trenching  and backfill ", "1,000")

    assert (own.title, own.required_hours) == ("Trenching and backfill", 1000)
    assert [row.process for row in listed(in_crew).rows] == [*ready_made(), own]
    assert listed(in_crew).required == 1000


def test_hours_follow_their_process_to_its_new_name_and_another_shop_keeps_its_own(in_crew):
    entered(in_crew)
    change(in_crew, "bending", title="Bending, all sizes")

    assert in_crew.do("lena", own_hours)[0].process_title == "Bending, all sizes"
    other = in_crew.organisation("Other shop", "shop", "ines", "owner")
    assert in_crew.do("ines", process_list, other).row("bending").process.title == "Bending by hand"


def test_one_that_was_used_is_closed_and_one_that_nobody_used_is_removed(in_crew):
    entered(in_crew)

    assert in_crew.do("otto", set_aside, in_crew.shop, "bending", in_crew.now) is True
    assert in_crew.do("otto", set_aside, in_crew.shop, "cutting", in_crew.now) is False

    bending = listed(in_crew).row("bending")
    assert (bending.process.is_closed, bending.is_used) == (True, True)
    with pytest.raises(NotFoundError):
        listed(in_crew).row("cutting")
    assert in_crew.do("lena", own_hours)[0].process_title == "Bending by hand"
    for key in ("bending", "cutting"):
        with pytest.raises(InputError) as refused:
            entered(in_crew, process=key)
        assert refused.value.field == "work_process"
    in_crew.do("otto", take_up, in_crew.shop, "bending", in_crew.now)
    entered(in_crew, hours="1")


def test_the_last_open_one_stays_whether_hours_were_entered_on_it_or_not(in_crew):
    entered(in_crew)
    for one in ready_made():
        if one.key != "bending":
            in_crew.do("otto", set_aside, in_crew.shop, one.key, in_crew.now)

    assert listed(in_crew).is_last("bending")
    with pytest.raises(NotAllowedError) as refused:
        in_crew.do("otto", set_aside, in_crew.shop, "bending", in_crew.now)
    assert refused.value.reason.id == "processes.last"
    own = add(in_crew)
    assert in_crew.do("otto", set_aside, in_crew.shop, "bending", in_crew.now) is True
    with pytest.raises(NotAllowedError):
        in_crew.do("otto", set_aside, in_crew.shop, own.key, in_crew.now)
    assert [row.process.key for row in listed(in_crew).rows] == ["bending", own.key]


def test_a_process_is_not_removed_while_hours_are_entered_on_it(in_crew):
    if not is_postgres(in_crew):
        pytest.skip("SQLite has one writer at a time")
    add(in_crew)
    with in_crew.database.write() as session:
        lena = actor_of_person(session, in_crew.ids["lena"])
        day = {"day": in_crew.now.date().isoformat(), "process": "bending", "hours": "5.5", "note": ""}
        enter(session, lena, in_crew.crew, **day, now=in_crew.now)
        with in_crew.database.write() as other:
            other.execute(text("SET LOCAL lock_timeout = '100ms'"))
            otto = actor_of_person(other, in_crew.ids["otto"])
            with pytest.raises(OperationalError, match="lock timeout"):
                set_aside(other, otto, in_crew.shop, "bending", in_crew.now)
            other.rollback()


def test_only_the_owner_edits(in_crew):
    for name, error in (("fred", NotAllowedError), ("lena", NotAllowedError), ("ines", NotFoundError)):
        with pytest.raises(error):
            add(in_crew, who=name)
        with pytest.raises(error):
            in_crew.do(name, set_aside, in_crew.shop, "bending", in_crew.now)
    for use_case in (set_aside, take_up):
        with pytest.raises(NotFoundError):
            in_crew.do("otto", use_case, in_crew.shop, "no-such", in_crew.now)


@pytest.mark.parametrize(
    ("field", "given", "reason"),
    [
        ("title", " ", "groups.line-empty"),
        ("title", "x" * 81, "groups.line-long"),
        ("title", "pulling WIRE", "processes.named-so"),
        ("required", "0", "processes.hours"),
        ("required", "20001", "processes.hours"),
        ("required", "6.5", "processes.hours"),
        ("required", "²", "processes.hours"),
    ],
)
def test_what_cannot_be_taken_is_refused_with_its_field(in_crew, field, given, reason):
    with pytest.raises(InputError) as refused:
        change(in_crew, "bending", **{field: given})

    assert (refused.value.field, refused.value.reason.id) == (field, reason)


def test_a_process_keeps_its_own_name_and_may_ask_for_nothing_again(in_crew):
    change(in_crew, "bending", title="Bending by hand", required="600")
    change(in_crew, "bending", title="BENDING by hand", required="")

    assert listed(in_crew).row("bending").process == Process("bending", "BENDING by hand")


def test_the_list_has_an_end(in_crew):
    for nth in range(MOST_PROCESSES - len(ready_made())):
        add(in_crew, f"Work {nth}")

    with pytest.raises(InputError) as refused:
        add(in_crew, "One more")
    assert refused.value.field == "title"


def test_hours_stand_against_what_is_asked_for_and_confirmed_ones_count(in_crew):
    change(in_crew, "bending", required="6")
    change(in_crew, "pulling", title="Pulling wire", required="40")
    first = entered(in_crew)
    entered(in_crew, days_back=1, hours="2")
    in_crew.do("fred", decide, in_crew.crew, first, confirm=True, now=in_crew.now)

    (shop,) = in_crew.with_library("lena", hours_log, in_crew.now).shops
    assert shop.organisation == "Corner shop"
    assert [(one.title, one.confirmed, one.waiting, one.required, one.missing) for one in shop.lines] == [
        ("Bending", 22, 8, 24, 2),
        ("Pulling wire", 0, 0, 160, 160),
    ]
    assert total_rows("Lena", shop.lines)[0] == ("Lena", "Bending", 5.5, 2, 0, 6, 0.5)
    found = in_crew.do("fred", crew_hours, in_crew.crew, in_crew.now)
    assert totals(found.entries, found.processes) == shop.lines


def test_more_than_was_asked_for_leaves_nothing_missing_and_a_closed_one_without_hours_is_not_listed(in_crew):
    change(in_crew, "bending", required="1")
    add(in_crew, "Trenching", "50")
    entry = entered(in_crew)
    in_crew.do("fred", decide, in_crew.crew, entry, confirm=True, now=in_crew.now)
    listed_then = [Process("bending", "Bending", 1), Process("own-1", "Trenching", 50, is_closed=True)]

    (line,) = totals(in_crew.do("lena", own_hours), listed_then)

    assert (line.required, line.missing) == (4, 0)


def test_hours_on_what_left_the_list_are_still_counted(in_crew):
    entered(in_crew)

    (line,) = totals(in_crew.do("lena", own_hours), [Process("cutting", "Cutting")])

    assert (line.title, line.waiting, line.required, line.missing) == ("Bending by hand", 22, None, None)
