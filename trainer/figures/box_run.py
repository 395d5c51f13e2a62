"""A straight run between two boxes: both ends to scale with their connectors, the middle broken out, and what was measured."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from msgspec import Struct

from trainer.calc.cut_length import CutLength, Measured
from trainer.calc.message import Quantity
from trainer.calc.shoes import DEFAULT_SHOE
from trainer.figures.callout import Callout, callouts
from trainer.figures.dimension import Dimension, dimensions_below
from trainer.figures.svg import MARGIN, WIDTH, Drawing
from trainer.figures.tube import tube_break
from trainer.figures.words import Words, length

__all__ = ["draw_box_run"]

#: Width of a box whose width was not given, its height, the connector's and the locknut's thickness [in].
_BOX, _HIGH, _BODY, _NUT = 4.0, 4.0, 1.05, 0.2
_LARGEST = 13.0
#: Room on the drawing that both boxes may take together, and both connectors.
_BOXES, _CONNECTORS = 130.0, 70.0
_COUPLING = 34.0


class _Places(Struct, frozen=True):
    """Where everything lies on the drawing, from left to right."""

    scale: float
    left: tuple[float, float]
    right: tuple[float, float]
    mouths: tuple[float, float]
    stops: tuple[float, float]

    @property
    def faces(self) -> tuple[float, float]:
        """The faces that the run lies between."""
        return self.left[1], self.right[0]

    @property
    def centres(self) -> tuple[float, float]:
        """Middles of the boxes."""
        return sum(self.left) / 2, sum(self.right) / 2

    @property
    def middle(self) -> float:
        """Middle of the tube that is seen."""
        return self._along(0.5)

    @property
    def broken(self) -> float:
        """Where the tube of a single piece is broken out."""
        return self._along(0.3)

    @property
    def joint(self) -> float:
        """Middle of the last coupling, so far to the left that the length of the last piece stands within its dimension."""
        return self._along(0.36)

    @property
    def before_joint(self) -> float:
        """Where the tube before the coupling is broken out."""
        return self._along(0.12)

    def _along(self, share: float) -> float:
        return self.mouths[0] + share * (self.mouths[1] - self.mouths[0])


def draw_box_run(
    inputs: Mapping[str, Any],
    result: CutLength,
    words: Words,
    *,
    wrong: Mapping[str, float],
    solved: bool = True,
    key: str = "",
) -> str:
    """
    Two boxes and the tube between them.

    Args:
        inputs: Values of the calculation `cut_length`.
        result: Its result.
        words: Sentences.
        wrong: A learner's value under "tube" or "last_piece"; where its far end comes out is dashed.
        solved: Whether the length to cut is written; else a question mark.
        key: Tells apart equal figures on one page.
    """
    drawing, places = Drawing(), _places(inputs)
    half = _HIGH * places.scale / 2
    _ends(drawing, places, half, places.before_joint if result.couplings else places.broken)
    if result.couplings:
        _coupling(drawing, places)
    yours = {name: value for name, value in wrong.items() if isinstance(value, int | float)}
    for name, value in yours.items():
        _yours(drawing, places, value - getattr(result, name, value), half)
    top = callouts(drawing, list(_named(places, inputs, result, words)), -half - 4, above=True)
    level = dimensions_below(drawing, list(_dimensions(places, inputs, result, words, solved=solved)), half)
    for value in yours.values():
        said = words("yours-is", length=length(value))
        level = drawing.paragraph(level + 2, said, "fig-text fig-wrong-text")
    level = drawing.paragraph(level + 2, words("box-run.broken"), "fig-text fig-note")
    about = " ".join(_sentences(inputs, result, words, solved=solved))
    return drawing.finish(min(top, -half - 2) - 4, level + 4, words("box-run.title"), about, key)


def _places(inputs: Mapping[str, Any]) -> _Places:
    widths = [inputs.get(name) or _BOX for name in ("first_box", "second_box")]
    out, deep = inputs["stands_out"], inputs["goes_in"]
    scale = min(_LARGEST, _BOXES / sum(widths), _CONNECTORS / max(2 * out, 1.0))
    left = (MARGIN, MARGIN + widths[0] * scale)
    right = (WIDTH - MARGIN - widths[1] * scale, WIDTH - MARGIN)
    mouths = (left[1] + out * scale, right[0] - out * scale)
    return _Places(scale, left, right, mouths, (mouths[0] - deep * scale, mouths[1] + deep * scale))


def _ends(drawing: Drawing, places: _Places, half: float, broken_at: float) -> None:
    """Boxes, connectors in section with their locknuts, and the tube in them with its middle broken out."""
    body, nut = _BODY * places.scale / 2, _NUT * places.scale
    for left, right in (places.left, places.right):
        drawing.rectangle((left, -half), right - left, 2 * half, "fig-box")
    for face, mouth, inward in zip(places.faces, places.mouths, (-1.0, 1.0), strict=True):
        drawing.rectangle((min(face, mouth), -body), abs(mouth - face), 2 * body, "fig-part")
        drawing.rectangle((min(face, face + inward * nut), -body - 3), nut, 2 * body + 6, "fig-nut")
    tube = DEFAULT_SHOE.outside_diameter * places.scale / 2
    drawing.rectangle((places.stops[0], -tube), places.stops[1] - places.stops[0], 2 * tube, "fig-tube")
    tube_break(drawing, broken_at, -tube, tube)
    for centre in places.centres:
        drawing.line((centre, -half - 2), (centre, half), "fig-axis")


def _coupling(drawing: Drawing, places: _Places) -> None:
    """The coupling before the last piece, the ends of both tubes apart in it."""
    body = _BODY * places.scale / 2
    drawing.rectangle((places.joint - _COUPLING / 2, -body), _COUPLING, 2 * body, "fig-part")
    drawing.line((places.joint, -body), (places.joint, body), "fig-mark")


def _yours(drawing: Drawing, places: _Places, more: float, half: float) -> None:
    """Where the far end of a piece so much longer than the right one comes out [in]."""
    x = min(max(places.stops[1] + more * places.scale, places.middle), WIDTH - 3)
    drawing.open_group("fig-at", position=more, kind="yours")
    drawing.line((x, -half), (x, half), "fig-wrong")
    drawing.close_group()


def _named(places: _Places, inputs: Mapping[str, Any], result: CutLength, words: Words) -> Iterator[Callout]:
    """What the connectors add and take, and the couplings."""
    top = -_BODY * places.scale / 2
    out = words("box-run.stands-out", length=length(inputs["stands_out"]))
    deep = words("box-run.goes-in", length=length(inputs["goes_in"]))
    yield Callout(((places.faces[0] + places.mouths[0]) / 2, top), (out,), side="middle", dot=True)
    yield Callout(((places.stops[1] + places.mouths[1]) / 2, 0.0), (deep,), side="middle", dot=True)
    if result.couplings:
        count = words("box-run.couplings", count=Quantity(result.couplings, "couplings"))
        yield Callout((places.joint + _COUPLING / 3, top), (count,), side="middle", dot=True)


def _dimensions(
    places: _Places, inputs: Mapping[str, Any], result: CutLength, words: Words, *, solved: bool
) -> Iterator[Dimension]:
    """What was measured, from what to what, and what is to be cut."""
    by_centres = inputs.get("measured") == Measured.CENTRES
    yield Dimension(
        *(places.centres if by_centres else places.faces), words("length", length=length(inputs["distance"]))
    )
    if by_centres:
        yield Dimension(*places.left, words("length", length=length(inputs["first_box"])))
        yield Dimension(*places.right, words("length", length=length(inputs["second_box"])))
    said = words("box-run.tube", length=length(result.tube)) if solved else words("box-run.tube-asked")
    yield Dimension(*places.stops, said)
    if result.couplings:
        last = words("box-run.last", length=length(result.last_piece)) if solved else words("box-run.last-asked")
        yield Dimension(places.joint, places.stops[1], last)


def _sentences(inputs: Mapping[str, Any], result: CutLength, words: Words, *, solved: bool) -> Iterator[str]:
    by_centres = inputs.get("measured") == Measured.CENTRES
    yield words("box-run.about-centres" if by_centres else "box-run.about-faces", distance=length(inputs["distance"]))
    if by_centres:
        yield words("box-run.widths", first=length(inputs["first_box"]), second=length(inputs["second_box"]))
    yield words("box-run.ends", out=length(inputs["stands_out"]), deep=length(inputs["goes_in"]))
    if result.couplings:
        yield words("box-run.joined", count=Quantity(result.couplings, "couplings"))
    if solved:
        yield words("box-run.to-cut", tube=length(result.tube))
        if result.couplings:
            yield words("box-run.to-cut-last", last=length(result.last_piece))
