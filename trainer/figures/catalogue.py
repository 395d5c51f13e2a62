"""Every figure by name, drawn from typed or read inputs and the core's result."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import partial
from types import MappingProxyType
from typing import Any

from msgspec import Struct

from trainer.calc.catalogue import CATALOGUE
from trainer.figures.back_to_back import draw_back_to_back
from trainer.figures.bend_stretches import draw_bend_stretches
from trainer.figures.bend_total import draw_bend_total
from trainer.figures.bender import BENDER_ANGLES, draw_bender
from trainer.figures.bender_sits import SETTINGS, draw_bender_sits
from trainer.figures.bent_piece import draw_bent_piece
from trainer.figures.bore import draw_bore
from trainer.figures.box_content import draw_box_content, draw_box_count
from trainer.figures.box_offset import draw_box_offset
from trainer.figures.box_run import draw_box_run
from trainer.figures.circuit import draw_circuit_ampacity, draw_circuit_drop, draw_circuit_load
from trainer.figures.circuit_ground import draw_circuit_ground
from trainer.figures.code_book import draw_code_book
from trainer.figures.conduit_body import OPENINGS, draw_conduit_body, draw_openings
from trainer.figures.corner_body import draw_corner_body
from trainer.figures.cut_end import CUT_ENDS, draw_cut_end
from trainer.figures.cut_plan import draw_cut_plan
from trainer.figures.expansion import draw_expansion, draw_expansion_setting
from trainer.figures.fitting import FITTINGS, draw_fitting
from trainer.figures.framing import draw_framing
from trainer.figures.jam import draw_jam
from trainer.figures.joints import draw_joints
from trainer.figures.kick import draw_kick
from trainer.figures.knockout_step import draw_knockout_step
from trainer.figures.lengths import draw_lengths
from trainer.figures.lettered import PLAIN, Lettered
from trainer.figures.look_over import draw_look_over
from trainer.figures.offset import draw_offset
from trainer.figures.pull import draw_pull
from trainer.figures.pull_box import draw_pull_box
from trainer.figures.pull_grip import draw_pull_grip
from trainer.figures.raceway_section import draw_raceway_count, draw_raceway_section, draw_raceway_size
from trainer.figures.rack import draw_rack
from trainer.figures.riser import draw_riser
from trainer.figures.rolling_offset import draw_rolling_offset
from trainer.figures.run_in_space import draw_run_in_space
from trainer.figures.run_walk import draw_run_walk
from trainer.figures.saddle import draw_four_point_saddle, draw_three_point_saddle
from trainer.figures.segment import draw_segment
from trainer.figures.slip_made import draw_slip_made
from trainer.figures.strap_layout import draw_strap_layout
from trainer.figures.strap_places import draw_strap_places
from trainer.figures.straps import draw_straps
from trainer.figures.stretches import draw_stretches
from trainer.figures.stub_up import draw_stub_up
from trainer.figures.support import SUPPORTS, draw_support
from trainer.figures.tape import draw_tape
from trainer.figures.wall import WALLS, draw_wall
from trainer.figures.wet_wall import draw_wet_box, draw_wet_wall
from trainer.figures.words import Say, Words

__all__ = ["FIGURES", "Figure", "draw_figure", "figure_for"]


class Figure(Struct, frozen=True):
    """
    One figure.

    Args:
        draw: Draws it; arguments as `draw_figure` hands them on.
        calculation: Name of the calculation whose result it draws; "" for none.
        takes: Name of an input that takes a calculation's place, "" for none.
        words: What may stand in that input.
        lettered: Whether it letters what can be chosen; it is handed `lettered` then.
    """

    draw: Callable[..., str]
    calculation: str = ""
    takes: str = ""
    words: tuple[str, ...] = ()
    lettered: bool = False


def _fitting(
    inputs: Mapping[str, Any], result: Any, words: Words, *, wrong: Mapping[str, Any], solved: bool, key: str
) -> str:
    """The fitting that is named, or those that the core finds suitable, with a learner's wrong choice below."""
    if "fitting" in inputs:
        return draw_fitting([inputs["fitting"]], words, key=key)
    suitable = [judged.fitting for judged in result.suitable]
    if not solved or not suitable:
        return ""
    chosen = [choice for value in wrong.values() for choice in ([value] if isinstance(value, str) else value)]
    yours = [choice for choice in chosen if choice in FITTINGS and choice not in suitable]
    return draw_fitting(_unlike(suitable)[:2], words, yours=_unlike(yours)[:1], key=key)


