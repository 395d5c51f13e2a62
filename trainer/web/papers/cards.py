"""
Cards for a bench night: a cover that counts sticks, then a card for each open check, to be filled in by hand.

A card holds the learner's own numbers and no mark that the core worked out: those are the learner's to find.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterator
from zoneinfo import ZoneInfo

from flask import url_for

from trainer.accounts.actor import Actor
from trainer.calc.cautions import cautions_for
from trainer.groups.bench_night import BenchNight, Sticks
from trainer.paper import (
    Blanks,
    Block,
    Cautions,
    Column,
    Document,
    Facts,
    Heading,
    NewPage,
    Prose,
    Signature,
    Table,
    Together,
    Words,
)
from trainer.problems.codes import new_code, spoken_code
from trainer.problems.hands_on import KINDS, pictured
from trainer.progress.hands_on import Check
from trainer.text.words import say
from trainer.web.language import gettext, language, ngettext
from trainer.web.measured import asked_before, inches
from trainer.web.moments import day, zone_of
from trainer.web.papers.readable import readable_code
from trainer.web.papers.sheet import document, figure
from trainer.web.transactions import now

__all__ = ["card_code", "cards_paper"]


def cards_paper(night: BenchNight, reader: Actor) -> Document:
    """The cover and the cards of what is open at the benches."""
    title = gettext("Bench night: %(group)s") % {"group": night.group.name}
    below = f"{night.group.organisation.name}, {day(now(), zone_of(reader))}"
    blocks = [*_cover(night), *(block for one in night.open for block in _card(one, night))]
    return document(title, below, blocks, reader)


def card_code(public_id: str) -> str:
    """
    Eight signs by which people tell a card: always the same ones for a check.

    >>> card_code("any-check") == card_code("any-check") != card_code("another")
    True
    """
    return spoken_code(new_code(random.Random(public_id).choice))


def _cover(night: BenchNight) -> Iterator[Block]:
    if not night.open:
        yield Words(gettext("No check is open. Set checks first; each learner's card then follows this page."))
        return
    yield Heading(gettext("Tube for the evening"))
    yield Facts(tuple((_size(one.trade_size), _count(one)) for one in night.sticks))
    heads = (
        Column(gettext("Size"), 0.8),
        Column(gettext("Sticks"), 0.5, is_number=True),
        Column(gettext("Cut from each"), 4),
    )
    yield Table(heads, tuple(row for one in night.sticks for row in _cuts(one)))
    yield Heading(gettext("Cards"))
    columns = (
        Column(gettext("Name"), 1.6),
        Column(gettext("Check"), 2),
        Column(gettext("Size"), 0.8),
        Column(gettext("Card")),
    )
    rows = tuple(
        (one.display_name, one.sheet.title, _size(one.sheet.trade_size), card_code(one.public_id)) for one in night.open
    )
    yield Table(columns, rows)
    yield Cautions(gettext("Before anybody begins"), tuple(say(one, language()) for one in cautions_for("")))


def _count(sticks: Sticks) -> str:
    return ngettext("%(num)d new stick", "%(num)d new sticks", sticks.count) % {"num": sticks.count}


def _cuts(sticks: Sticks) -> Iterator[tuple[str, ...]]:
    """How many sticks are cut alike, and into what."""
    for pieces, count in Counter(sticks.cuts).items():
        yield (_size(sticks.trade_size), str(count), ", ".join(inches(piece) for piece in pieces))


def _card(check: Check, night: BenchNight) -> Iterator[Block]:
    sheet = check.sheet
    yield NewPage()
    yield Heading(f"{check.display_name}: {sheet.title}")
    address = url_for("hands_on.to_sign", group_id=night.group.public_id, check_id=check.public_id, _external=True)
    yield Facts(
        (
            (gettext("Card"), card_code(check.public_id)),
            (gettext("Size"), _size(sheet.trade_size)),
            (gettext("Bender"), sheet.bender or gettext("usual hand bender")),
            (gettext("Set"), day(check.issued_at, ZoneInfo(check.time_zone))),
            (gettext("To sign"), gettext("whoever leads opens the page with a phone's camera")),
        ),
        code=readable_code(address, gettext("Code that leads to the page where this check is signed")),
    )
    kind = KINDS.get(sheet.kind)
    if kind is not None:
        yield Cautions(gettext("Caution"), tuple(say(one, language()) for one in kind.cautions))
    yield Prose(sheet.text)
    drawn = pictured(sheet, language=language(), key=check.public_id)
    if drawn:
        yield figure(drawn, share=0.72)
    if sheet.marks:
        yield Together((Heading(gettext("My marks"), 2), Blanks(tuple((one.say, "") for one in sheet.marks))))
    came_out = Blanks(tuple((one.label, asked_before(one)) for one in sheet.measured))
    signed = Signature((gettext("Learner"), gettext("Measured by"), gettext("Day")))
    yield Together(
        (Heading(gettext("Came out, card %(code)s") % {"code": card_code(check.public_id)}, 2), came_out, signed)
    )


def _size(trade_size: str) -> str:
    return gettext("%(size)s EMT") % {"size": trade_size}
