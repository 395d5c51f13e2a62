"""Hours on the job: entered, confirmed, sent back, taken back; who may; how they are read from a form."""

from __future__ import annotations

from datetime import timedelta

import pytest

from trainer.accounts.access import NotAllowedError, NotFoundError
from trainer.accounts.audit import lines_about
from trainer.accounts.people import delete_person
from trainer.calc.message import InputError
from trainer.groups.hours import crew_hours, decide, enter, own_hours, take_back
from trainer.groups.processes import ready_made
from trainer.groups.quarters import read_quarters, write_hours


@pytest.fixture
def in_crew(any_town):
    any_town.join(any_town.crew, "lena", "leo")
    return any_town


def entered(town, who="lena", group=None, days_back=0, **wanted):
    day = (town.now - timedelta(days=days_back)).date().isoformat()
    wanted = {"day": day, "process": "bending", "hours": "5.5", "note": "Offsets.", "now": town.now} | wanted
    return town.do(who, enter, group or town.crew, **wanted)


def own(town, who="lena"):
    return town.do(who, own_hours)


def noted(town, who="lena"):
    with town.database.read() as session:
        return [line.what for line in lines_about(session, town.ids[who])]


def test_entered_they_wait_until_the_foreman_confirms_them(in_crew):
    entry = entered(in_crew)
    (found,) = own(in_crew)
    assert (found.quarters, found.process_title, found.decision) == (22, "Bending by hand", "")

    in_crew.do("fred", decide, in_crew.crew, entry, confirm=True, now=in_crew.now)
    (found,) = own(in_crew)
    assert (found.decision, found.decided_by) == ("confirmed", "Fred")
    assert "hours.confirmed" in noted(in_crew)


def test_sent_back_they_say_why_and_confirmed_after_all_they_say_no_more(in_crew):
    entry = entered(in_crew)
    in_crew.do("otto", decide, in_crew.crew, entry, confirm=False, reason="That was Thursday.", now=in_crew.now)
    assert (own(in_crew)[0].decision, own(in_crew)[0].reason) == ("sent-back", "That was Thursday.")

    in_crew.do("fred", decide, in_crew.crew, entry, confirm=True, now=in_crew.now)
    assert (own(in_crew)[0].decision, own(in_crew)[0].reason) == ("confirmed", "")
    assert [what for what in noted(in_crew) if what.startswith("hours.")] == ["hours.confirmed", "hours.sent-back"]


def test_deleting_the_account_takes_the_reason_and_leaves_the_hours(in_crew):
    entry = entered(in_crew)
    in_crew.do("fred", decide, in_crew.crew, entry, confirm=False, reason="Lena was ill.", now=in_crew.now)
    entered(in_crew, days_back=1)
    with in_crew.database.write() as session:
        delete_person(session, in_crew.ids["lena"], in_crew.now)

    sent_back, waiting = in_crew.do("fred", crew_hours, in_crew.crew, in_crew.now).entries
    assert (sent_back.quarters, sent_back.decision, sent_back.reason, sent_back.note) == (22, "sent-back", "–", "")
    assert (waiting.quarters, waiting.reason) == (22, "")


def test_without_a_reason_nothing_is_sent_back(in_crew):
    entry = entered(in_crew)

    with pytest.raises(InputError) as refused:
        in_crew.do("fred", decide, in_crew.crew, entry, confirm=False, reason=" ", now=in_crew.now)
    assert refused.value.field == "reason"


def test_nobody_decides_on_his_own_hours(in_crew):
    in_crew.join(in_crew.crew, "otto")
    entry = entered(in_crew, who="otto")

    with pytest.raises(NotAllowedError) as refused:
        in_crew.do("otto", decide, in_crew.crew, entry, confirm=True, now=in_crew.now)
    assert refused.value.reason.id == "hours.oneself"
    in_crew.do("fred", decide, in_crew.crew, entry, confirm=True, now=in_crew.now)


