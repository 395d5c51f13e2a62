"""Places to choose on a drawn run: which sets of them are right, and which slip a set shows. The core says both."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import combinations

from trainer.calc.length import write_length
from trainer.calc.message import Message
from trainer.calc.strap_places import StrapPlaces
from trainer.calc.strap_run import StrapRun, letter
from trainer.problems.drawn import DrawnOption
from trainer.problems.misfit import Misfit
from trainer.problems.model import AnswerKind, Key, Problem
from trainer.problems.parts import KnownMistake

__all__ = ["accepted_places", "example_of", "place_keys", "place_mistakes", "place_options"]

#: Sets that a question may accept; with more of them the place hardly matters.
MOST_SETS = 12


def place_keys(run: StrapRun, result: StrapPlaces) -> tuple[Key, ...]:
    """
    The accepted sets, by the letters of their places.

    Raises:
        Misfit: When no strap is missing, every place is right, or too many sets are.
    """
    if not 0 < result.fewest < len(run.places):
        raise Misfit("no place to choose, or all of them")
    if result.layout_count > MOST_SETS:
        raise Misfit("too many sets of places are right")
    return tuple(Key(_ids(run, layout.positions)) for layout in result.layouts)


def place_options(run: StrapRun) -> tuple[DrawnOption, ...]:
    """Each place in its order along the run, with the core's words for it."""
    return tuple(_option(run, at, place) for at, place in enumerate(run.places))


def place_mistakes(run: StrapRun, fewest: int, mistakes: Iterable[KnownMistake]) -> tuple[tuple[str, str], ...]:
    """Id and slip of each known mistake that some set of these places shows."""
    shown = {slip for one in _sets(run, fewest) for slip in run.slips(one, fewest)}
    return tuple((one.id, one.shows) for one in mistakes if one.shows and one.shows in shown)


def example_of(problem: Problem, slip: str) -> tuple[str, ...]:
    """A set of places that shows a slip, one of the fewest straps if it can be; () where none does."""
    key, run = problem.keys[0].value, problem.run
    if run is None or not isinstance(key, tuple):
        return ()
    fewest = len(key)
    return next((_ids(run, one) for one in _sets(run, fewest) if slip in run.slips(one, fewest)), ())


def _sets(run: StrapRun, fewest: int) -> Iterator[tuple[float, ...]]:
    """Sets that a person might choose: of about as many places as it takes."""
    counts = (fewest, fewest - 1, fewest + 1)
    return (one for count in counts if count for one in combinations(run.places, count))


def accepted_places(problem: Problem) -> Iterator[str]:
    """Each accepted set of places as people read it, "A, C, E"; nothing for other kinds of answer."""
    if problem.kind is AnswerKind.PLACES:
        sets = (key.value for key in problem.keys)
        yield from (", ".join(one).upper() for one in sets if isinstance(one, tuple))


def _ids(run: StrapRun, places: Iterable[float]) -> tuple[str, ...]:
    return tuple(letter(run.places.index(place)).lower() for place in places)


def _option(run: StrapRun, at: int, place: float) -> DrawnOption:
    on_bend = any(bend.start < place < bend.end for bend in run.bends)
    nearest = min(run.ends, key=lambda end: abs(end - place))
    params = {
        "letter": letter(at),
        "place": write_length(place, feet=True),
        "away": write_length(abs(nearest - place), feet=True),
        "end": run.name(nearest),
    }
    why = Message("strap_places.place-on-bend" if on_bend else "strap_places.place-why", params)
    return DrawnOption(letter(at).lower(), (Message("strap_places.place", params), why))
