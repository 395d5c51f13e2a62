"""One bend of the job: the bender on the tube, its reference on the pencil mark, the tape that the mark was made by."""

from __future__ import annotations

import math

from msgspec import Struct

from trainer.calc.layout_marks import mark_to_arc
from trainer.calc.marks import Datum, End, Mark
from trainer.calc.shoes import Shoe
from trainer.figures.bender import parts_of_bender
from trainer.figures.bender_shoe import HandBender
from trainer.figures.callout import Callout, callouts
from trainer.figures.dimension import arrowhead
from trainer.figures.measure import text_box, wrap
from trainer.figures.run import Bend
from trainer.figures.svg import MARGIN, WIDTH, Drawing, units
from trainer.figures.tube import TAPE, broken_end
from trainer.figures.words import Words, angle, length

__all__ = ["draw_bend_on_mark"]

#: The radius of every shoe on the drawing, and where its arc begins when the hook points to the left.
_RADIUS = 99.0
_ARC_X = 152.0
_TAPE_GAP = 9.0
#: How far from the pencil mark a leader runs clear of the mark's label.
_CLEAR = 14.0
_DIVISIONS = (0.125, 0.25, 0.5, 1.0)
_NUMBERED = (1.0, 2.0, 3.0, 6.0)


class _Sheet(Struct, frozen=True):
    """One mark on its drawing; the measured end lies to the left, the tube's centre line at height 0."""

    drawing: Drawing
    mark: Mark
    bender: HandBender

    @property
    def away(self) -> float:
        """From the pencil mark to the arc's beginning, away from the hook [in]."""
        return mark_to_arc(self.mark.reference, self.mark.angle, self.bender.shoe)

    @property
    def pencil(self) -> float:
        """Where the pencil mark stands."""
        return self.bender.x(-self.away * self.bender.scale)

    @property
    def forward(self) -> float:
        """The way in which the tape's numbers grow: 1 right, -1 left."""
        return -1.0 if self.mark.measured_from == End.FAR else 1.0

    def x(self, position: float) -> float:
        """Where a position on the tape lies."""
        return self.pencil + self.forward * (position - self.mark.position) * self.bender.scale

    @property
    def ends(self) -> tuple[float, float]:
        """From where to where the tube is drawn: to its very end where that lies on the drawing."""
        left, right = MARGIN, WIDTH - MARGIN
        if self.mark.measured_from == End.MEASURED:
            return max(left, self.x(0)), right
        return left, min(right, self.x(0)) if self.mark.measured_from == End.FAR else right

    @property
    def tape_top(self) -> float:
        """The divided edge of the tape, below the tube."""
        return self.bender.half + _TAPE_GAP


def draw_bend_on_mark(
    mark: Mark, shoe: Shoe, words: Words, key: str = "", heading: str = "", *, wrong: bool = False
) -> str:
    """
    The bender on the tube for one bend, as the mark's instruction says it.

    Args:
        mark: The instruction.
        shoe: The shoe that it was worked out for.
        words: Sentences.
        key: Tells apart equal figures on one page.
        heading: Stands above it and before its name; "" for none.
        wrong: Whether it is a learner's slip that is drawn.
    """
    hook = 1.0 if mark.hook_toward == End.FAR else -1.0
    arc_x = _ARC_X if hook < 0 else WIDTH - _ARC_X
    sheet = _Sheet(Drawing(), mark, HandBender(shoe, arc_x, _RADIUS / shoe.radius, hook))
    _tube(sheet)
    _tape(sheet)
    sheet.bender.draw(sheet.drawing)
    _pencil(sheet)
    top = callouts(sheet.drawing, parts_of_bender(sheet.bender, words), sheet.bender.top - 2, above=True)
    top = _turned(sheet, top, words)
    bottom = _below(sheet, words)
    if heading:
        top -= 22
        sheet.drawing.text((MARGIN, top + 12), heading, "fig-text fig-wrong-text" if wrong else "fig-text fig-heading")
    told = mark.message()
    title = ": ".join(filter(None, (heading, words("on-mark.title", number=mark.order))))
    return sheet.drawing.finish(top - 4, bottom + 4, title, words.of_core(told.id, **told.params), key)


def _tube(sheet: _Sheet) -> None:
    """The tube, and where its bend will lie."""
    drawing, bender = sheet.drawing, sheet.bender
    (left, right), half = sheet.ends, bender.half
    drawing.rectangle((left, -half), right - left, 2 * half, "fig-tube")
    arc = Bend(0.0, bender.shoe.radius, sheet.mark.angle).length * bender.scale
    near, far = sorted((bender.x(0), bender.x(arc)))
    near, far = max(near, left), min(far, right)
    drawing.rectangle((near, -half), far - near, 2 * half, "fig-bent-part")
    for x, cut in ((left, MARGIN), (right, WIDTH - MARGIN)):
        if x == cut:
            broken_end(drawing, x, -half, half)


