"""The own record on paper, for somebody who has never seen this program: an employer, a school, the sponsor of a program."""

from __future__ import annotations

from collections.abc import Iterator
from zoneinfo import ZoneInfo

from trainer.calc.cautions import cautions_for
from trainer.groups.hours_log import ProcessTotal
from trainer.groups.own_record import DecidedRun, OwnRecord
from trainer.groups.quarters import write_hours
from trainer.paper import Block, Cautions, Column, Document, Facts, Heading, Table, Words
from trainer.progress.hands_on import Check, Signing
from trainer.text.words import say
from trainer.web.language import Later, gettext, language
from trainer.web.moments import calendar_day, day, zone_of
from trainer.web.papers.sheet import document
from trainer.web.recorded import below_title
from trainer.web.units import by_unit

__all__ = ["record_paper"]

OUTCOMES = {
    "ready": Later("Ready"),
    "not-yet": Later("Not yet"),
    "abandoned": Later("Given up"),
}
STATES = {
    "passed": Later("Passed"),
    "not-passed": Later("Not passed"),
    "disagreed": Later("Judges disagree: does not count"),
    "withdrawn": Later("Withdrawn: does not count"),
}
REGISTERED = {"registration": Later("Registration"), "licence": Later("License")}


def record_paper(found: OwnRecord) -> Document:
    """The record as a paper: how to read it first, then what counts most, then the rest."""
    name = found.actor.display_name
    blocks = [
        *_how_to_read(name),
        *_places(found),
        *_registrations(found),
        *_runs(found),
        *_checks(found),
        *_skills(found),
        *_findings(found),
        *_hours(found),
    ]
    title = gettext("Training record of %(person)s") % {"person": name}
    below = gettext("Work with electrical metallic tubing (EMT)")
    return document(title, below, blocks, found.actor)


def _how_to_read(name: str) -> Iterator[Block]:
    who = {"person": name}
    yield Words(
        gettext(
            "%(person)s took this out of a training program. It holds what the program has on record about %(person)s's "
            "own work. Whatever somebody else confirmed, signed or reported carries the name of that person."
        )
        % who
    )
    yield Words(
        gettext(
            "A proof run is a set of questions answered without hints or worked steps; only a run makes a skill ready. "
            "A hands-on check is done with tube and bender and measured by the person who signed it. Practice gives how "
            "many of ten new questions would likely be right on the first try, with the answers that this rests on."
        )
    )
    lines = [
        gettext(
            "This is no license and no registration. What somebody may do on a job, and under whose eyes, is settled by "
            "law and by whoever answers for the work."
        ),
        *(say(one, language()) for one in cautions_for("")[:1]),
    ]
    yield Cautions(gettext("Before you send anybody to work"), tuple(lines))


def _places(found: OwnRecord) -> Iterator[Block]:
    places = tuple((str(one.group_name), one.organisation_name) for one in found.actor.learns_in)
    if places:
        yield Heading(gettext("Class or crew at present"))
        yield Facts(places)


def _registrations(found: OwnRecord) -> Iterator[Block]:
    if not found.registrations:
        return
    yield Heading(gettext("Registrations and licenses, as entered"))
    rows = [
        (
            str(REGISTERED[one.what]),
            one.words,
            gettext("%(day)s (past)") % {"day": calendar_day(one.expires_on)}
            if one.over
            else calendar_day(one.expires_on),
            one.entered_by,
        )
        for one in found.registrations
    ]
    heads = (gettext("What"), gettext("State, class, number"), gettext("Last day"), gettext("Entered by"))
    yield Table(_columns(heads, (1, 2, 1.3, 1)), tuple(rows))


def _runs(found: OwnRecord) -> Iterator[Block]:
    yield Heading(gettext("Proof runs"))
    if not found.runs:
        yield Words(gettext("None was finished yet."))
        return
    heads = (gettext("Skill"), gettext("Outcome"), gettext("Questions"), gettext("Watched by"), gettext("Decided"))
    columns = _columns(heads, (2.2, 0.9, 0.9, 1.2, 1.4), numbers=(2,))
    yield Table(columns, tuple(_run(found, one) for one in found.runs))


