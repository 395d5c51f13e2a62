"""The parts that invented people play: where each of them learns, what each shows in proof runs, what is signed by hand."""

from __future__ import annotations

from msgspec import Struct

from trainer.demo.pretend import Pretend

__all__ = ["APPRENTICE", "OTHERS", "Part", "Shows", "Signed"]


class Shows(Struct, frozen=True):
    """
    A proof run: the skill is practised on one day, and the run goes over the days after it.

    Args:
        skill: Id of the skill.
        days_ago: The day of practice.
        watched: Whether the foreman sits beside it.
        ability: How well this person answers in it [logit].
        days: Days on which questions of it are answered at the most.
    """

    skill: str
    days_ago: int
    watched: bool = False
    ability: float = 4.5
    days: int = 4


class Signed(Struct, frozen=True):
    """A check by hand: its kind, the trade sizes, the day, and whether the foreman has signed it or it is still open."""

    kind: str
    sizes: tuple[str, ...]
    days_ago: int
    signed: bool = True


class Part(Struct, frozen=True):
    """
    What one invented person does in the weeks.

    Args:
        id: The part in a word; "" where nothing but practice belongs to it.
        in_class: Whether in the night class.
        crew: "garage" or "van" of the shop, "" for none.
        eager: Days a week on which this person sits down to practise.
        pretend: How this person answers.
        shows: Proof runs.
        signed: Checks by hand.
        joined_days_ago: When this person came into class and crew; 0 for the first day.
    """

    id: str
    in_class: bool
    crew: str
    eager: int
    pretend: Pretend
    shows: tuple[Shows, ...] = ()
    signed: tuple[Signed, ...] = ()
    joined_days_ago: int = 0


_BOTH = ("1/2", "3/4")
_LENGTHS, _ENDS, _STRAPS = "measuring.lengths", "cutting.ends", "supports.straps"
_OFFSET, _CONNECTORS = "bends.offset", "fittings.connectors"


def _first_week(days_ago: int) -> tuple[Signed, ...]:
    return (Signed("cut-and-deburr", _BOTH, days_ago), Signed("strap-a-run", _BOTH, days_ago - 2))


#: On the way: one run under way, one that ended without ready, one check open.
APPRENTICE = Part(
    "apprentice",
    True,
    "garage",
    3,
    Pretend(0.7, "no-shrink", {_OFFSET: 0.3}),
    shows=(
        Shows(_LENGTHS, 25),
        Shows(_CONNECTORS, 16, ability=-2.0, days=2),
        Shows(_STRAPS, 7),
        Shows(_ENDS, 2, days=1),
    ),
    signed=(
        Signed("cut-and-deburr", ("1/2",), 9),
        Signed("strap-a-run", _BOTH, 4),
        Signed("cut-and-deburr", ("3/4",), 1, signed=False),
    ),
)

OTHERS: tuple[Part, ...] = (
    Part("shows-class", True, "", 2, Pretend(1.3)),
    Part("", True, "", 2, Pretend(0.2, "no-shrink")),
    Part("shows-class", True, "", 2, Pretend(1.8)),
    Part("", True, "", 2, Pretend(-0.3, "shrink-subtracted")),
    Part("", True, "", 2, Pretend(0.6, "take-up-added")),
    Part("", True, "", 1, Pretend(0.0)),
    Part("", True, "", 2, Pretend(1.0, "shrink-subtracted")),
    Part("", True, "", 2, Pretend(0.5, "no-shrink")),
    # Ready for both jobs; has learned in the class as well.
    Part(
        "ready",
        True,
        "garage",
        2,
        Pretend(1.5, "", {_OFFSET: 0.6}),
        shows=(
            Shows(_LENGTHS, 26),
            Shows(_ENDS, 23),
            Shows(_STRAPS, 18, watched=True),
            Shows(_OFFSET, 13, watched=True),
            Shows(_CONNECTORS, 8, watched=True),
        ),
        signed=(*_first_week(21), Signed("offset", _BOTH, 10)),
    ),
    # Was ready; then an inspection failed.
    Part(
        "failed-inspection",
        False,
        "garage",
        0,
        Pretend(0.9),
        shows=(Shows(_STRAPS, 26), Shows(_LENGTHS, 22), Shows(_ENDS, 17)),
        signed=_first_week(14),
    ),
    # Was shown to be ready some eleven weeks ago, and has not opened the program since: due again soon.
    Part(
        "fades-soon",
        False,
        "garage",
        0,
        Pretend(0.4),
        shows=(Shows(_ENDS, 80), Shows(_STRAPS, 77), Shows(_LENGTHS, 70)),
        signed=_first_week(64),
    ),
    # Lacks one check only.
    Part(
        "one-check",
        False,
        "van",
        0,
        Pretend(0.8),
        shows=(Shows(_LENGTHS, 15), Shows(_STRAPS, 12), Shows(_ENDS, 10)),
        signed=(Signed("cut-and-deburr", _BOTH, 8), Signed("strap-a-run", ("1/2",), 6)),
    ),
    # Came two days ago and has been placed.
    Part("new", False, "van", 0, Pretend(0.3), joined_days_ago=3),
    # Practises, and does not show where it stands.
    Part("keeps-closed", False, "van", 1, Pretend(1.1)),
)
