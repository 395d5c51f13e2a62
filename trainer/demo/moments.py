"""What every invented moment needs, and the moments in the order of time."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from random import Random
from zoneinfo import ZoneInfo

from msgspec import Struct
from msgspec import field as struct_field
from sqlalchemy.orm import Session

from trainer.accounts.actor import Actor, actor_of_person
from trainer.library.shelf import Library

__all__ = ["Moment", "Scene", "live"]


class Scene(Struct, frozen=True):
    """
    What every moment needs.

    Args:
        session: A write session.
        library: The content.
        chance: All that is left to chance.
        edition: Edition of the rules.
        start: When it begins.
        practice_from: When everybody begins to practise.
        now: When it ends.
        zone: In which people's days are counted.
        practised: Answers that each person has given in each skill.
    """

    session: Session
    library: Library
    chance: Random
    edition: str
    start: datetime
    practice_from: datetime
    now: datetime
    zone: ZoneInfo
    practised: Counter[tuple[int, str]] = struct_field(default_factory=Counter)

    def who(self, person_id: int) -> Actor:
        """The person as signed in just now, with the roles that it has by now."""
        self.session.flush()
        return actor_of_person(self.session, person_id)

    def on(self, days_ago: int, hour: int, minute: int = 0) -> datetime:
        """A time of day [UTC] some days ago; later than 23 is the night after."""
        day = (self.now - timedelta(days=days_ago)).replace(hour=0, minute=0, second=0, microsecond=0)
        return day + timedelta(hours=hour, minutes=minute)


@dataclass(frozen=True, slots=True, order=True)
class Moment:
    """Something that one person does once; `number` keeps apart what happens at the same time."""

    at: datetime
    person_id: int
    number: int
    do: Callable[[datetime], object] = field(compare=False)


def live(scene: Scene, moments: list[Moment]) -> None:
    """Let what lies between the start and an hour ago happen, in the order of time."""
    for moment in sorted(moments):
        if scene.start < moment.at < scene.now - timedelta(hours=1):
            moment.do(moment.at)
