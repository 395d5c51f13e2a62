"""Which of the places that a run offers take its straps: every set that keeps the rule with the fewest. Inches."""

from __future__ import annotations

from itertools import combinations, pairwise

from msgspec import Struct

from trainer.calc.calculation import Calculation, Output
from trainer.calc.inputs import Input, Kind
from trainer.calc.length import write_length
from trainer.calc.message import Message, Quantity
from trainer.calc.strap_check import STRAP_CHECK, check_on_run
from trainer.calc.strap_run import StrapRun, letter
from trainer.calc.stretches import Stretch
from trainer.calc.tables import table
from trainer.calc.trace import note, steps

__all__ = ["STRAP_PLACES", "Layout", "StrapPlaces", "strap_places"]

_RULE = table("support")["emt"]
#: With more places than this looking at every set of them takes too long.
MOST_PLACES = 10
_FORGIVEN = 1e-6

RUN_LENGTH, TERMINATIONS, BENDS, MAX_SPACING, MAX_FROM_END = (
    STRAP_CHECK.input(name) for name in ("run_length", "terminations", "bends", "max_spacing", "max_from_end")
)
PLACES = Input("places", Kind.LENGTHS, "2 ft, 5 ft, 11 ft, 14 ft, 18 ft", "in", least=0)
STRAPS = Input("straps", Kind.LENGTHS, "2 ft", "in", optional=True, least=0)
COUPLINGS = Input("couplings", Kind.LENGTHS, "10 ft", "in", optional=True, least=0)
UPRIGHT = Input("upright", Kind.YES_NO, "no", optional=True)


class Layout(Struct, frozen=True):
    """
    A set of places.

    Args:
        positions: Where they are, from the start of the run [in].
        letters: Their letters.
    """

    positions: tuple[float, ...]
    letters: tuple[str, ...]

    def message(self) -> Message:
        """The letters as a sentence."""
        return Message("strap_places.letters", {"letters": self.letters})


class StrapPlaces(Struct, frozen=True):
    """
    The sets of places that keep the rule with the fewest straps.

    Args:
        fewest: How many straps are to be set at the least.
        layout_count: How many sets of so many places keep the rule.
        layouts: Each set.
    """

    fewest: int
    layout_count: int
    layouts: tuple[Layout, ...]


@steps()
def strap_places(
    run_length: float,
    places: tuple[float, ...],
    *,
    straps: tuple[float, ...] = (),
    terminations: tuple[float, ...] = (),
    bends: tuple[Stretch, ...] = (),
    couplings: tuple[float, ...] = (),
    upright: bool = False,
    max_spacing: float = _RULE["max_spacing"],
    max_from_end: float = _RULE["max_from_end"],
) -> StrapPlaces:
    """
    Look at every set of places, the smallest first, and keep those with which `strap_check` finds nothing wrong.

    Args:
        run_length: Along the tube from its first termination to its last [in], above 0.
        places: Where a strap could go, from the start of the run [in], at most 10; lettered in their order.
        straps: Straps that are there already and stay [in].
        terminations: Boxes, cabinets and conduit bodies between the two ends [in].
        bends: Where the tube is bent, from where to where [in]; no strap holds there.
        couplings: Where couplings are [in]: for the drawing; the rule does not ask.
        upright: Whether the run starts upward: for the drawing.
        max_spacing: The most between two straps [in].
        max_from_end: The most from a termination to its strap [in].

    Raises:
        InputError: When one lies outside its range or beyond the run, or no set of places keeps the rule.

    Source: every set tried with `strap_check` (NFPA 70-2023 358.30(A)).

    >>> strap_places(240, (24, 60, 132, 168, 216)).layouts
    (Layout(positions=(24, 132, 216), letters=('A', 'C', 'E')),)
    """
    UPRIGHT.check(upright)
    RUN_LENGTH.check(run_length)
    for given, value in ((PLACES, places), (STRAPS, straps), (COUPLINGS, couplings)):
        given.check(value)
        check_on_run(given, value, run_length)
    _check_number(places)
    places = tuple(sorted(set(places)))
    run = StrapRun(run_length, places, straps, terminations, bends, couplings, max_spacing, max_from_end)
    layouts = _layouts(run)
    if not layouts:
        raise PLACES.refuse(Message("strap_places.none"), PLACES.written(places[0]), Message("strap_places.accepted"))
    fewest = len(layouts[0].positions)
    note("fewest", "strap_check.rule", reach=_feet(max_from_end), apart=_feet(max_spacing))
    for end in run.ends:
        near = [letter(at) for at, place in enumerate(places) if abs(place - end) <= max_from_end + _FORGIVEN]
        which = "strap_places.within" if near else "strap_places.none-within"
        note("fewest", which, end=run.name(end), reach=_feet(max_from_end), places=near)
    if bends:
        note("fewest", "strap_places.no-bend")
    note("fewest", "strap_places.fewest", straps=Quantity(fewest, "straps"), count=len(layouts))
    for layout in layouts[:3]:
        stops = sorted({*run.ends, *layout.positions, *straps})
        gaps = [_feet(there - here) for here, there in pairwise(stops)]
        note("fewest", "strap_places.layout", letters=layout.letters, gaps=gaps)
    return StrapPlaces(fewest, len(layouts), layouts)


def _layouts(run: StrapRun) -> tuple[Layout, ...]:
    """The smallest sets that hold; none where even all places off the bends together do not."""
    usable = [place for place in run.places if not any(bend.start < place < bend.end for bend in run.bends)]
    if run.faults(usable):
        return ()
    for count in range(len(usable) + 1):
        if found := [one for one in combinations(usable, count) if not run.faults(one)]:
            return tuple(Layout(one, tuple(letter(run.places.index(place)) for place in one)) for one in found)
    return ()


def _check_number(places: tuple[float, ...]) -> None:
    if len(places) > MOST_PLACES:
        reason = Message("input.too-many-items", {"limit": MOST_PLACES})
        raise PLACES.refuse(reason, ", ".join(map(PLACES.written, places)), Message("strap_places.accepted"))


def _feet(inches: float) -> str:
    return write_length(inches, feet=True)


STRAP_PLACES = Calculation(
    name="strap_places",
    function=strap_places,
    inputs=(RUN_LENGTH, PLACES, STRAPS, TERMINATIONS, BENDS, COUPLINGS, UPRIGHT, MAX_SPACING, MAX_FROM_END),
    outputs=(Output("fewest", "straps"), Output("layout_count", "count"), Output("layouts")),
    sources=(*STRAP_CHECK.sources, "every set of places tried"),
    area="support",
    example_inputs={"run_length": "20 ft", "places": "2 ft, 5 ft, 11 ft, 14 ft, 18 ft"},
)
