"""Days and times as a page writes them, in the time zone of the reader's organisation."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from trainer.accounts.actor import Actor
from trainer.web.language import Later, gettext, ngettext

__all__ = ["calendar_day", "day", "moment", "span", "zone_of"]

MONTHS = (
    Later("Jan"),
    Later("Feb"),
    Later("Mar"),
    Later("Apr"),
    Later("May"),
    Later("Jun"),
    Later("Jul"),
    Later("Aug"),
    Later("Sep"),
    Later("Oct"),
    Later("Nov"),
    Later("Dec"),
)
WEEKDAYS = (
    Later("Mon"),
    Later("Tue"),
    Later("Wed"),
    Later("Thu"),
    Later("Fri"),
    Later("Sat"),
    Later("Sun"),
)


def zone_of(actor: Actor | None) -> ZoneInfo:
    """The zone of the organisation that a person belongs to, of the first where there are several; UTC without one."""
    return ZoneInfo(actor.memberships[0].time_zone if actor and actor.memberships else "UTC")


def day(at: datetime, zone: ZoneInfo) -> str:
    """
    A date.

    >>> day(datetime.fromisoformat("2026-11-25T02:00:00+00:00"), ZoneInfo("America/Chicago"))
    'Tue, Nov 24, 2026'
    """
    local = at.astimezone(zone)
    parts = {"weekday": WEEKDAYS[local.weekday()], "month": MONTHS[local.month - 1], "day": local.day}
    return gettext("%(weekday)s, %(month)s %(day)d, %(year)d") % (parts | {"year": local.year})


def calendar_day(on: date) -> str:
    """
    A day that somebody named, whatever the zone.

    >>> calendar_day(date(2026, 11, 24))
    'Tue, Nov 24, 2026'
    """
    utc = ZoneInfo("UTC")
    return day(datetime.combine(on, time(), utc), utc)


def moment(at: datetime, zone: ZoneInfo) -> str:
    """
    A date with the time of day; with the zone's name where that is UTC, which is nobody's clock on the wall.

    >>> moment(datetime.fromisoformat("2026-11-25T02:05:00+00:00"), ZoneInfo("America/Chicago"))
    'Tue, Nov 24, 2026, 8:05 pm'
    >>> moment(datetime.fromisoformat("2026-11-25T00:05:00+00:00"), ZoneInfo("UTC"))
    'Wed, Nov 25, 2026, 12:05 am UTC'
    """
    local = at.astimezone(zone)
    half = gettext("am") if local.hour < 12 else gettext("pm")
    mark = " UTC" if zone.key == "UTC" else ""
    return f"{day(at, zone)}, {local.hour % 12 or 12}:{local.minute:02} {half}{mark}"


def span(length: timedelta) -> str:
    """
    How long something lasts, in whole years, days or hours.

    >>> span(timedelta(days=14)), span(timedelta(hours=36)), span(timedelta(days=3 * 365)), span(timedelta(days=1))
    ('14 days', '36 hours', '3 years', '1 day')
    """
    hours = length // timedelta(hours=1)
    days = hours // 24
    if hours % 24:
        return ngettext("%(num)d hour", "%(num)d hours", hours) % {"num": hours}
    if days % 365:
        return ngettext("%(num)d day", "%(num)d days", days) % {"num": days}
    years = days // 365
    return ngettext("%(num)d year", "%(num)d years", years) % {"num": years}