def _tape(sheet: _Sheet) -> None:
    """The tape that the mark was made by, with the inches round the mark."""
    drawing, top = sheet.drawing, sheet.tape_top
    start = max(MARGIN, sheet.x(0)) if sheet.forward > 0 else MARGIN
    end = min(WIDTH - MARGIN, sheet.x(0)) if sheet.forward < 0 else WIDTH - MARGIN
    drawing.rectangle((start, top), end - start, TAPE, "fig-tape")
    scale = sheet.bender.scale
    finest = next(step for step in _DIVISIONS if step * scale >= 4 or step == _DIVISIONS[-1])
    numbered = next(step for step in _NUMBERED if step * scale >= 20 or step == _NUMBERED[-1])
    shown = sorted(sheet.mark.position + sheet.forward * (x - sheet.pencil) / scale for x in (start, end))
    for index in range(math.ceil(shown[0] / finest - 1e-9), math.floor(shown[1] / finest + 1e-9) + 1):
        position = index * finest
        x, whole = sheet.x(position), float(position).is_integer()
        drawing.line((x, top), (x, top + (9.0 if whole else 6.0 if position * 2 % 1 == 0 else 4.0)), "fig-tick")
        if whole and position % numbered == 0:
            _number(sheet, x, f"{position:g}", (start, end))


def _number(sheet: _Sheet, x: float, words: str, ends: tuple[float, float]) -> None:
    """A number of the tape, where neither its end nor the pencil mark stands in the way."""
    box = text_box(x, sheet.tape_top + 22, words, "middle")
    crossed = box.left - 2 < sheet.pencil < box.right + 2
    if not crossed and box.left > ends[0] + 1 and box.right < ends[1] - 1:
        sheet.drawing.text((x, sheet.tape_top + 22), words, "fig-text fig-tape-text", "middle")


def _pencil(sheet: _Sheet) -> None:
    """The pencil line across tube and tape, and the shoe's reference above it."""
    drawing, x, half = sheet.drawing, sheet.pencil, sheet.bender.half
    drawing.open_group("fig-at", position=sheet.mark.position, kind="mark")
    drawing.line((x, -half - 16), (x, sheet.tape_top + TAPE), "fig-mark")
    drawing.close_group()
    arrowhead(drawing, (x, -half), (0, 1), "fig-mark")


def _turned(sheet: _Sheet, level: float, words: Words) -> float:
    """What is done with the tube before this bend, above the drawing; returns where that begins."""
    mark, drawing = sheet.mark, sheet.drawing
    said = [words("on-mark.end-for-end")] if mark.end_for_end else []
    said += [words("on-mark.roll", angle=angle(abs(mark.roll)))] if mark.roll else []
    if not said:
        return level
    left = MARGIN + (50 if mark.roll else 0)
    lines = [line for one in said for line in wrap(one, WIDTH - MARGIN - left)]
    height = max(len(lines) * 16.0, 48.0 if mark.roll else 0.0) + 8
    for index, line in enumerate(lines):
        drawing.text((left, level - height + 14 + 16 * index), line)
    if mark.roll:
        _roll(drawing, (MARGIN + 24, level - height + 24), mark.roll)
    return level - height


def _roll(drawing: Drawing, centre: tuple[float, float], roll: float) -> None:
    """The tube end on, as seen from the measured end: where its upper side goes when it is rolled, clockwise above 0."""
    (x, y), way = centre, math.copysign(1.0, roll)

    def at(radius: float, turned: float) -> tuple[float, float]:
        return x + radius * math.sin(math.radians(turned)), y - radius * math.cos(math.radians(turned))

    drawing.circle(centre, 11, "fig-tube")
    drawing.line(at(5, 0), at(11, 0), "fig-dim-thin")
    drawing.line(at(4, roll), at(14, roll), "fig-mark")
    start, stop = at(18, way * 8), at(18, roll - way * 14)
    sweep = f"{int(abs(roll) > 202)} {int(way > 0)}"
    drawing.path(
        f"M {units(start[0])} {units(start[1])} A 18 18 0 {sweep} {units(stop[0])} {units(stop[1])}", "fig-mark"
    )
    along = math.radians(roll - way * 10)
    arrowhead(drawing, at(18, roll), (way * math.cos(along), way * math.sin(along)), "fig-mark")


def _named(sheet: _Sheet, arc: float) -> float:
    """Where the label of the bend points: its middle, or, where the pencil mark is near that, toward its other end."""
    start, middle, stop = (sheet.bender.x(arc * part) for part in (0.1, 0.5, 0.9))
    if abs(middle - sheet.pencil) > _CLEAR:
        return middle
    return max((start, stop), key=lambda x: abs(x - sheet.pencil))


def _below(sheet: _Sheet, words: Words) -> float:
    """What the marks mean, and which end is which; returns the lower end."""
    drawing, mark, bender = sheet.drawing, sheet.mark, sheet.bender
    arc = Bend(0.0, bender.shoe.radius, mark.angle).length * bender.scale
    reference = words(f"reference.{mark.reference}")
    named = min(max(_named(sheet, arc), sheet.ends[0] + 4), sheet.ends[1] - 4)
    labels = [
        Callout(
            (sheet.pencil, sheet.tape_top + TAPE - 2),
            (words("on-mark.here", reference=reference, length=length(mark.position)),),
            "fig-mark",
            "right" if named < sheet.pencil else "left",
        ),
        Callout((named, bender.half - 3), (words("on-mark.lies-here", angle=angle(mark.angle)),), dot=True),
    ]
    level = callouts(drawing, labels, sheet.tape_top + TAPE + 6, above=False) + 15
    is_bent = mark.measured_from == Datum.BACK
    start = words("on-mark.back-of-first-bend" if is_bent else "on-mark.measured-end")
    drawing.text((MARGIN, level), start, "fig-text fig-note")
    drawing.text((WIDTH - MARGIN, level), words("on-mark.far-end"), "fig-text fig-note", "end")
    return level + 4
