"""Box fill: the room that conductors, devices and fittings take in a box. Cubic inches."""

from __future__ import annotations

from msgspec import Struct

from trainer.calc.boxes_counted import (
    CLAMPS,
    CONDUCTORS,
    DEVICES,
    EDITION,
    EQUIPMENT_GROUNDS,
    HICKEYS,
    ISOLATED_GROUNDS,
    LOOPS,
    STUDS,
    TERMINAL_BLOCKS,
    Groups,
    conductors_take,
    cu_in,
    devices_take,
    fittings_take,
    grounds_take,
    loops_take,
    terminal_blocks_take,
)
from trainer.calc.boxes_named import Box
from trainer.calc.calculation import Calculation, Output
from trainer.calc.inputs import Input, Kind
from trainer.calc.tables import table
from trainer.calc.trace import note, steps

__all__ = ["BOX", "BOX_FILL", "BoxFill", "box_fill"]

_TABLE = table("boxes")

BOX = Input("box", Kind.BOX, "4 x 1-1/2 square", optional=True)
ADDED_VOLUME = Input("added_volume", Kind.NUMBER, "4 cu in", "cu in", optional=True, least=0, most=2000)


class BoxFill(Struct, frozen=True):
    """
    What is in a box, in room that it takes [in3].

    Args:
        volume_required: In all.
        volume_available: Of the box with what is added to it; None without a box.
        fits: Whether that is enough; None without a box.
        left: What stays free, below 0 when the box is too small; None without a box.
        conductor_volume: Of conductors that end here or run through.
        loop_volume: Of unbroken loops.
        device_volume: Of yokes with devices.
        clamp_volume: Of all internal clamps together.
        stud_volume: Of all luminaire studs together.
        hickey_volume: Of all hickeys together.
        ground_volume: Of equipment grounding conductors.
        terminal_volume: Of terminal blocks.
    """

    volume_required: float
    volume_available: float | None
    fits: bool | None
    left: float | None
    conductor_volume: float
    loop_volume: float
    device_volume: float
    clamp_volume: float
    stud_volume: float
    hickey_volume: float
    ground_volume: float
    terminal_volume: float


@steps(volume_required="cu in")
def box_fill(
    conductors: Groups,
    devices: Groups = (),
    clamps: int = 0,
    equipment_grounds: Groups = (),
    *,
    loops: Groups = (),
    studs: int = 0,
    hickeys: int = 0,
    terminal_blocks: Groups = (),
    isolated_grounds: Groups = (),
    edition: str = "2023",
    box: Box | None = None,
    added_volume: float = 0.0,
) -> BoxFill:
    """
    The volume that a box needs, and whether it has it.

    Args:
        conductors: Each that ends in the box or runs through unbroken; not those that stay inside it.
        devices: Each yoke, with the largest conductor on it; a device wider than one gang as so many.
        clamps: How many internal cable clamps; connectors that clamp outside are none.
        equipment_grounds: Equipment grounding conductors.
        loops: Unbroken loops of at least twice the free length.
        studs: How many luminaire studs.
        hickeys: How many hickeys.
        terminal_blocks: Each assembly, with the largest conductor on it; counted from 2023 on.
        isolated_grounds: Isolated equipment grounding conductors.
        edition: Of NFPA 70: "2017", "2020" or "2023".
        box: The box, for what it has.
        added_volume: Of rings, covers and extensions marked with one [in3].

    Raises:
        InputError: When a size takes no allowance here (4 AWG and larger), or a clamp, stud or hickey has no
            conductor to go by.

    Source: NFPA 70-2023 314.16(A), (B); 2020 and 2017 where they differ: grounds, terminal blocks.

    >>> from trainer.calc.wire_lists import read_sizes
    >>> box_fill(read_sizes("8 #12"), read_sizes("1 #12"), 0, read_sizes("5 #12")).volume_required
    25.3125
    """
    for given, value in ((EDITION, edition), (CLAMPS, clamps), (STUDS, studs), (HICKEYS, hickeys)):
        given.check(value)
    ADDED_VOLUME.check(added_volume)
    conductor_volume = conductors_take(conductors, edition)
    loop_volume = loops_take(loops, edition)
    device_volume = devices_take(devices, edition)
    ground_volume = grounds_take(equipment_grounds, isolated_grounds, edition)
    terminal_volume = terminal_blocks_take(terminal_blocks, edition)
    everything = (*conductors, *loops, *devices, *equipment_grounds, *isolated_grounds, *terminal_blocks)
    fittings = fittings_take(clamps, studs, hickeys, everything)
    clamp_volume, stud_volume, hickey_volume = fittings.clamp_volume, fittings.stud_volume, fittings.hickey_volume
    volume_required = (
        conductor_volume
        + loop_volume
        + device_volume
        + clamp_volume
        + stud_volume
        + hickey_volume
        + ground_volume
        + terminal_volume
    )
    room = _room(volume_required, box, added_volume)
    return BoxFill(
        volume_required,
        room.volume_available,
        room.fits,
        room.left,
        conductor_volume,
        loop_volume,
        device_volume,
        clamp_volume,
        stud_volume,
        hickey_volume,
        ground_volume,
        terminal_volume,
    )


class _Room(Struct, frozen=True):
    """What the box has; nothing without a box."""

    volume_available: float | None = None
    fits: bool | None = None
    left: float | None = None


@steps(volume_available="cu in", left="cu in")
def _room(volume_required: float, box: Box | None, added_volume: float) -> _Room:
    if box is None:
        return _Room()
    box_volume = box.volume
    note("box_volume", "boxes.box", name=box.name, volume=cu_in(box_volume))
    volume_available = box_volume + added_volume
    left = volume_available - volume_required
    fits = left > -1e-9
    params = {"required": cu_in(volume_required), "available": cu_in(volume_available)}
    note("fits", "boxes.fits" if fits else "boxes.fits-not", "left", **params)
    return _Room(volume_available, fits, left)


BOX_FILL = Calculation(
    name="box_fill",
    function=box_fill,
    inputs=(
        CONDUCTORS,
        DEVICES,
        CLAMPS,
        EQUIPMENT_GROUNDS,
        LOOPS,
        STUDS,
        HICKEYS,
        TERMINAL_BLOCKS,
        ISOLATED_GROUNDS,
        EDITION,
        BOX,
        ADDED_VOLUME,
    ),
    outputs=(
        Output("volume_required", "cu in"),
        Output("volume_available", "cu in", optional=True),
        Output("fits", optional=True),
        Output("left", "cu in", optional=True),
        Output("conductor_volume", "cu in"),
        Output("loop_volume", "cu in"),
        Output("device_volume", "cu in"),
        Output("clamp_volume", "cu in"),
        Output("stud_volume", "cu in"),
        Output("hickey_volume", "cu in"),
        Output("ground_volume", "cu in"),
        Output("terminal_volume", "cu in"),
    ),
    sources=(
        *(_TABLE[group]["source"] for group in ("counting", "grounds", "terminal_blocks", "allowance", "boxes")),
        "isolated grounding conductors before 2020: from memory",
    ),
    area="boxes",
    example_inputs={
        "conductors": "8 #12",
        "devices": "1 #12",
        "equipment_grounds": "5 #12",
        "box": "4 x 2-1/8 square",
    },
)
