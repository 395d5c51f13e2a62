"""Checks by hand in the demo: who is named to sign, what was signed, a bench night, registrations."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from datetime import datetime, timedelta
from functools import partial

from msgspec import Struct

from trainer.calc.length import write_length
from trainer.demo.cast import Extra
from trainer.demo.moments import Moment, Scene
from trainer.demo.parts import Signed
from trainer.groups.hands_on import set_checks
from trainer.groups.registrations import enter_for_member, enter_own
from trainer.groups.signers import name_signer
from trainer.groups.signing import led_check, sign
from trainer.problems.hands_on import Measure, Reading

__all__ = ["Place", "bench_night", "checked", "named", "registered"]

NOON = 17
CARD = "Journeyman, invented state, {number}"


class Place(Struct, frozen=True):
    """
    A school or shop in the demo.

    Args:
        organisation: Public id.
        owner: Key of its owner.
        leader: Key of the instructor or foreman.
        groups: Public ids of its classes and crews by their keys.
    """

    organisation: str
    owner: int
    leader: int
    groups: Mapping[str, str]


def named(scene: Scene, place: Place, kinds: Collection[str], number: int, *, days: int) -> Moment:
    """The owner names the instructor or foreman, whose licence runs out so many days from now."""
    last_day = (scene.now + timedelta(days=days)).date().isoformat()

    def name(at: datetime) -> None:
        signer = scene.who(place.leader).public_id
        name_signer(
            scene.session,
            scene.who(place.owner),
            place.organisation,
            person=signer,
            kinds=kinds,
            licence=CARD.format(number=number),
            expires_on=last_day,
            now=at,
        )

    return Moment(scene.start + timedelta(minutes=20), place.owner, 4000 + number, name)


def registered(
    scene: Scene, place: Place, group: str, extra: Extra, person_id: int, *, days: int, by_owner: bool
) -> Moment:
    """A registration that runs out so many days from now, entered by the owner who has read the card, or by oneself."""
    words = f"Apprentice registration, invented state, {7000 + person_id}"
    typed = {
        "what": "registration",
        "words": words,
        "expires_on": (scene.now + timedelta(days=days)).date().isoformat(),
    }

    def enter(at: datetime) -> None:
        actor = scene.who(person_id)
        if by_owner:
            owner = scene.who(place.owner)
            enter_for_member(scene.session, owner, place.groups[group], actor.public_id, now=at, **typed)
        else:
            enter_own(scene.session, actor, now=at, **typed)

    days_ago = max(1, extra.part.joined_days_ago - 1) if extra.part.joined_days_ago else 13
    return Moment(scene.on(days_ago, NOON), person_id, 4100, enter)


def checked(scene: Scene, place: Place, extra: Extra, person_id: int) -> list[Moment]:
    """The checks by hand that belong to a part, each size on its own sheet."""
    found = []
    for number, one in enumerate(extra.part.signed):
        for nth, size in enumerate(one.sizes):
            at = scene.on(one.days_ago, NOON, 20 * nth)
            do = partial(_Bench(scene, place, extra.part.crew).check, person_id, one, size)
            found.append(Moment(at, person_id, 4200 + 10 * number + nth, do))
    return found


def bench_night(scene: Scene, place: Place, people: Mapping[int, tuple[str, ...]], kind: str, size: str) -> Moment:
    """
    An evening at the benches three hours ago.

    Args:
        scene: The scene.
        place: The school.
        people: By key of the person, what was missed: ids of values and steps, or "open" for who did not get to it.
        kind: Kind of the check.
        size: Trade size.
    """
    bench = _Bench(scene, place, "class")

    def hold(at: datetime) -> None:
        for person_id, missed in people.items():
            at += timedelta(minutes=6)
            check = bench.set(person_id, kind, size, at)
            if "open" not in missed:
                bench.sign(check, at + timedelta(minutes=5), missed)

    return Moment(scene.now - timedelta(hours=3), place.leader, 4300, hold)


class _Bench(Struct, frozen=True):
    """Where a group's checks are set and signed by who leads it."""

    scene: Scene
    place: Place
    group: str

    def check(self, person_id: int, one: Signed, size: str, at: datetime) -> None:
        """Set a check and, where it belongs to the part, sign it."""
        check = self.set(person_id, one.kind, size, at)
        if one.signed:
            self.sign(check, at + timedelta(minutes=12))

    def set(self, person_id: int, kind: str, size: str, at: datetime) -> str:
        """Public id of the new check."""
        leader, people = self.scene.who(self.place.leader), [self.scene.who(person_id).public_id]
        group = self.place.groups[self.group]
        (made,) = set_checks(self.scene.session, leader, group, people=people, kind=kind, trade_size=size, now=at)
        return made

    def sign(self, check: str, at: datetime, missed: Collection[str] = ()) -> None:
        """Sign what was measured: near what is asked, past the limit where that was missed."""
        session, leader, group = self.scene.session, self.scene.who(self.place.leader), self.place.groups[self.group]
        sheet = led_check(session, leader, group, check, at).check.sheet
        measured = {one.id: self._reading(one, missed=one.id in missed) for one in sheet.measured}
        steps = {one.id: one.id not in missed for one in sheet.steps}
        sign(session, leader, group, check, measured=measured, steps=steps, now=at)

    def _reading(self, one: Measure, *, missed: bool) -> Reading:
        """What the tape or the level shows."""
        value = one.value
        if missed and one.rule == "near":
            value += 2 * one.limit
        elif missed:
            value *= 1.5 if one.rule == "most" else 0.5
        elif one.rule == "near" and one.unit == "in" and self.scene.chance.random() < 0.5:
            value -= one.limit / 2
        return Reading(write_length(value) if one.unit == "in" else f"{value:g}", value)
