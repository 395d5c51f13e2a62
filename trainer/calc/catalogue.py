"""Every calculation by name."""

from __future__ import annotations

from collections.abc import Mapping
from difflib import get_close_matches
from types import MappingProxyType

from trainer.calc.ampacity import AMPACITY
from trainer.calc.back_to_back import BACK_TO_BACK
from trainer.calc.bend_diagnosis import BEND_DIAGNOSIS
from trainer.calc.bend_stretches import BEND_STRETCHES
from trainer.calc.bend_total import BEND_TOTAL
from trainer.calc.bent_cut_length import BENT_CUT_LENGTH
from trainer.calc.box_offset import BOX_OFFSET
from trainer.calc.boxes import BOX_FILL
from trainer.calc.boxes_count import BOX_MAX_CONDUCTORS
from trainer.calc.calculation import Calculation, Output
from trainer.calc.code_place import CODE_PLACE
from trainer.calc.conduit_body import CONDUIT_BODY
from trainer.calc.cut_end import CUT_END
from trainer.calc.cut_length import CUT_LENGTH
from trainer.calc.cut_plan import CUT_PLAN
from trainer.calc.expansion import THERMAL_CHANGE
from trainer.calc.expansion_setting import EXPANSION_SETTING
from trainer.calc.fill import RACEWAY_FILL
from trainer.calc.fill_count import MAX_CONDUCTORS
from trainer.calc.fill_jam import JAM_RATIO
from trainer.calc.fill_size import RACEWAY_SIZE
from trainer.calc.fitting_choice import FITTING_CHOICE
from trainer.calc.four_point_saddle import FOUR_POINT_SADDLE
from trainer.calc.framing_support import FRAMING_SUPPORT
from trainer.calc.gain import GAIN
from trainer.calc.grounding import GROUND_SIZE
from trainer.calc.inputs import Input, Kind
from trainer.calc.kick import KICK
from trainer.calc.knockout_step import KNOCKOUT_STEP
from trainer.calc.length_sum import LENGTH_SUM
from trainer.calc.look_over import LOOK_OVER
from trainer.calc.material_list import MATERIAL_LIST
from trainer.calc.measure_shoe import MEASURE_SHOE
from trainer.calc.message import InputError, Message
from trainer.calc.offset import OFFSET
from trainer.calc.parallel_offset import PARALLEL_OFFSET
from trainer.calc.pull_boxes import PULL_BOX
from trainer.calc.pulling import PULLING_TENSION
from trainer.calc.rolling_offset import ROLLING_OFFSET
from trainer.calc.run_in_space import RUN_IN_SPACE
from trainer.calc.run_walk import RUN_WALK
from trainer.calc.segment_bend import SEGMENT_BEND
from trainer.calc.slip_made import SLIP_MADE
from trainer.calc.strap_check import STRAP_CHECK
from trainer.calc.strap_places import STRAP_PLACES
from trainer.calc.straps import STRAP_COUNT
from trainer.calc.stub_up import STUB_UP
from trainer.calc.tape_reading import TAPE_READING
from trainer.calc.three_point_saddle import THREE_POINT_SADDLE
from trainer.calc.voltage import VOLTAGE_DROP
from trainer.calc.wet_wall import WET_WALL

__all__ = ["CATALOGUE", "Calculation", "Input", "Kind", "Output", "find_calculation"]

_ALL = (
    *(OFFSET, BOX_OFFSET, ROLLING_OFFSET, RUN_IN_SPACE, THREE_POINT_SADDLE, FOUR_POINT_SADDLE, PARALLEL_OFFSET, KICK),
    *(BACK_TO_BACK, GAIN, SEGMENT_BEND, MEASURE_SHOE, BEND_DIAGNOSIS, SLIP_MADE),
    *(
        STUB_UP,
        BEND_TOTAL,
        BEND_STRETCHES,
        STRAP_COUNT,
        STRAP_CHECK,
        STRAP_PLACES,
        RUN_WALK,
        FRAMING_SUPPORT,
        LOOK_OVER,
        CUT_PLAN,
        MATERIAL_LIST,
        FITTING_CHOICE,
        CODE_PLACE,
    ),
    *(TAPE_READING, LENGTH_SUM, CUT_LENGTH, BENT_CUT_LENGTH),
    *(CUT_END, KNOCKOUT_STEP, CONDUIT_BODY, WET_WALL, EXPANSION_SETTING),
    *(RACEWAY_FILL, RACEWAY_SIZE, MAX_CONDUCTORS, JAM_RATIO),
    *(BOX_FILL, BOX_MAX_CONDUCTORS, PULL_BOX),
    *(AMPACITY, VOLTAGE_DROP, GROUND_SIZE, THERMAL_CHANGE, PULLING_TENSION),
)

#: Every calculation by its name. The tests hold each against its function's signature and its result's fields.
CATALOGUE: Mapping[str, Calculation] = MappingProxyType({entry.name: entry for entry in _ALL})


def find_calculation(name: str) -> Calculation:
    """
    The calculation of this name.

    Raises:
        InputError: When there is none, with the nearest name.
    """
    if name in CATALOGUE:
        return CATALOGUE[name]
    near = get_close_matches(name[:60].replace("-", "_"), CATALOGUE, n=1)
    reason = Message("solve.unknown-near", {"near": near[0]}) if near else Message("solve.unknown")
    raise InputError(
        reason if name else Message("solve.no-calculation"),
        given=name,
        accepted=Message("solve.calculations", {"names": ", ".join(CATALOGUE)}),
        example=OFFSET.example,
        field="calculation",
    )
