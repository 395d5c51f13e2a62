"""
Which connector belongs at a box: each fitting of the table judged, with the reason.

The listing, the marking and the maker's carton decide in the end; every reason that depends on a marking says so.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from msgspec import Struct

from trainer.calc.calculation import Calculation, Output
from trainer.calc.inputs import Input, Kind
from trainer.calc.message import Message, Quantity
from trainer.calc.tables import table
from trainer.calc.trace import note, steps

__all__ = ["FITTING_CHOICE", "FITTING_IDS", "FittingChoice", "JudgedFitting", "fitting_choice"]

_TABLE = table("fittings")
_FITTINGS: tuple[Mapping[str, Any], ...] = tuple(_TABLE["fitting"])

_JOINS: Mapping[str, str] = _TABLE["build"]["joins"]
_SLIDES_IN = frozenset(_TABLE["build"]["slides_in"])
_WEAK = frozenset(_TABLE["strength"]["weak"])

#: The fittings that are judged, in the table's order.
FITTING_IDS: tuple[str, ...] = tuple(fitting["id"] for fitting in _FITTINGS)

#: Two boxes nearer together than this leave no room for tube between two connectors [in].
_LEAST_SPACING = 2 * _TABLE["room"]["insertion"]
#: The largest step of a knockout that an offset connector is made for [in].
_LARGEST_STEP = _TABLE["knockout"]["step"][1]

PLACE = Input("place", Kind.CHOICE, "wet", choices=("dry", "damp", "wet", "concrete"))
ENDS = Input("ends", Kind.CHOICE, "free", optional=True, choices=("free", "fixed"))
KNOCKOUT_OFFSET = Input("knockout_offset", Kind.LENGTH, "3/8 in", "in", optional=True, least=0, most=12)
SPACING = Input("spacing", Kind.LENGTH, "1 in", "in", optional=True, least=0)
STRESS = Input("stress", Kind.CHOICE, "heavy", optional=True, choices=("light", "heavy"))
BOX_SIDE = Input("box_side", Kind.CHOICE, "sealed", optional=True, choices=("plain", "sealed", "hub"))
TURN = Input("turn", Kind.CHOICE, "straight", optional=True, choices=("straight", "right-angle"))


class JudgedFitting(Struct, frozen=True):
    """
    One fitting and why it suits or not.

    Args:
        fitting: Its id in the table; `message` names it.
        reason: The sentence that says why.
    """

    fitting: str
    reason: Message

    def name(self) -> Message:
        """What the fitting is called."""
        return Message(f"fitting.{self.fitting}")

    def message(self) -> Message:
        """The fitting with its reason as a sentence."""
        return Message("fitting.judged", {"fitting": self.name(), "reason": self.reason})


class FittingChoice(Struct, frozen=True):
    """
    All connectors, judged.

    Args:
        suitable: Those that a careful hand would take here.
        unsuitable: All others.
    """

    suitable: tuple[JudgedFitting, ...]
    unsuitable: tuple[JudgedFitting, ...]


class _Job(Struct, frozen=True):
    """Where the connector goes."""

    place: str
    ends: str
    knockout_offset: float
    spacing: float | None
    stress: str
    box_side: str | None
    turn: str

    @property
    def no_room(self) -> bool:
        """Whether the boxes are too near each other for tube."""
        return self.spacing is not None and self.spacing < _LEAST_SPACING


@steps()
def fitting_choice(
    place: str,
    ends: str = "free",
    *,
    knockout_offset: float = 0.0,
    spacing: float | None = None,
    stress: str = "light",
    box_side: str | None = None,
    turn: str = "straight",
) -> FittingChoice:
    """
    Judge every connector for one end of a piece of EMT at a box.

    Args:
        place: "dry", "damp", "wet" or "concrete" (cast in).
        ends: "fixed" where the piece goes between two boxes that stay where they are, so that no end slides in.
        knockout_offset: How far the knockout is out of the tube's line [in], 0 to 12.
        spacing: From box to box, where two stand near each other [in].
        stress: "heavy" where the run may be stepped on, knocked or pulled.
        box_side: Where the connector enters, if that is settled: a "plain" knockout, one "sealed" with gasket or
            sealing ring, or a threaded "hub".
        turn: "right-angle" where the run must turn sharply right at the box.

    Raises:
        InputError: When a word is no choice or a length lies outside its range.

    Source: places NFPA 70-2023 314.15, 358.42, UL 514B; how each is built and what it bears common practice.

    >>> [judged.fitting for judged in fitting_choice("wet").suitable]
    ['compression-wet']
    """
    job = _Job(place, ends, knockout_offset, spacing, stress, box_side, turn)
    for given in FITTING_CHOICE.inputs:
        given.check(getattr(job, given.name))
    left = list(_FITTINGS)
    unsuitable: list[JudgedFitting] = []
    for name, speaks_against in _CHECKS:
        judged = [JudgedFitting(fitting["id"], reason) for fitting in left if (reason := speaks_against(fitting, job))]
        out = {one.fitting for one in judged}
        left = [fitting for fitting in left if fitting["id"] not in out]
        unsuitable += judged
        note("suitable", f"fitting.step.{name}{'' if judged else '.none'}", out=[one.name() for one in judged])
    suitable = [JudgedFitting(fitting["id"], _for(fitting, job)) for fitting in left]
    return FittingChoice(tuple(suitable), tuple(unsuitable))


def _place(fitting: Mapping[str, Any], job: _Job) -> Message | None:
    if fitting["place"][job.place] == "no":
        return Message(f"fitting.place.{job.place}")
    if job.place == "wet" and job.box_side == "plain":
        return Message("fitting.box-side")
    return None


def _joint(fitting: Mapping[str, Any], job: _Job) -> Message | None:
    """Whether what it joins is what is there: tube running straight in, a step, a corner, or two boxes."""
    joins = _JOINS[fitting["id"]]
    if joins == "boxes":
        return None if job.no_room else Message("fitting.no-second-box", {"least": Quantity(_LEAST_SPACING, "in")})
    if job.no_room:
        return Message("fitting.no-room", {"least": Quantity(_LEAST_SPACING, "in")})
    if joins == "corner" and job.turn == "straight":
        return Message("fitting.no-corner")
    if joins != "corner" and job.turn == "right-angle":
        return Message("fitting.corner")
    return _step(job.knockout_offset) if joins == "step" else None


def _step(knockout_offset: float) -> Message | None:
    """Whether the knockout's step is one that an offset connector is made for."""
    if knockout_offset == 0:
        return Message("fitting.no-step")
    if knockout_offset > _LARGEST_STEP:
        return Message("fitting.step-too-large", {"most": Quantity(_LARGEST_STEP, "in")})
    return None


