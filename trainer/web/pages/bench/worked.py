"""From a form to marks: the calculation's result on the shop's basis, what the others give, what comes off the bender."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from msgspec import Struct

from trainer.calc.calculation import Calculation
from trainer.calc.cautions import cautions_for
from trainer.calc.layout_compare import COMPARE, stick_for
from trainer.calc.layout_proof import NEAR_ENOUGH
from trainer.calc.marks import Mark
from trainer.calc.material_list import MaterialList, material_list
from trainer.calc.message import InputError, Message, Quantity
from trainer.calc.shoes import Shoe
from trainer.calc.step import Step
from trainer.figures.bend_on_mark import draw_bend_on_mark
from trainer.figures.bent_tube import draw_bent_tube
from trainer.figures.marked_tube import draw_marked_tube
from trainer.figures.words import Words
from trainer.text.values import plain_names
from trainer.text.words import say
from trainer.web.language import language
from trainer.web.pages.bench.sheet import ReadSheet

__all__ = ["BasisLine", "CameOut", "Instruction", "Worked", "work"]

#: Bases in the order in which one stands in for another that has no marks.
_IN_PLACE = ("arc", "sharp-corner", "handbook")
#: Of so many like bends each is drawn on the bender; of more, the first.
_MOST_DRAWN = 6


class Instruction(Struct, frozen=True):
    """One mark, the words for it, and the bender on it; `figure` is "" where it looks like the one before."""

    mark: Mark
    turn: str
    told: Mapping[str, Any]
    figure: str


class CameOut(Struct, frozen=True):
    """One measure of the bent tube: its name, what was asked, what it measures."""

    name: str
    asked: Quantity
    got: Quantity

    @property
    def miss(self) -> float:
        """How far off it is, whichever way."""
        return abs(self.got.value - self.asked.value)


class BasisLine(Struct, frozen=True):
    """The marks of one basis, and the largest miss of the tube that they give; None where it cannot be bent."""

    basis: str
    positions: tuple[Quantity, ...]
    miss: Quantity | None

    @property
    def is_near(self) -> bool:
        """Whether the tube comes out as asked, as near as a tape tells."""
        return self.miss is not None and self.miss.value <= NEAR_ENOUGH


class Worked(Struct, frozen=True):
    """
    What the bench answers.

    Args:
        basis: Of the marks; "" where the conventions do not differ.
        instructions: The marks, in the order of bending.
        others: The marks of the other bases.
        compared: What was asked, and what the tube measures that is bent by the marks on this shoe.
        facts: Other outputs: name and quantity.
        steps: The arithmetic.
        cautions: What to mind at the bender.
        general: What to mind at all work.
        sources: Where rules and figures come from.
        material: What the whole run takes, where it was given.
        tube: The straight tube with its marks, drawn.
        bent: The tube as it comes off the bender; "" where only a part of it is known.
    """

    basis: str
    instructions: tuple[Instruction, ...]
    others: tuple[BasisLine, ...]
    compared: tuple[CameOut, ...]
    facts: tuple[tuple[str, Quantity], ...]
    steps: tuple[Step, ...]
    cautions: tuple[Message, ...]
    general: tuple[Message, ...]
    sources: tuple[str, ...]
    material: MaterialList | None
    tube: str
    bent: str

    @property
    def tube_in_all(self) -> Quantity:
        """All tube of the run along its middle; nothing where no run was given."""
        return Quantity(self.material.developed_length if self.material else 0.0, "in")

    @property
    def is_near(self) -> bool:
        """Whether the tube comes out as asked, as near as a tape tells."""
        return all(one.miss <= NEAR_ENOUGH for one in self.compared)


def work(sheet: ReadSheet) -> Worked:
    """
    Marks for a form without errors.

    Raises:
        InputError: When the calculation refuses the values; `field` names one of the form's.
    """
    calculation, words = sheet.bend.calculation, Words(_say)
    result, steps = calculation.trace(sheet.taken)
    found = _marks_by_basis(calculation, result)
    basis = next(one for one in (sheet.basis, "", *_IN_PLACE) if found.get(one))
    marks, shoe, general = found[basis], sheet.shoe.shoe, cautions_for("")
    return Worked(
        basis=basis,
        instructions=_instructions(marks, shoe, words),
        others=tuple(
            BasisLine(one, tuple(Quantity(mark.position, "in") for mark in _in_order(others)), _worst(sheet, others))
            for one, others in found.items()
            if others and one != basis
        ),
        compared=_compared(sheet, marks),
        facts=_facts(calculation, result, basis),
        steps=tuple(steps),
        cautions=tuple(one for one in calculation.cautions if one not in general),
        general=general,
        sources=calculation.sources,
        material=material_list(sheet.stretches, shoe) if sheet.stretches else None,
        tube=draw_marked_tube(marks, words, "tube"),
        bent=_bent(marks, shoe, words),
    )


def _say(message: Message) -> str:
    return say(message, language())


def _marks_by_basis(calculation: Calculation, result: object) -> dict[str, tuple[Mark, ...]]:
    listed = [output for output in calculation.outputs if output.name.startswith("marks")]
    return {output.basis: getattr(result, output.name) for output in listed}


def _in_order(marks: Sequence[Mark]) -> list[Mark]:
    return sorted(marks, key=lambda mark: mark.order)


def _instructions(marks: Sequence[Mark], shoe: Shoe, words: Words) -> tuple[Instruction, ...]:
    ordered = _in_order(marks)
    drawn = ordered if len(ordered) <= _MOST_DRAWN else ordered[:1]
    return tuple(
        Instruction(
            mark, _turn(mark), mark.message().params, draw_bend_on_mark(mark, shoe, words) if mark in drawn else ""
        )
        for mark in ordered
    )


def _turn(mark: Mark) -> str:
    """What is done with the tube before the bend; "" where it stays as it lies."""
    if not mark.roll and not mark.end_for_end:
        return ""
    turn = mark.message().params["turn"]
    said = _say(turn).rstrip(";") if isinstance(turn, Message) else ""
    return said[:1].upper() + said[1:]


def _compared(sheet: ReadSheet, marks: Sequence[Mark]) -> tuple[CameOut, ...]:
    """What the bent tube measures; nothing where the arcs have no room on it."""
    try:
        found = COMPARE[sheet.bend.name](sheet.taken, marks)
    except InputError:
        return ()
    return tuple(CameOut(one.name, Quantity(one.asked, one.unit), Quantity(one.got, one.unit)) for one in found)


def _worst(sheet: ReadSheet, marks: Sequence[Mark]) -> Quantity | None:
    misses = [one.miss for one in _compared(sheet, marks) if one.asked.unit == "in"]
    return Quantity(max(misses), "in") if misses else None


def _facts(calculation: Calculation, result: object, basis: str) -> tuple[tuple[str, Quantity], ...]:
    """Outputs besides the marks, of this basis or of none."""
    suffix = {"handbook": "_handbook", "arc": "_arc"}.get(basis, "")
    return tuple(
        (plain_names(output.name.removesuffix(suffix)), Quantity(getattr(result, output.name), output.unit))
        for output in calculation.outputs
        if output.unit in {"in", "deg"} and output.basis in {"", basis} and getattr(result, output.name) is not None
        if "mark" not in output.name
    )


def _bent(marks: Sequence[Mark], shoe: Shoe, words: Words) -> str:
    try:
        return draw_bent_tube(marks, shoe, stick_for(marks), words, "bent")
    except InputError:
        return ""
