"""A run from a panel to a junction box, to scale: tube, boxes, couplings, straps and lettered places along it."""

from __future__ import annotations

import math
from collections.abc import Sequence

from trainer.calc.length import write_length
from trainer.calc.strap_run import StrapRun, letter
from trainer.figures.callout import Callout, callouts, label
from trainer.figures.lettered import Lettered
from trainer.figures.measure import text_box
from trainer.figures.run import Bend, Run, Station, pieces_between
from trainer.figures.svg import MARGIN, WIDTH, Drawing, Point, polyline
from trainer.figures.words import Words

__all__ = ["Sheet"]

_TUBE = 8.0
_BOX = 20.0
#: Room beside a leg that stands, for what is written there; at the end of one that lies; the tallest that a drawing gets.
_BESIDE, _BEHIND = 88.0, MARGIN + _BOX + 2
_TALLEST = 290.0
_UP, _LEVEL = 90.0, 0.0


class Sheet:
    """
    One run on a drawing.

    Args:
        drawing: Takes the parts.
        run: What is drawn.
        upright: Whether it starts upward; its bends then turn to the right, else to the left.
        top: Where its labels may begin.
        words: Sentences.
        judged: Whether stretches are marked as wrong; names stand further away then.
    """

    def __init__(
        self, drawing: Drawing, run: StrapRun, upright: bool, top: float, words: Words, *, judged: bool = False
    ) -> None:
        self.drawing, self.run, self.words = drawing, run, words
        self.upright, self.raised = upright, 20.0 if judged else 0.0
        heading, turn = (_UP, -90.0) if upright else (_LEVEL, 90.0)
        bends = [Bend(bend.start, (bend.end - bend.start) / math.radians(90), turn) for bend in run.bends]
        pieces = pieces_between(bends, run.run_length)
        plain = Run((0.0, 0.0), heading, pieces, 1.0)
        xs, ys = zip(*(station.point for station in plain.stations), strict=True)
        self.stands = upright or bool(bends)
        before = _BESIDE if upright else _BEHIND
        behind = _BESIDE if self.stands and len(bends) != int(upright) else _BEHIND
        wide, high = max(xs) - min(xs), max(ys) - min(ys)
        room = WIDTH - before - behind
        scale = min(room / wide if wide > 1 else 99.0, _TALLEST / high if high > 1 else 99.0)
        left = before + (room - wide * scale) / 2
        #: Room above the highest leg: labels of a leg that lies on top, else couplings and wrong stretches.
        self.high = top + 58.0 + self.raised
        start = (left - min(xs) * scale, self.high - min(ys) * scale)
        self.walk = Run(start, heading, pieces, scale)
        self.lowest: float = self.high + high * scale

    def at(self, position: float) -> Station:
        """Where a position [in] lies."""
        return self.walk.at(position)

    def is_level(self, position: float) -> bool:
        """Whether the tube lies there."""
        return abs(self.at(position).heading % 180.0 - 90.0) > 45.0

    def tube(self) -> None:
        """Boxes, tube and couplings, without names."""
        self.drawing.path(self.walk.outline(_TUBE), "fig-tube")
        for position, back in ((0.0, -_BOX / 2), (self.run.run_length, _BOX / 2)):
            self._block(position, back, _BOX / 2, 13.0 if position == 0 else _BOX / 2, "fig-box")
        for position in self.run.terminations:
            self._block(position, 0.0, _BOX / 2, _BOX / 2, "fig-box")
        for position in self.run.couplings:
            self._block(position, 0.0, 5.0, _TUBE / 2 + 2, "fig-part")
        for position in self.run.straps:
            self.strap(position, "fig-strap")

    def strap(self, position: float, name: str) -> None:
        """A strap over the tube, its foot to the right of the walk."""
        self._block(position, 0.0, 4.0, _TUBE / 2 + 4, name)
        station = self.at(position)
        near, far = station.beside(_TUBE / 2 + 4), station.beside(_TUBE / 2 + 12)
        self.drawing.line(near, far, name)

    def places(self, lettered: Lettered) -> None:
        """Each place with its letter and its distance from the panel."""
        for place in self.run.places:
            self._block(place, 0.0, 1.6, _TUBE / 2 + 4, "fig-place")
        self.labels(
            [
                (place, f"{letter(at)}  {write_length(place, feet=True)}", lettered.link(letter(at)))
                for at, place in enumerate(self.run.places)
            ]
        )

    def labels(self, items: Sequence[tuple[float, str, str]]) -> None:
        """What stands at positions along the run: position [in], words, and where they lead or ""."""
        level: list[Callout] = []
        name = "fig-text fig-place-leader-text"
        for position, words, href in items:
            if self.is_level(position):
                point = self.at(position).beside(self._outer(_TUBE / 2 + 4))
                level.append(Callout(point, (words,), "fig-place-leader", href=href))
                continue
            (x, y), anchor = self._inside(position, 18.0)
            spots = [(x, y + shift) for shift in (4.0, 18.0, -10.0, 32.0, 46.0, -24.0)]
            free = [spot for spot in spots if self.drawing.is_free(text_box(*spot, words, anchor, name))]
            spot = (free or spots)[0]
            if spot != spots[0]:
                near = self.at(position).point
                edge = (near[0] + math.copysign(_TUBE / 2 + 5, x - near[0]), near[1])
                self.drawing.line(edge, (x + math.copysign(2.0, near[0] - x), spot[1] - 4.0), "fig-place-leader")
            self.drawing.link(spot, words, href, name, anchor)
        if level and self.stands and self.upright:
            level += [Callout(self.at(place).beside(-8.0), (word,)) for place, word in self._couplings_on_top()]
            callouts(self.drawing, level, self.high - 18, above=True)
        elif level:
            self.lowest = callouts(self.drawing, level, self.lowest + 18, above=False)

    def _couplings_on_top(self) -> list[tuple[float, str]]:
        """Couplings of a level leg on top, named in a row with the letters of its places."""
        named = self.words("strap_places.coupling")
        level = [place for place in self.run.couplings if self.upright and self.run.places and self.is_level(place)]
        return [(place, named) for place in level]

    def span(self, start: float, end: float) -> None:
        """A thin line along the tube from one place to another, to the right of the walk."""
        steps = max(2, int((end - start) / 2))
        spots = [start + (end - start) * step / steps for step in range(steps + 1)]
        self.drawing.path(polyline(self.at(spot).beside(12.0) for spot in spots), "fig-dim")
        for spot in (start, end):
            self.drawing.line(self.at(spot).beside(8.0), self.at(spot).beside(16.0), "fig-dim")

    def names(self, which: Sequence[str] = ("coupling", "strap", "box")) -> None:
        """What the boxes, couplings and straps are, where no letter stands."""
        there = {"coupling": self.run.couplings, "strap": self.run.straps, "box": self.run.terminations}
        done = [place for place, _ in self._couplings_on_top()]
        named = [(place, name) for name in which for place in there[name] if place not in done]
        above = [
            Callout(self.at(place).beside(-8.0), (self.words(f"strap_places.{name}"),))
            for place, name in sorted(named)
            if self.is_level(place) and not self.upright
        ]
        if above:
            callouts(self.drawing, above, self.high - 30 - self.raised, above=True)
        for place, name in named:
            if not self.is_level(place) or self.upright:
                self._beside(place, self.words(f"strap_places.{name}"))
        for position, name in ((0.0, "panel"), (self.run.run_length, "junction")):
            self._end_name(position, self.words(f"strap_places.{name}"))

    def stretch(self, start: float, end: float, words: str) -> None:
        """A stretch that breaks the rule: a dashed line along it with its ends marked, and how long it is."""
        steps = max(2, int((end - start) / 2))
        spots = [start + (end - start) * step / steps for step in range(steps + 1)]
        self.drawing.path(polyline(self.at(spot).beside(-14.0) for spot in spots), "fig-wrong")
        for spot in (start, end):
            self.drawing.line(self.at(spot).beside(-8.0), self.at(spot).beside(-20.0), "fig-wrong")
        spots_for_words = [
            spot
            for share in (0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9)
            for spot in self._spots(start + share * (end - start))
        ]
        for out in (26.0, 40.0, 54.0, 68.0):
            spots_for_words += [
                (self.at((start + end) / 2).beside(-out), anchor) for anchor in ("end", "middle", "start")
            ]
        name = "fig-text fig-wrong-text"
        free = (spot for spot in spots_for_words if self.drawing.is_free(text_box(*spot[0], words, spot[1], name)))
        # Where the drawing is full, the sentence below it says the length.
        if found := next(free, None):
            self.drawing.text(found[0], words, name, found[1])

    def _spots(self, position: float) -> list[tuple[Point, str]]:
        """Where the length of a wrong stretch may stand, beside its dashed line."""
        x, y = self.at(position).point
        outward, upward = self.at(position).beside(-18.0)
        if self.is_level(position):
            return [((x, upward - 4), "middle"), ((x, upward - 20), "middle"), ((x, y + 24), "middle")]
        anchor = "end" if outward < x else "start"
        return [((outward, upward + shift), anchor) for shift in (4.0, 22.0, -14.0)]

    def _outer(self, offset: float) -> float:
        """An offset toward the side on which letters of a leg that lies stand."""
        return -offset if self.upright else offset

    def _inside(self, position: float, offset: float) -> tuple[Point, str]:
        """A point beside a leg that stands, toward the middle of the drawing, and the anchor of a text there."""
        x, y = self.at(position).point
        y += 14.0 if any(bend.start < position < bend.end for bend in self.run.bends) else 0.0
        to_right = not self.upright or x <= WIDTH / 2 or not self.run.bends
        return ((x + offset, y), "start") if to_right else ((x - offset, y), "end")

    def _beside(self, position: float, words: str) -> None:
        """A name on the side away from the letters."""
        (x, y), anchor = self._inside(position, 14.0)
        own = self.at(position).point[0]
        away = "end" if anchor == "start" else "start"
        if self.is_level(position):
            spots: list[tuple[Point, str]] = [
                ((own, y + down), "middle") for down in (24.0, 40.0, 56.0, 72.0, 88.0, 104.0)
            ]
            box = label(self.drawing, words, spots, "fig-text fig-note")
            self.drawing.line((own, y + 8), (own, box.top - 1), "fig-leader")
        else:
            self.drawing.text((2 * own - x, y + 4), words, "fig-text fig-note", away)

    def _end_name(self, position: float, words: str) -> None:
        """The name of the panel or the junction box, where it does not cover the tube."""
        station = self.at(position)
        x, y = station.point
        if self.is_level(position):
            out = -1 if position == 0 else 1
            edge = max(MARGIN - 6, x - _BOX) if out < 0 else min(WIDTH - MARGIN + 6, x + _BOX)
            self.drawing.text((edge, y - 18 - self.raised), words, "fig-text fig-note", "start" if out < 0 else "end")
            return
        down = (station.heading == _UP) == (position == 0)
        self.drawing.text((x, y + _BOX + 15 if down else y - _BOX - 6), words, "fig-text fig-note", "middle")
        if down:
            self.lowest = max(self.lowest, y + _BOX + 18)

    def _block(self, position: float, shift: float, along: float, across: float, name: str) -> None:
        """A rectangle round a position, `shift` further along, half as long and as wide as given."""
        station = self.at(position)
        corners = []
        for forth, side in ((-along, -across), (along, -across), (along, across), (-along, across)):
            ahead = Station(self._ahead(station, shift + forth), station.heading)
            corners.append(ahead.beside(side))
        self.drawing.shape(corners, name)

    @staticmethod
    def _ahead(station: Station, by: float) -> Point:
        """A point further along a straight line."""
        ninety = Station(station.point, station.heading + 90.0)
        return ninety.beside(by)
