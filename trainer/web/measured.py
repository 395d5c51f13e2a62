"""Measured values of hands-on checks in words: what is asked, and what came out."""

from __future__ import annotations

from datetime import UTC, date, datetime, time
from zoneinfo import ZoneInfo

from trainer.calc.message import Quantity
from trainer.problems.hands_on import Measure, Reading
from trainer.text.formats import quantity
from trainer.web import moments
from trainer.web.language import gettext, language

__all__ = ["as_measured", "asked_before", "inches", "last_day", "wanted"]


def wanted(measure: Measure) -> str:
    """What is asked of a measured value: "6-1/2 in, give or take 1/8 in"."""
    value = quantity(Quantity(measure.value, measure.unit), language())
    if measure.rule == "near":
        limit = quantity(Quantity(measure.limit, measure.unit), language())
        return gettext("%(value)s, give or take %(limit)s") % {"value": value, "limit": limit}
    if measure.rule == "most":
        return gettext("at most %(value)s") % {"value": value}
    return gettext("at least %(value)s") % {"value": value}


def asked_before(measure: Measure) -> str:
    """The same before it is signed: a count is the learner's to work out, and stands nowhere."""
    return gettext("what you work out") if measure.unit == "straps" else wanted(measure)


def as_measured(measure: Measure, reading: Reading) -> str:
    """The text as it was typed, with what it was read as where that is not the same."""
    read = quantity(Quantity(reading.value, measure.unit), language())
    return read if read.startswith(reading.typed) else f"{reading.typed} ({read})"


def inches(value: float) -> str:
    """A length as the tape shows it."""
    return quantity(Quantity(value, "in"), language())


def last_day(day: date) -> str:
    """The last day of a license, in words."""
    return moments.day(datetime.combine(day, time(12), UTC), ZoneInfo("UTC"))
