"""Calendar files, read again by a parser that shares nothing with what wrote them, and held to RFC 5545 line by line."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import vobject
from hypothesis import given
from hypothesis import strategies as st

from trainer.text.calendar_file import CalendarEvent, calendar_file

DUE = datetime(2026, 12, 1, 5, 59, tzinfo=UTC)
AWKWARD = "Offsets; saddles, and \\ back: «Kicks»\nsecond line 日本語"


def event(**more):
    values = {
        "uid": "due-1@x.invalid",
        "at": DUE,
        "changed_at": DUE - timedelta(days=3),
        "title": "Offsets",
        "about": "At home.",
    }
    return CalendarEvent(**values | {"url": "https://x.invalid/work/1"} | more)


def read(body):
    return vobject.readOne(body.decode("utf-8"))


def test_every_part_comes_back():
    calendar = read(
        calendar_file("Tubing Trainer", [event(title=AWKWARD, about="Until then."), event(uid="due-2@x.invalid")])
    )

    first, second = calendar.vevent_list
    assert (first.uid.value, second.uid.value) == ("due-1@x.invalid", "due-2@x.invalid")
    assert first.dtstart.value == DUE
    assert first.dtstamp.value == DUE - timedelta(days=3)
    assert first.summary.value == AWKWARD
    assert first.description.value == "Until then."
    assert first.url.value == "https://x.invalid/work/1"
    assert first.transp.value == "TRANSPARENT"
    assert calendar.version.value == "2.0"


def test_times_are_utc_and_lines_are_short_and_end_as_the_standard_says():
    body = calendar_file("Tubing Trainer", [event(title="Straps and supports of a long run, é" * 9)])

    assert b"DTSTART:20261201T055900Z\r\n" in body
    assert body.endswith(b"END:VCALENDAR\r\n")
    lines = body.split(b"\r\n")
    assert max(map(len, lines)) <= 75
    assert b"\n" not in b"".join(lines)
    for line in lines:
        line.decode("utf-8")


def test_a_day_without_an_hour_is_a_date():
    body = calendar_file("x", [event(at=DUE.date())])

    assert b"DTSTART;VALUE=DATE:20261201\r\n" in body
    assert read(body).vevent.dtstart.value == DUE.date()


def test_an_empty_calendar_is_one_too():
    assert read(calendar_file("Nothing is due", [])).contents.get("vevent") is None


def test_the_same_events_give_the_same_bytes():
    assert calendar_file("x", [event()]) == calendar_file("x", [event()])


#: Signs that a title can have: `trainer.groups.names` lets no invisible ones through.
TITLES = st.text(st.characters(codec="utf-8", exclude_categories=["C", "Zl", "Zp"]), min_size=1, max_size=120)


@given(TITLES)
def test_any_title_comes_back(title):
    assert read(calendar_file("x", [event(title=title)])).vevent.summary.value == title
