"""What the job showed in the demo: findings, hours on the job, who was there, and who looked at the board."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, datetime, timedelta
from functools import partial

from trainer.demo.bench import Place
from trainer.demo.moments import Moment, Scene
from trainer.groups.attendance import note_day
from trainer.groups.findings import report, withdraw
from trainer.groups.hours import crew_hours, decide, enter
from trainer.groups.ready_board import ready_board

__all__ = ["attended", "found", "looked", "worked"]

AFTER_WORK = 22
HOURS_DAYS = 14
#: Work of a day as it is entered: process, hours, a note.
DAYS: tuple[tuple[tuple[str, str, str], ...], ...] = (
    (("layout", "2", ""), ("bending", "5.5", "Offsets into the panels")),
    (("supports", "6", ""), ("safety", "1", "Talk at the gang box")),
    (("cutting", "3", ""), ("fittings", "4.5", "")),
    (("pulling", "7.5", "Home runs, east side"),),
    (("bending", "4", ""), ("boxes", "3.5", "")),
)
TOPICS = ("Reading the tape; square ends", "Offsets: spacing and shrink", "Straps and boxes", "Saddles over a pipe")
REASONS = ("That was Thursday.", "Half of that was travel.")


def found(
    scene: Scene,
    place: Place,
    group: str,
    person_id: int,
    finding: tuple[str, str, str, int],
    *,
    withdrawn: str = "",
) -> list[Moment]:
    """A finding (skill, kind, note, days ago) that the foreman reports, and withdraws an hour later where it says why."""
    skill, kind, note, days_ago = finding
    at = scene.on(days_ago, AFTER_WORK)
    reported: list[str] = []

    def tell(at: datetime) -> None:
        who, leader = scene.who(person_id).public_id, scene.who(place.leader)
        in_group = place.groups[group]
        reported.append(
            report(scene.session, scene.library, leader, in_group, who, skill=skill, kind=kind, note=note, now=at)
        )

    def take_back(at: datetime) -> None:
        for one in reported:
            leader = scene.who(place.leader)
            withdraw(scene.session, leader, place.groups[group], one, reason=withdrawn, now=at)

    moments = [Moment(at, place.leader, 5000 + days_ago, tell)]
    return [*moments, Moment(at + timedelta(hours=1), place.leader, 5000, take_back)] if withdrawn else moments


def worked(scene: Scene, place: Place, people: Mapping[int, str]) -> list[Moment]:
    """Hours of two weeks by key of the person and of the crew; last week's are confirmed, a few sent back, the rest open."""
    entries: list[tuple[str, str, bool]] = []

    def enter_day(person_id: int, group: str, nth: int, at: datetime) -> None:
        actor, day = scene.who(person_id), at.astimezone(scene.zone).date()
        for process, hours, note in DAYS[nth % len(DAYS)]:
            entry = enter(
                scene.session,
                actor,
                place.groups[group],
                day=day.isoformat(),
                process=process,
                hours=hours,
                note=note,
                now=at,
            )
            entries.append((group, entry, scene.now - at > timedelta(days=5)))

    def decide_all(at: datetime) -> None:
        leader = scene.who(place.leader)
        for nth, (group, entry, old) in enumerate(entries):
            back = nth % 17 == 16
            if old or back:
                reason = REASONS[nth % 2] if back else ""
                decide(scene.session, leader, place.groups[group], entry, confirm=not back, reason=reason, now=at)

    moments = []
    for days_ago in range(HOURS_DAYS, 0, -1):
        at = scene.on(days_ago, AFTER_WORK + 1)
        if at.astimezone(scene.zone).weekday() < 5:
            for nth, (person_id, group) in enumerate(people.items()):
                moments.append(Moment(at, person_id, 5200, partial(enter_day, person_id, group, nth + days_ago)))
    return [*moments, Moment(scene.now - timedelta(hours=6), place.leader, 5300, decide_all)]


def attended(scene: Scene, place: Place, people: Sequence[int]) -> list[Moment]:
    """The last four Tuesday nights of the class; each time somebody else was away."""

    def tick(nth: int, at: datetime) -> None:
        there = [scene.who(one).public_id for number, one in enumerate(people) if (number + nth) % 5]
        day = at.astimezone(scene.zone).date()
        note_day(
            scene.session,
            scene.who(place.leader),
            place.groups["class"],
            day=day.isoformat(),
            topic=TOPICS[nth],
            hours="2.5",
            there=there,
            now=at,
        )

    tuesdays = _tuesdays(scene.now.astimezone(scene.zone).date(), len(TOPICS))
    moments = []
    for nth, day in enumerate(tuesdays):
        at = datetime(day.year, day.month, day.day, 21, 30, tzinfo=scene.zone).astimezone(scene.now.tzinfo)
        moments.append(Moment(at, place.leader, 5400, partial(tick, nth)))
    return moments


def looked(scene: Scene, place: Place) -> list[Moment]:
    """The owner reads the boards of his crews and their hours, some days ago."""

    def look(at: datetime) -> None:
        owner = scene.who(place.owner)
        for group in place.groups.values():
            ready_board(scene.session, scene.library, owner, group, now=at)
            crew_hours(scene.session, owner, group, at)

    return [Moment(scene.on(days_ago, 15), place.owner, 5500, look) for days_ago in (7, 2)]


def _tuesdays(today: date, count: int) -> list[date]:
    """The last Tuesdays before today, the first one first."""
    last = today - timedelta(days=(today.weekday() - 1) % 7 or 7)
    return [last - timedelta(weeks=back) for back in range(count - 1, -1, -1)]
