"""Who was there: ticked, put right, noted for each person; and the log that it goes into."""

from __future__ import annotations

import csv
from datetime import date, timedelta

import pytest

from trainer.accounts.access import NotAllowedError, NotFoundError
from trainer.accounts.audit import lines_about
from trainer.calc.message import InputError
from trainer.groups.attendance import attendance_page, days_attended, note_day
from trainer.groups.hours import decide, enter
from trainer.groups.hours_log import as_csv, hours_log, log_csv, weeks_without
from trainer.groups.membership import leave
from trainer.progress.lessons import mark_read

LENA, LEO, OTTO = (f"public-{name}".ljust(22, "x") for name in ("lena", "leo", "otto"))


@pytest.fixture
def in_class(any_town):
    any_town.join(any_town.class_, "lena", "leo")
    return any_town


def noted(town, *there, who="ines", group=None, **wanted):
    wanted = {"day": town.now.date().isoformat(), "topic": "Offsets", "hours": "2.5"} | wanted
    return town.do(who, note_day, group or town.class_, there=there, now=town.now, **wanted)


def attended(town, name):
    with town.database.read() as session:
        return days_attended(session, town.ids[name])


def audit(town, name):
    with town.database.read() as session:
        return [line.what for line in lines_about(session, town.ids[name]) if line.what.startswith("attendance")]


def test_who_is_ticked_was_there_and_reads_so(in_class):
    noted(in_class, LENA)

    (day,) = attended(in_class, "lena")
    assert (day.topic, day.quarters, day.group, day.noted_by) == ("Offsets", 10, "Tuesday class", "Ines")
    assert attended(in_class, "leo") == ()
    assert (audit(in_class, "lena"), audit(in_class, "leo")) == (["attendance.noted"], [])


def test_a_list_is_put_right_and_each_change_is_noted(in_class):
    day = noted(in_class, LENA)
    in_class.after(hours=1)
    noted(in_class, LEO, public_id=day, hours="3")

    assert attended(in_class, "lena") == ()
    assert [one.quarters for one in attended(in_class, "leo")] == [12]
    assert audit(in_class, "lena") == ["attendance.removed", "attendance.noted"]
    (line,) = in_class.do("ines", attendance_page, in_class.class_).days
    assert [(one.display_name, one.there) for one in line.people] == [("Lena", False), ("Leo", True)]


def test_who_is_not_in_it_cannot_be_ticked_and_who_left_keeps_the_tick(in_class):
    day = noted(in_class, LENA, OTTO)
    assert attended(in_class, "otto") == ()

    in_class.do("lena", leave, in_class.class_, in_class.now)
    noted(in_class, LENA, LEO, public_id=day)
    noted(in_class, LENA, topic="Saddles")
    assert [one.topic for one in attended(in_class, "lena")] == ["Offsets"]


def test_nobody_ticks_himself(in_class):
    in_class.join(in_class.crew, "otto", "leo")
    noted(in_class, OTTO, LEO, who="otto", group=in_class.crew)

    assert attended(in_class, "otto") == ()
    assert len(attended(in_class, "leo")) == 1


def test_only_who_leads_it_keeps_the_list(in_class):
    with pytest.raises(NotAllowedError):
        noted(in_class, LENA, who="lena")
    with pytest.raises(NotFoundError):
        noted(in_class, LENA, who="fred")
    day = noted(in_class, LENA)
    with pytest.raises(NotFoundError):
        noted(in_class, LENA, who="fred", group=in_class.crew, public_id=day)


@pytest.mark.parametrize(("field", "given"), [("day", "soon"), ("topic", " "), ("hours", "2.1")])
def test_what_cannot_be_taken_is_refused_with_its_field(in_class, field, given):
    with pytest.raises(InputError) as refused:
        noted(in_class, LENA, **{field: given})

    assert refused.value.field == field


@pytest.fixture
def logged(in_class):
    in_class.join(in_class.crew, "lena")
    noted(in_class, LENA)
    with in_class.database.write() as session:
        for _ in range(2):
            mark_read(
                session, in_class.library, in_class.ids["lena"], next(iter(in_class.library.lessons)), in_class.now
            )
    more = {"day": in_class.now.date().isoformat(), "now": in_class.now}
    entry = in_class.do("lena", enter, in_class.crew, process="bending", hours="5.5", note="=2+3", **more)
    in_class.do("lena", enter, in_class.crew, process="bending", hours="2", note="", **more)
    in_class.do("fred", decide, in_class.crew, entry, confirm=True, now=in_class.now)
    return in_class


def test_the_log_adds_up_job_class_and_lessons(logged):
    found = logged.with_library("lena", hours_log, logged.now + timedelta(days=15))

    assert [(one.title, one.confirmed, one.waiting) for shop in found.shops for one in shop.lines] == [
        ("Bending by hand", 22, 8)
    ]
    assert (found.confirmed, found.in_class) == (22, 10)
    assert found.minutes_read == next(iter(logged.library.lessons.values())).minutes > 0
    assert found.gaps == (date(2026, 9, 14),)


def test_the_csv_has_it_all_and_no_cell_is_worked_out(logged):
    text = log_csv(logged.with_library("lena", hours_log, logged.now), "Lena")

    rows = list(csv.DictReader(text.splitlines()))
    assert [row["kind"] for row in rows] == ["job", "job", "class", "lesson"]
    assert {(row["hours"], row["state"], row["note"]) for row in rows[:2]} == {
        ("5.5", "confirmed", "'=2+3"),
        ("2", "waiting", ""),
    }
    assert (rows[2]["what"], rows[2]["hours"], rows[2]["by"]) == ("Offsets", "2.5", "Ines")


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t", "\r"])
def test_a_cell_that_begins_like_a_formula_gets_an_apostrophe(start):
    cell = f"{start}1"

    assert list(csv.reader(as_csv([(cell, "a=b")]).splitlines(keepends=True)))[1][0].startswith("'")
    assert "a=b" in as_csv([(cell, "a=b")])


def test_weeks_without_an_entry_are_those_between_the_first_and_this_one():
    assert weeks_without([], date(2026, 9, 30)) == ()
    assert weeks_without([date(2026, 9, 28)], date(2026, 9, 30)) == ()
    assert weeks_without([date(2026, 9, 13)], date(2026, 9, 30)) == (date(2026, 9, 21), date(2026, 9, 14))