def _fit(fitting: Mapping[str, Any], job: _Job) -> Message | None:
    """Whether the tube gets into it."""
    if job.ends == "fixed" and fitting["id"] in _SLIDES_IN:
        return Message("fitting.cannot-slide")
    if fitting["id"] == "two-piece" and job.ends == "free":
        return Message("fitting.not-needed")
    return None


def _stress(fitting: Mapping[str, Any], job: _Job) -> Message | None:
    if job.stress == "heavy" and fitting["id"] in _WEAK:
        return Message(f"fitting.weak.{fitting['id']}")
    return None


#: What speaks against a fitting, in the order in which a careful hand looks.
_CHECKS: tuple[tuple[str, Callable[[Mapping[str, Any], _Job], Message | None]], ...] = (
    ("place", _place),
    ("joint", _joint),
    ("fit", _fit),
    ("stress", _stress),
)


def _for(fitting: Mapping[str, Any], job: _Job) -> Message:
    """Why it suits, with what still has to be looked at or done."""
    provisos = []
    if fitting["place"][job.place] == "marked":
        provisos.append(Message(f"fitting.if-marked.{job.place}"))
    if job.place == "wet" and job.box_side is None:
        provisos.append(Message("fitting.if-sealed"))
    if _JOINS[fitting["id"]] == "straight" and job.knockout_offset:
        provisos.append(Message("fitting.bend-the-step", {"step": Quantity(job.knockout_offset, "in")}))
    why = Message(f"fitting.why.{fitting['id']}")
    return Message(f"fitting.provisos.{len(provisos)}", {"why": why, **_numbered(provisos)})


def _numbered(provisos: list[Message]) -> dict[str, object]:
    return {f"proviso_{number}": proviso for number, proviso in enumerate(provisos, start=1)}


FITTING_CHOICE = Calculation(
    name="fitting_choice",
    function=fitting_choice,
    inputs=(PLACE, ENDS, KNOCKOUT_OFFSET, SPACING, STRESS, BOX_SIDE, TURN),
    outputs=(Output("suitable"), Output("unsuitable")),
    sources=(
        f"where each may be: {_TABLE['source']}",
        f"how each is built: {_TABLE['build']['source']}",
        f"what each bears: {_TABLE['strength']['source']}",
    ),
    area="wet",
    example_inputs={"place": "wet", "knockout_offset": "3/8 in"},
)
