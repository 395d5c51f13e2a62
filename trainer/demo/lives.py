"""Everything that happens in the demo, put together: who practises, shows, has signed, works and is told what."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from functools import partial

from trainer.demo.bench import Place, bench_night, checked, named, registered
from trainer.demo.cast import Extra
from trainer.demo.field import attended, found, looked, worked
from trainer.demo.moments import Moment, Scene
from trainer.demo.runs import placed, shown
from trainer.demo.weeks import Given, sittings
from trainer.groups.membership import set_sharing
from trainer.progress.watching import Watcher

__all__ = ["moments_of"]

SHOP_KINDS = ("cut-and-deburr", "strap-a-run", "offset", "stub-up")
#: What went wrong at the benches, by the order of those who came.
BENCHES = ((), ("depth",), (), ("burrs",), ("open",), ("open",))


def moments_of(
    scene: Scene, cast: Sequence[tuple[Extra, int]], given: Sequence[Given], school: Place, shop: Place
) -> list[Moment]:
    """
    All moments of the weeks.

    Args:
        scene: What it takes.
        cast: Each person with the key of the row.
        given: Assigned work of the class.
        school: The school.
        shop: The shop.
    """
    by_part = {extra.part.id: (extra, key) for extra, key in cast if extra.part.id}
    in_class = [key for extra, key in cast if extra.part.in_class]
    in_crew = {key: extra.part.crew for extra, key in cast if extra.part.crew}
    moments = [
        named(scene, shop, SHOP_KINDS, 2207, days=200),
        named(scene, school, ("offset", "stub-up"), 3114, days=24),
        bench_night(scene, school, dict(zip(in_class, BENCHES, strict=False)), "offset", "1/2"),
        *attended(scene, school, in_class),
        *worked(scene, shop, in_crew),
        *looked(scene, shop),
        *_shared(scene, cast, school, shop),
        *_findings(scene, shop, {part: key for part, (_, key) in by_part.items()}),
    ]
    for extra, key in cast:
        moments += sittings(scene, extra, key, given)
        moments += shown(scene, extra, key, _watcher(scene, extra, shop))
        moments += checked(scene, shop, extra, key)
    for part, days, by_owner in (("apprentice", 310, False), ("ready", 19, True), ("new", 360, True)):
        extra, key = by_part[part]
        moments.append(registered(scene, shop, extra.part.crew, extra, key, days=days, by_owner=by_owner))
    return moments + placed(scene, *by_part["new"])


def _findings(scene: Scene, shop: Place, people: Mapping[str, int]) -> list[Moment]:
    failed = ("supports.straps", "failed-inspection", "First strap past 3 ft of the panel, in two places.", 3)
    scrapped = ("bends.offset", "scrapped", "Three sticks of 3/4: bent on the wrong side of the mark.", 5)
    good = ("bends.offset", "good-work", "Six offsets into the panel, all in one plane.", 4)
    lean = ("bends.offset", "dog-leg", "One offset leans at the east door.", 6)
    return [
        *found(scene, shop, "garage", people["failed-inspection"], failed),
        *found(scene, shop, "garage", people["apprentice"], scrapped),
        *found(scene, shop, "garage", people["ready"], good),
        *found(
            scene, shop, "garage", people["fades-soon"], lean, withdrawn="It was there before; another shop bent it."
        ),
    ]


def _shared(scene: Scene, cast: Sequence[tuple[Extra, int]], school: Place, shop: Place) -> list[Moment]:
    """Some open to the class where they stand; one closes it to the crew."""
    moments = []
    for extra, key in cast:
        opens, closes = extra.part.id == "shows-class", extra.part.id == "keeps-closed"
        if not (opens or closes):
            continue
        group = school.groups["class"] if opens else shop.groups[extra.part.crew]
        change = partial(_share, scene, key, group, opens)
        moments.append(Moment(scene.on(20, 18), key, 6000, change))
    return moments


def _share(scene: Scene, key: int, group: str, shared: bool, at: datetime) -> None:
    set_sharing(scene.session, scene.who(key), group, "readiness", at, shared=shared)


def _watcher(scene: Scene, extra: Extra, shop: Place) -> Watcher | None:
    """The foreman, as the leader of the crew that the person is in."""
    crew = shop.groups.get(extra.part.crew)
    leads = scene.who(shop.leader).leads
    return next(
        (Watcher(shop.leader, one.group_id) for one in leads if one.group_id and one.group_public_id == crew), None
    )