def _unlike(fittings: Sequence[str]) -> list[str]:
    """One of each that look alike in section: a page is no catalogue."""
    shapes = {FITTINGS[fitting]: fitting for fitting in reversed(fittings)}
    return list(reversed(shapes.values()))


def _cut_end(
    inputs: Mapping[str, Any], _result: Any, words: Words, *, wrong: Mapping[str, Any], solved: bool, key: str
) -> str:
    """The end that is named; nothing about it is to be found or to be wrong."""
    del wrong, solved
    return draw_cut_end(inputs["state"], words, key)


def _support(
    inputs: Mapping[str, Any], _result: Any, words: Words, *, wrong: Mapping[str, Any], solved: bool, key: str
) -> str:
    """The strap or hanger that is named."""
    del wrong, solved
    return draw_support(inputs, words, key)


def _conduit_body(
    inputs: Mapping[str, Any], result: Any, words: Words, *, wrong: Mapping[str, Any], solved: bool, key: str
) -> str:
    """The body whose openings are named, or the one that a calculation is about."""
    if "opening" in inputs:
        return draw_openings(inputs["opening"], words, key)
    return draw_conduit_body(inputs, result, words, wrong=wrong, solved=solved, key=key)


def _bender(
    inputs: Mapping[str, Any], _result: Any, words: Words, *, wrong: Mapping[str, Any], solved: bool, key: str
) -> str:
    """The bender before a bend of the angle that is named."""
    del wrong, solved
    return draw_bender(inputs["bend"], words, key)


def _bender_sits(
    inputs: Mapping[str, Any], _result: Any, words: Words, *, wrong: Mapping[str, Any], solved: bool, key: str
) -> str:
    """The bender on its mark for the bend that is named."""
    del wrong, solved
    return draw_bender_sits(inputs["setting"], words, key)


def _wall(
    inputs: Mapping[str, Any], _result: Any, words: Words, *, wrong: Mapping[str, Any], solved: bool, key: str
) -> str:
    """From what to what one measures on a wall."""
    del wrong, solved
    return draw_wall(inputs["shows"], words, key)