def test_others_neither_decide_nor_look(in_crew):
    entry = entered(in_crew)
    with pytest.raises(NotAllowedError):
        in_crew.do("leo", decide, in_crew.crew, entry, confirm=True, now=in_crew.now)
    for stranger in ("ines", "ada", "stranger"):
        with pytest.raises(NotFoundError):
            in_crew.do(stranger, decide, in_crew.crew, entry, confirm=True, now=in_crew.now)
        with pytest.raises(NotFoundError):
            in_crew.do(stranger, crew_hours, in_crew.crew, in_crew.now)
    with pytest.raises(NotFoundError):
        in_crew.do("ines", decide, in_crew.class_, entry, confirm=True, now=in_crew.now)


def test_taken_back_they_are_gone_and_confirmed_ones_stay(in_crew):
    first, second = entered(in_crew), entered(in_crew, hours="2")
    in_crew.do("fred", decide, in_crew.crew, first, confirm=True, now=in_crew.now)
    with pytest.raises(NotAllowedError):
        in_crew.do("lena", take_back, first, in_crew.now)
    with pytest.raises(NotFoundError):
        in_crew.do("leo", take_back, second, in_crew.now)
    in_crew.do("lena", take_back, second, in_crew.now)

    assert [one.public_id for one in own(in_crew)] == [first]
    with pytest.raises(NotFoundError):
        in_crew.do("lena", take_back, second, in_crew.now)


def test_a_day_has_24_hours(in_crew):
    entered(in_crew, hours="20")

    with pytest.raises(InputError) as refused:
        entered(in_crew, hours="4.25", process="cutting")
    assert refused.value.reason.id == "hours.day-full"
    entered(in_crew, hours="4", process="cutting")
    entered(in_crew, hours="4", days_back=1)


def test_hours_belong_to_a_crew_and_to_its_people(in_crew):
    in_crew.join(in_crew.class_, "lena")
    with pytest.raises(NotFoundError):
        entered(in_crew, group=in_crew.class_)
    with pytest.raises(NotFoundError):
        entered(in_crew, who="stranger")


@pytest.mark.parametrize(
    ("field", "given", "reason"),
    [
        ("day", "yesterday", "hours.day-unread"),
        ("day", "2026-09-08", "hours.day-ahead"),
        ("day", "2025-09-05", "hours.day-past"),
        ("process", "napping", "hours.process"),
        ("hours", "five", "hours.not-a-number"),
        ("hours", "", "hours.range"),
        ("hours", "1/0", "hours.not-a-number"),
        ("hours", "5.1", "hours.not-quarters"),
        ("hours", "24.25", "hours.range"),
        ("hours", "-2", "hours.range"),
        ("note", "x" * 201, "groups.line-long"),
    ],
)
def test_what_cannot_be_taken_is_refused_with_its_field(in_crew, field, given, reason):
    with pytest.raises(InputError) as refused:
        entered(in_crew, **{field: given})

    on_the_form = "work_process" if field == "process" else field
    assert (refused.value.field, refused.value.reason.id) == (on_the_form, reason)


def test_the_foreman_sees_his_crews_hours_and_the_look_is_noted(in_crew):
    entered(in_crew)
    entered(in_crew, who="leo", days_back=1)

    found = in_crew.do("fred", crew_hours, in_crew.crew, in_crew.now)
    assert [one.person for one in found.entries] == ["Lena", "Leo"]
    assert "looked.hours" in noted(in_crew)


@pytest.mark.parametrize(("text", "quarters"), [("8", 32), ("0.25", 1), (" 7 3/4 ", 31), ("24", 96)])
def test_hours_are_read_in_quarters(text, quarters):
    assert read_quarters(text) == quarters


def test_hours_are_written_without_needless_noughts():
    assert [write_hours(one) for one in (1, 2, 4, 40)] == ["0.25", "0.5", "1", "10"]


def test_the_work_processes_have_names_that_fit():
    assert len(ready_made()) >= 10
    assert all(len(one.key) <= 40 and 1 <= len(one.title) <= 80 for one in ready_made())
