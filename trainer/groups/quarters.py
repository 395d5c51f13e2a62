"""Hours in quarters of an hour, and days, as people type them into a log."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from fractions import Fraction
from zoneinfo import ZoneInfo

from trainer.calc.message import InputError, Message

__all__ = ["read_day", "read_quarters", "write_hours"]

MOST_QUARTERS = 96
#: A day further back is a slip of the finger.
FURTHEST_BACK = timedelta(days=366)


def read_quarters(text: str, *, field: str = "hours") -> int:
    """
    Quarters of an hour in a number of hours.

    Args:
        text: As typed: 5.5, 5 1/2, 0.25.
        field: Name of the form's field, for the error.

    Raises:
        InputError: When it is no number of quarter hours from 1/4 to 24.

    >>> read_quarters("5.5"), read_quarters("5 1/2"), read_quarters("0.25")
    (22, 22, 1)
    """
    try:
        hours = sum((Fraction(part) for part in text[:20].split()), Fraction(0))
    except (ValueError, ZeroDivisionError):
        raise _refused("hours.not-a-number", text, field) from None
    quarters = hours * 4
    if quarters.denominator != 1:
        raise _refused("hours.not-quarters", text, field)
    if not 1 <= quarters <= MOST_QUARTERS:
        raise _refused("hours.range", text, field)
    return int(quarters)


def write_hours(quarters: int) -> str:
    """
    Hours as a log writes them.

    >>> write_hours(22), write_hours(1), write_hours(32)
    ('5.5', '0.25', '8')
    """
    return f"{quarters / 4:.2f}".rstrip("0").rstrip(".")


def read_day(text: str, *, now: datetime, zone: ZoneInfo, field: str = "day") -> date:
    """
    A day of the past year, today included, in the calendar of a zone.

    Raises:
        InputError: When it is none, lies ahead, or more than a year back.
    """
    today = now.astimezone(zone).date()
    accepted, example = Message("hours.day-accepted"), today.isoformat()
    try:
        day = date.fromisoformat(text.strip()[:20])
    except ValueError:
        raise InputError(
            Message("hours.day-unread"), given=text[:20], accepted=accepted, example=example, field=field
        ) from None
    if not today - FURTHEST_BACK <= day <= today:
        reason = "hours.day-ahead" if day > today else "hours.day-past"
        raise InputError(Message(reason), given=text[:20], accepted=accepted, example=example, field=field)
    return day


def _refused(reason: str, text: str, field: str) -> InputError:
    return InputError(Message(reason), given=text[:20], accepted=Message("hours.accepted"), example="5.5", field=field)