def _run(found: OwnRecord, one: DecidedRun) -> tuple[str, ...]:
    watched = ", ".join(one.watched_by) or gettext("nobody")
    outcome = str(OUTCOMES.get(one.outcome, one.outcome))
    return (one.title, outcome, str(one.counted), watched, day(one.ended_at, zone_of(found.actor)))


def _checks(found: OwnRecord) -> Iterator[Block]:
    yield Heading(gettext("Hands-on checks"))
    if not found.checks:
        yield Words(gettext("None was signed yet."))
        return
    heads = (gettext("Check"), gettext("Size"), gettext("Result"), gettext("Signed by"))
    rows = tuple(_check(one) for one in found.checks)
    yield Table(_columns(heads, (1.6, 0.7, 1.2, 3)), rows)


def _check(one: Check) -> tuple[str, ...]:
    size = gettext("%(size)s EMT") % {"size": one.sheet.trade_size}
    return (one.sheet.title, size, str(STATES[one.state]), "; ".join(_signed(one, by) for by in one.signings))


def _signed(check: Check, by: Signing) -> str:
    words = gettext("%(name)s, %(license)s (last day %(last)s), on %(day)s")
    when = day(by.signed_at, ZoneInfo(check.time_zone))
    return words % {"name": by.signed_by, "license": by.licence, "last": calendar_day(by.expires_on), "day": when}


def _skills(found: OwnRecord) -> Iterator[Block]:
    yield Heading(gettext("Practice, skill by skill"))
    if not found.skills:
        yield Words(gettext("No answers yet."))
        return
    heads = (gettext("Unit"), gettext("Skill"), gettext("What the answers say"))
    rows = tuple(
        (unit, line.title, say(below_title(line), language()))
        for unit, lines in by_unit(found.skills)
        for line in lines
    )
    yield Table(_columns(heads, (0.9, 1.1, 3)), rows)


def _findings(found: OwnRecord) -> Iterator[Block]:
    yield Heading(gettext("Reported from the job"))
    if not found.findings:
        yield Words(gettext("Nothing was reported."))
        return
    heads = (gettext("What"), gettext("Skill"), gettext("Reported"), gettext("What it changed"))
    rows = tuple(
        (
            f"{say(one.kind.words, language())}: {one.note}",
            found.titles.get(one.skill, one.skill),
            f"{one.reported_by}, {one.group}, {day(one.reported_at, zone_of(found.actor))}",
            say(one.effect, language()),
        )
        for one in found.findings
    )
    yield Table(_columns(heads, (1.7, 1.1, 1.4, 1.7)), rows)


def _hours(found: OwnRecord) -> Iterator[Block]:
    hours = found.hours
    yield Heading(gettext("Hours"))
    yield Facts(
        (
            (gettext("On the job, confirmed by who leads the crew"), _as_hours(hours.confirmed)),
            (gettext("In class, noted by who leads it"), _as_hours(hours.in_class)),
            (gettext("Lessons read, each counted once"), gettext("%(minutes)d min") % {"minutes": hours.minutes_read}),
        )
    )
    heads = (
        gettext("Work process"),
        gettext("Confirmed"),
        gettext("Waiting"),
        gettext("Sent back"),
        gettext("Asked for"),
    )
    columns = _columns(heads, (3, 1, 1, 1, 1), numbers=(1, 2, 3, 4))
    for shop in hours.shops:
        yield Heading(shop.organisation, 2)
        yield Table(columns, tuple(_of_process(one) for one in shop.lines))
    yield Words(
        gettext(
            "Hours in hours and parts of an hour. What of them counts toward a registered apprenticeship "
            "(29 CFR part 29), the sponsor of the program decides."
        ),
        soft=True,
    )


def _of_process(one: ProcessTotal) -> tuple[str, ...]:
    counted = (write_hours(quarters) for quarters in (one.confirmed, one.waiting, one.sent_back))
    return (one.title, *counted, "–" if one.required is None else write_hours(one.required))


def _as_hours(quarters: int) -> str:
    return gettext("%(hours)s h") % {"hours": write_hours(quarters)}


def _columns(heads: tuple[str, ...], shares: tuple[float, ...], *, numbers: tuple[int, ...] = ()) -> tuple[Column, ...]:
    return tuple(
        Column(head, share, place in numbers) for place, (head, share) in enumerate(zip(heads, shares, strict=True))
    )
