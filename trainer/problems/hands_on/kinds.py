"""The kinds of hands-on checks, read from their files, each compiled once."""

from __future__ import annotations

from collections.abc import Mapping
from importlib.resources import files

from trainer.problems.hands_on.kind import Kind
from trainer.problems.held import Held

__all__ = ["KINDS"]

_HERE = files(__package__)


def _made(id_: str) -> Mapping[str, Kind]:
    # With the first kind that is wanted: the shapes of files are a tenth of a second to load, and no start needs them.
    from trainer.problems.hands_on.compiling import kind_of  # noqa: PLC0415

    kind = kind_of(_TEXTS[id_], _SHARED)
    if kind.id != id_:
        raise ValueError(f"{id_}.toml: id = {kind.id!r}, and not the file's name")
    return {id_: kind}


def _order(id_: str) -> int:
    """The kinds as they are learned; one that is not listed comes last."""
    return _LEARNED.index(id_) if id_ in _LEARNED else len(_LEARNED)


_LEARNED = (
    "cut-and-deburr",
    "connector-and-coupling",
    "strap-a-run",
    "stub-up",
    "back-to-back",
    "offset",
    "three-point-saddle",
    "four-bend-run",
    "wet-place-entry",
)

_SHARED = _HERE.joinpath("shared_steps.toml").read_text("utf-8")
_TEXTS = {
    file.name.removesuffix(".toml"): file.read_text("utf-8")
    for file in _HERE.joinpath("kinds").iterdir()
    if file.name.endswith(".toml")
}

#: Every kind by its id, which is the file's name, in the order in which they are learned; compiled when it is wanted.
KINDS: Mapping[str, Kind] = Held({id_: id_ for id_ in sorted(_TEXTS, key=lambda one: (_order(one), one))}, _made)
