"""Due dates as a calendar file (RFC 5545, iCalendar), which calendar programs fetch by themselves."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING

from msgspec import Struct

if TYPE_CHECKING:
    from icalendar import Event

__all__ = ["CalendarEvent", "calendar_file"]

PRODUCT = "-//Tubing Trainer//Due dates//EN"
#: How often a program should look again.
AGAIN_AFTER = timedelta(hours=4)


class CalendarEvent(Struct, frozen=True):
    """
    One due date.

    Args:
        uid: The same at each fetch, and nobody else's in the world.
        at: When it is due, in UTC; or only the day, where the hour says nothing.
        changed_at: When it was first written down, in UTC; a date that is moved keeps it.
        title: What it is.
        about: More about it.
        url: Where it is done.
    """

    uid: str
    at: datetime | date
    changed_at: datetime
    title: str
    about: str
    url: str


def calendar_file(name: str, events: Sequence[CalendarEvent]) -> bytes:
    """
    The file. The same events give the same bytes.

    Args:
        name: What a calendar program calls it.
        events: What stands in it.
    """
    from icalendar import Calendar  # noqa: PLC0415 - few fetch a calendar, and every start would wait for it

    calendar = Calendar()
    calendar.add("prodid", PRODUCT)
    calendar.add("version", "2.0")
    calendar.add("name", name)
    calendar.add("x-wr-calname", name)
    calendar.add("refresh-interval", AGAIN_AFTER, {"value": "DURATION"})
    for event in events:
        calendar.add_component(_written(event))
    return bytes(calendar.to_ical())


def _written(event: CalendarEvent) -> Event:
    from icalendar import Event  # noqa: PLC0415 - as above

    written = Event()
    written.add("uid", event.uid)
    written.add("dtstamp", event.changed_at)
    written.add("last-modified", event.changed_at)
    written.add("dtstart", event.at)
    written.add("summary", event.title)
    written.add("description", event.about)
    written.add("url", event.url)
    # A date to keep in sight, not an hour that is taken.
    written.add("transp", "TRANSPARENT")
    return written
