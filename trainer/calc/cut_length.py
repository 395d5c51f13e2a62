"""
The tube of a straight run between two boxes. Inches.

A connector stands out of its box and takes the tube's end in: how far it stands out comes off at each end, how far the
tube goes in is added again. Both are measured on the fitting in hand; none is taken for granted here.
"""

from __future__ import annotations

from enum import StrEnum

from msgspec import Struct

from trainer.calc.calculation import Calculation, Output
from trainer.calc.cut_plan import CUT_PLAN
from trainer.calc.inputs import Input, Kind
from trainer.calc.message import Message, Quantity
from trainer.calc.tables import table
from trainer.calc.trace import note, steps
from trainer.calc.trig import round_up

__all__ = ["CUT_LENGTH", "GOES_IN", "STANDS_OUT", "CutLength", "Measured", "check_end", "cut_length"]

_STICK = table("cutting")["stick"]


class Measured(StrEnum):
    """From what to what the distance was taken."""

    FACES = "faces"
    CENTRES = "centres"


DISTANCE = Input("distance", Kind.LENGTH, "14 ft 3-1/2 in", "in", above=0, most=12_000)
STANDS_OUT = Input("stands_out", Kind.LENGTH, "1-1/8 in", "in", least=0, most=12)
GOES_IN = Input("goes_in", Kind.LENGTH, "3/4 in", "in", least=0, most=12)
MEASURED = Input("measured", Kind.CHOICE, "faces", optional=True, choices=tuple(Measured))
FIRST_BOX = Input("first_box", Kind.LENGTH, "4 in", "in", optional=True, above=0, most=120)
SECOND_BOX = Input("second_box", Kind.LENGTH, "4-11/16 in", "in", optional=True, above=0, most=120)
COUPLING_GAP = Input("coupling_gap", Kind.LENGTH, "1/16 in", "in", optional=True, least=0, most=2)
STOCK_LENGTH = CUT_PLAN.input("stock_length")


class CutLength(Struct, frozen=True):
    """
    The tube between two boxes.

    Args:
        faces: From face to face of the boxes [in].
        between: From mouth to mouth of the connectors, the tube that is seen [in].
        tube: From end to end of the tube, its couplings' stops in it [in].
        couplings: How many couplings, where it is longer than a stick; as many sticks go in uncut.
        last_piece: The piece that is cut [in].
    """

    faces: float
    between: float
    tube: float
    couplings: int
    last_piece: float


@steps(shoulders="in", insertions="in", between="in", tube="in", couplings="couplings", last_piece="in")
def cut_length(
    distance: float,
    stands_out: float,
    goes_in: float,
    measured: str = Measured.FACES,
    *,
    first_box: float | None = None,
    second_box: float | None = None,
    coupling_gap: float = 0.0,
    stock_length: float = _STICK["length"],
) -> CutLength:
    """
    What to cut for a straight run from box to box, the same connector at both ends.

    Args:
        distance: Between the two boxes [in].
        stands_out: How far a connector stands out of its box, from the face to its mouth [in].
        goes_in: How far the tube goes into it, from the mouth to the stop [in].
        measured: Whether the distance was taken from face to face, or from centre to centre of the boxes.
        first_box: Width of the first box along the run [in]; needed for a distance between centres.
        second_box: Width of the second one [in].
        coupling_gap: What the stop in the middle of a coupling keeps between two ends [in].
        stock_length: Of a stick [in].

    Raises:
        InputError: When one lies outside its range, a box has no width, or nothing is left for the tube.

    Source: common practice; stick of ANSI C80.3, UL 797.

    >>> result = cut_length(40, 1.125, 0.75)
    >>> result.between, result.tube
    (37.75, 39.25)
    """
    for given, value in ((DISTANCE, distance), (MEASURED, measured), (FIRST_BOX, first_box), (SECOND_BOX, second_box)):
        given.check(value)
    COUPLING_GAP.check(coupling_gap)
    STOCK_LENGTH.check(stock_length)
    check_end(stands_out, goes_in)
    faces = _faces(distance, measured, first_box, second_box)
    shoulders = 2 * stands_out
    insertions = 2 * goes_in
    between = faces - shoulders
    if between <= 0:
        least = {"least": Quantity(distance - between, "in")}
        raise DISTANCE.refuse(
            Message("cut_length.no-room"), DISTANCE.written(distance), Message("cut_length.least", least)
        )
    tube = between + insertions
    couplings = round_up((tube + coupling_gap) / (stock_length + coupling_gap)) - 1
    if couplings:
        note("couplings", "cut_length.couplings", stick=Quantity(stock_length, "in"), gap=Quantity(coupling_gap, "in"))
        last_piece = tube - couplings * (stock_length + coupling_gap)
    else:
        last_piece = tube
    return CutLength(faces, between, tube, couplings, last_piece)


@steps(faces="in")
def _faces(distance: float, measured: str, first_box: float | None, second_box: float | None) -> float:
    """From face to face: between centres half of each box is box and not run."""
    if measured == Measured.FACES:
        return distance
    for given, value in ((FIRST_BOX, first_box), (SECOND_BOX, second_box)):
        if value is None:
            raise given.refuse(Message("cut_length.width"), "")
    assert first_box is not None  # noqa: S101 - refused above
    assert second_box is not None  # noqa: S101
    faces = distance - first_box / 2 - second_box / 2
    return faces  # noqa: RET504 - the assignment is the step


def check_end(stands_out: float, goes_in: float) -> None:
    """
    Refuse a connector whose stop would lie inside of the box.

    Raises:
        InputError: For `goes_in`, or for the one that lies outside its range.
    """
    STANDS_OUT.check(stands_out)
    GOES_IN.check(goes_in)
    if goes_in > stands_out:
        most = Message("cut_length.deepest", {"stands_out": Quantity(stands_out, "in")})
        raise GOES_IN.refuse(Message("cut_length.too-deep"), GOES_IN.written(goes_in), most)


CUT_LENGTH = Calculation(
    name="cut_length",
    function=cut_length,
    inputs=(DISTANCE, STANDS_OUT, GOES_IN, MEASURED, FIRST_BOX, SECOND_BOX, COUPLING_GAP, STOCK_LENGTH),
    outputs=(
        Output("faces", "in"),
        Output("between", "in"),
        Output("tube", "in"),
        Output("couplings", "couplings"),
        Output("last_piece", "in"),
    ),
    sources=(
        f"stick: {_STICK['source']}",
        "what a connector adds and takes: as measured on the fitting; common practice, no source",
    ),
    area="cutting",
    example_inputs={
        "distance": "14 ft 3-1/2 in",
        "stands_out": "1-1/8 in",
        "goes_in": "3/4 in",
        "coupling_gap": "1/16 in",
    },
)
