"""
What templates can use besides their own variables.

Globals: `asset(path)`, `reader()`, `places_of_reader()`, `first_caution()`, `site_name`, `_()`, `ngettext()`, `language_tag()`.
Filters: `say` (a Message in the reader's language), `quantity` (a Quantity), `markdown` (cleaned HTML), `arithmetic` (a
formula with the signs of a pencil), `worked_value` (a Step's result), `told_quantity` (an answer), `noted` (an audit line),
`calendar_day` (a date that somebody named), `day` and `moment` (a time in the reader's zone, or in the one named: `work.due_at | day(work.time_zone)`),
`span` (how long something lasts), `unbroken` (lengths kept on one line).
A name that is missing is an error, not an empty place.
"""

from __future__ import annotations

import re
from datetime import datetime
from zoneinfo import ZoneInfo

from flask import Flask
from jinja2 import StrictUndefined
from markupsafe import Markup

from trainer.accounts.audit import NotedLine
from trainer.calc.cautions import cautions_for
from trainer.calc.message import Message, Quantity
from trainer.calc.step import Step, write_number
from trainer.text import formats, markdown, words
from trainer.text.values import plain_names
from trainer.web import moments
from trainer.web.language import gettext, language
from trainer.web.navigation import places_of_reader
from trainer.web.provider import outside_label
from trainer.web.sessions import reader
from trainer.web.unbroken import unbroken

__all__ = ["arithmetic", "equip_templates", "told_quantity", "worked_value"]

SITE_NAME = "Tubing Trainer"
#: Below zero; the hyphen of a mixed fraction is another sign.
MINUS = "−"
#: An answer that is longer is said in feet too [in].
READ_IN_FEET = 120.0
#: Signs of a program and those of a pencil; a minus only where it stands between things or before one.
PENCIL = (
    (re.compile(r"\bpi\b"), "π"),
    (re.compile(r"\s*\*\*\s*2\b"), "²"),
    (re.compile(r"\s*\*\*\s*"), " ^ "),
    (re.compile(r"\s*\*\s*"), " × "),
    (re.compile(r"\s*/\s*"), " ÷ "),
    (re.compile(r"-(?=[\s\d(a-z])"), "−"),
)


def equip_templates(app: Flask) -> None:
    """Make a missing name an error, and give templates their globals and filters."""
    app.jinja_env.undefined = StrictUndefined
    app.jinja_env.trim_blocks = True
    app.jinja_env.lstrip_blocks = True
    app.jinja_env.add_extension("jinja2.ext.do")
    app.jinja_env.globals.update(
        reader=reader,
        outside_label=outside_label,
        places_of_reader=places_of_reader,
        site_name=SITE_NAME,
        first_caution=lambda: cautions_for("")[0],
    )
    app.jinja_env.filters.update(
        say=_say,
        quantity=_quantity,
        markdown=_markdown,
        arithmetic=arithmetic,
        worked_value=worked_value,
        told_quantity=told_quantity,
        noted=_noted,
        calendar_day=moments.calendar_day,
        day=_day,
        moment=_moment,
        span=moments.span,
        unbroken=unbroken,
        as_unit=lambda unit: formats.behind(unit).strip(),
    )


def arithmetic(formula: str) -> str:
    """
    A formula as one would write it down.

    >>> arithmetic("true_offset / sin(angle) - 2*shrink")
    'true offset ÷ sin(angle) − 2 × shrink'
    """
    for sign, written in PENCIL:
        formula = sign.sub(written, formula)
    return plain_names(formula)


def worked_value(step: Step) -> str:
    """
    The result of a step with its unit; a length that is no whole sixteenth in decimals and in sixteenths, an angle alike.

    >>> worked_value(Step("spacing", "", "", 12.0, "in")), worked_value(Step("spacing", "", "", 7.8394, "in"))
    ('12 in', '7.8394 in, about 7-13/16 in')
    """
    value = step.value or 0.0
    written = formats.quantity(Quantity(value, step.unit), language()).replace("-", MINUS, 1 if value < 0 else 0)
    number = write_number(value).replace("-", MINUS)
    if step.unit == "in" and abs(value * 16 - round(value * 16)) > 1e-6:
        return gettext("%(decimal)s in, about %(written)s") % {"decimal": number, "written": written}
    if step.unit == "deg" and not formats.is_plain_angle(value):
        return gettext("%(decimal)s°, about %(written)s") % {"decimal": number, "written": written}
    return written


def _say(message: Message) -> str:
    return words.say(message, language())


def _quantity(value: Quantity) -> str:
    return formats.quantity(value, language())


def told_quantity(quantity: Quantity) -> str:
    """
    An answer with its unit; a long length in feet too, as a tape shows it.

    >>> told_quantity(Quantity(38.375, "in")), told_quantity(Quantity(2748.0, "in"))
    ('38-3/8 in', '2748 in (229 ft)')
    """
    written = _quantity(quantity)
    if quantity.unit != "in" or quantity.value <= READ_IN_FEET:
        return written
    return f"{written} ({formats.FORMATS['feet'](quantity.value)})"


def _markdown(text: str) -> Markup:
    # Cleaned by trainer.text.markdown to a short list of tags without attributes that run anything.
    return Markup(markdown.to_html(text))  # noqa: S704


def _noted(line: NotedLine) -> str:
    """A line of what was noted, and who did it where that was somebody else."""
    what = Message(f"audit.{line.what}", {"group": line.group or "", **line.detail})
    by = line.actor if line.actor and not line.by_subject else None
    return gettext("%(what)s By %(name)s.") % {"what": _say(what), "name": by} if by else _say(what)


def _day(at: datetime, zone: str = "") -> Markup:
    return _time(at, moments.day(at, _zone(zone)))


def _moment(at: datetime, zone: str = "") -> Markup:
    return _time(at, moments.moment(at, _zone(zone)))


def _zone(zone: str) -> ZoneInfo:
    """The zone named, or the reader's own."""
    return ZoneInfo(zone) if zone else moments.zone_of(reader())


def _time(at: datetime, written: str) -> Markup:
    return Markup('<time datetime="{}">{}</time>').format(at.isoformat(timespec="seconds"), written)