#: The figures by name.
FIGURES: Mapping[str, Figure] = MappingProxyType(
    {
        "offset": Figure(draw_offset, "offset"),
        "box_offset": Figure(draw_box_offset, "box_offset"),
        "stub_up": Figure(draw_stub_up, "stub_up"),
        "saddle": Figure(draw_three_point_saddle, "three_point_saddle"),
        "wide_saddle": Figure(draw_four_point_saddle, "four_point_saddle"),
        "back_to_back": Figure(draw_back_to_back, "back_to_back"),
        "kick": Figure(draw_kick, "kick"),
        "rolling_offset": Figure(draw_rolling_offset, "rolling_offset"),
        "run_in_space": Figure(draw_run_in_space, "run_in_space"),
        "slip_made": Figure(draw_slip_made, "slip_made"),
        "rack": Figure(draw_rack, "parallel_offset"),
        "segment": Figure(draw_segment, "segment_bend"),
        "straps": Figure(draw_straps, "strap_count"),
        "riser": Figure(draw_riser, "strap_count"),
        "framing": Figure(draw_framing, "framing_support"),
        "strap_layout": Figure(draw_strap_layout, "strap_check"),
        "stretches": Figure(draw_stretches, "material_list"),
        "code_book": Figure(draw_code_book, "code_place"),
        "run_walk": Figure(draw_run_walk, "run_walk", lettered=True),
        "bend_stretches": Figure(draw_bend_stretches, "bend_stretches", lettered=True),
        "look_over": Figure(draw_look_over, "look_over", lettered=True),
        "strap_places": Figure(draw_strap_places, "strap_places", lettered=True),
        "cut_plan": Figure(draw_cut_plan, "cut_plan"),
        "tape": Figure(draw_tape, "tape_reading"),
        "lengths": Figure(draw_lengths, "length_sum"),
        "box_run": Figure(draw_box_run, "cut_length"),
        "bent_piece": Figure(draw_bent_piece, "bent_cut_length"),
        "bend_total": Figure(draw_bend_total, "bend_total"),
        "raceway_section": Figure(draw_raceway_section, "raceway_fill"),
        "raceway_size": Figure(draw_raceway_size, "raceway_size"),
        "raceway_count": Figure(draw_raceway_count, "max_conductors"),
        "jam": Figure(draw_jam, "jam_ratio"),
        "pull": Figure(draw_pull, "pulling_tension"),
        "pull_one_way": Figure(partial(draw_pull, tells=("a-to-b",)), "pulling_tension"),
        "pull_both_ways": Figure(partial(draw_pull, tells=("a-to-b", "b-to-a")), "pulling_tension"),
        "pull_pressure": Figure(partial(draw_pull, tells=("a-to-b", "pressure")), "pulling_tension"),
        "pull_grip": Figure(draw_pull_grip, "pulling_tension"),
        "circuit_drop": Figure(draw_circuit_drop, "voltage_drop"),
        "circuit_ampacity": Figure(draw_circuit_ampacity, "ampacity"),
        "circuit_load": Figure(draw_circuit_load, "ampacity"),
        "circuit_ground": Figure(draw_circuit_ground, "ground_size"),
        "box_content": Figure(draw_box_content, "box_fill"),
        "box_count": Figure(draw_box_count, "box_max_conductors"),
        "pull_box": Figure(draw_pull_box, "pull_box"),
        "corner_body": Figure(draw_corner_body, "pull_box"),
        "joints": Figure(draw_joints, "material_list"),
        "knockout_step": Figure(draw_knockout_step, "knockout_step"),
        "bore": Figure(draw_bore, "cut_end"),
        "wet_wall": Figure(draw_wet_wall, "wet_wall"),
        "wet_box": Figure(draw_wet_box, "wet_wall"),
        "expansion": Figure(draw_expansion, "thermal_change"),
        "expansion_setting": Figure(draw_expansion_setting, "expansion_setting"),
        "conduit_body": Figure(_conduit_body, "conduit_body", "opening", tuple(OPENINGS)),
        "fitting": Figure(_fitting, "fitting_choice", "fitting", tuple(FITTINGS)),
        "bender": Figure(_bender, "", "bend", tuple(BENDER_ANGLES)),
        "bender_sits": Figure(_bender_sits, "", "setting", tuple(SETTINGS)),
        "support": Figure(_support, "", "support", tuple(SUPPORTS)),
        "wall": Figure(_wall, "", "shows", tuple(WALLS)),
        "cut_end": Figure(_cut_end, "", "state", tuple(CUT_ENDS)),
    }
)


def figure_for(calculation: str) -> str:
    """
    Name of the figure that draws a calculation's result, "" when none does.

    >>> figure_for("strap_count")
    'straps'
    """
    return next((name for name, figure in FIGURES.items() if calculation and figure.calculation == calculation), "")


def draw_figure(
    name: str,
    inputs: Mapping[str, object],
    result: object = None,
    *,
    say: Say,
    wrong: Mapping[str, float | str | tuple[str, ...]] | None = None,
    solved: bool = True,
    key: str = "",
    lettered: Lettered = PLAIN,
) -> str:
    """
    One figure as an `<svg>` element; `trainer/web/static/css/figures.css` colours it.

    Args:
        name: A key of `FIGURES`.
        inputs: Inputs of its calculation, values or texts as typed; or the word that it takes.
        result: The calculation's result; worked out here when left out.
        say: Puts a message into words of the reader's language.
        wrong: A learner's wrong value by the name of the output (a choice by its id); drawn beside the right one.
        solved: Whether the answer may be seen; False draws only what is given.
        key: Tells apart equal figures on one page, whose ids would be equal otherwise.
        lettered: Letters of what can be chosen, for figures that have them.

    Returns:
        The element, "" where there is nothing to show.

    Raises:
        KeyError: When there is no such figure, or it lacks an input.
        InputError: When the calculation refuses an input.
    """
    figure = FIGURES[name]
    if figure.takes in inputs or not figure.calculation:
        return figure.draw(inputs, None, Words(say), wrong=wrong or {}, solved=solved, key=key)
    calculation = CATALOGUE[figure.calculation]
    values = {given: calculation.input(given).value(value) for given, value in inputs.items() if value is not None}
    result = calculation.solve(values) if result is None else result
    more = {"lettered": lettered} if figure.lettered else {}
    return figure.draw(values, result, Words(say), wrong=wrong or {}, solved=solved, key=key, **more)
