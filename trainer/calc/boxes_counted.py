"""What each thing in a box counts, kind by kind. Cubic inches."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct

from trainer.calc.conductors import ConductorGroup, size_name
from trainer.calc.inputs import Input, Kind
from trainer.calc.message import Message
from trainer.calc.tables import table
from trainer.calc.trace import note, steps

__all__ = [
    "ALLOWANCES",
    "CLAMPS",
    "CONDUCTORS",
    "DEVICES",
    "EDITION",
    "EQUIPMENT_GROUNDS",
    "HICKEYS",
    "ISOLATED_GROUNDS",
    "LOOPS",
    "STUDS",
    "TERMINAL_BLOCKS",
    "Fittings",
    "Groups",
    "conductors_take",
    "cu_in",
    "devices_take",
    "fittings_take",
    "grounds_take",
    "loops_take",
    "terminal_blocks_take",
]

_TABLE = table("boxes")
_LOOP: int = _TABLE["counting"]["loop"]
_DEVICE: int = _TABLE["counting"]["device"]
_FREE_GROUNDS: int = _TABLE["grounds"]["free"]
_EACH_FURTHER_GROUND: float = _TABLE["grounds"]["each_further"]
_TABLES: Mapping[str, str] = _TABLE["allowance"]["tables"]

#: Room for one conductor of a size [in3].
ALLOWANCES: Mapping[str, float] = _TABLE["allowance"]["sizes"]

CONDUCTORS = Input("conductors", Kind.SIZES, "8 #12, 2 #14")
DEVICES = Input("devices", Kind.SIZES, "1 #12", optional=True)
CLAMPS = Input("clamps", Kind.PRESENT, "1", "count", optional=True, least=0, most=100)
EQUIPMENT_GROUNDS = Input("equipment_grounds", Kind.SIZES, "2 #12", optional=True)
LOOPS = Input("loops", Kind.SIZES, "1 #12", optional=True)
STUDS = Input("studs", Kind.PRESENT, "1", "count", optional=True, least=0, most=100)
HICKEYS = Input("hickeys", Kind.PRESENT, "1", "count", optional=True, least=0, most=100)
TERMINAL_BLOCKS = Input("terminal_blocks", Kind.SIZES, "1 #10", optional=True)
ISOLATED_GROUNDS = Input("isolated_grounds", Kind.SIZES, "1 #12", optional=True)
EDITION = Input("edition", Kind.CHOICE, "2023", optional=True, choices=tuple(_TABLES))

Groups = tuple[ConductorGroup, ...]


def cu_in(volume: float) -> str:
    """A volume to all the decimals of its table."""
    return f"{volume:g} cu in"


@steps(conductor_volume="cu in")
def conductors_take(conductors: Groups, edition: str) -> float:
    """Conductors that end in the box or run through it unbroken: one allowance each."""
    conductor_allowances = _allowances(CONDUCTORS, conductors, edition, "conductor_allowances")
    if not conductor_allowances:
        return 0.0
    conductor_volume = sum(conductor_allowances)
    return conductor_volume  # noqa: RET504 - the assignment is the step


@steps(loop_volume="cu in")
def loops_take(loops: Groups, edition: str) -> float:
    """Unbroken loops of at least twice the free length: two allowances each."""
    loop_allowances = _allowances(LOOPS, loops, edition, "loop_allowances")
    if not loop_allowances:
        return 0.0
    times = _LOOP
    note("times", "boxes.loop", times=times)
    loop_volume = times * sum(loop_allowances)
    return loop_volume  # noqa: RET504 - the assignment is the step


@steps(device_volume="cu in")
def devices_take(devices: Groups, edition: str) -> float:
    """Yokes with devices: two allowances each, of the largest conductor on it."""
    device_allowances = _allowances(DEVICES, devices, edition, "device_allowances")
    if not device_allowances:
        return 0.0
    times = _DEVICE
    note("times", "boxes.device", times=times)
    device_volume = times * sum(device_allowances)
    return device_volume  # noqa: RET504 - the assignment is the step


class Fittings(Struct, frozen=True):
    """What clamps, studs and hickeys take [in3]."""

    clamp_volume: float = 0.0
    stud_volume: float = 0.0
    hickey_volume: float = 0.0


@steps(clamp_volume="cu in", stud_volume="cu in", hickey_volume="cu in")
def fittings_take(clamps: int, studs: int, hickeys: int, everything: Groups) -> Fittings:
    """Internal clamps, luminaire studs, hickeys: one allowance for all of a kind, of the largest conductor in the box."""
    for given, count in ((CLAMPS, clamps), (STUDS, studs), (HICKEYS, hickeys)):
        if count and not everything:
            raise given.refuse(Message("boxes.no-conductor"), given.written(count))
    if not (clamps or studs or hickeys):
        return Fittings()
    largest = max(ALLOWANCES[group.size] for group in everything)
    note("largest", "boxes.largest", allowance=cu_in(largest))
    clamp_volume = stud_volume = hickey_volume = 0.0
    if clamps:
        clamp_volume = largest
    if studs:
        stud_volume = largest
    if hickeys:
        hickey_volume = largest
    return Fittings(clamp_volume, stud_volume, hickey_volume)


@steps(ground_volume="cu in")
def grounds_take(grounds: Groups, isolated: Groups, edition: str) -> float:
    """Equipment grounding conductors, by the rule of the edition."""
    ordinary = _allowances(EQUIPMENT_GROUNDS, grounds, edition, "largest_ground")
    set_apart = _allowances(ISOLATED_GROUNDS, isolated, edition, "largest_ground")
    if not ordinary and not set_apart:
        return 0.0
    if edition == "2017":
        note("largest_ground", "boxes.grounds-2017")
        largest_ground, largest_isolated = max(ordinary, default=0.0), max(set_apart, default=0.0)
        ground_volume = largest_ground + largest_isolated
        return ground_volume  # noqa: RET504 - the assignment is the step
    return _grounds_by_quarters((*ordinary, *set_apart), edition)


@steps(ground_volume="cu in")
def _grounds_by_quarters(ground_allowances: tuple[float, ...], edition: str) -> float:
    """The rule since 2020: one for up to four, a quarter for each further one, all by the largest."""
    largest_ground, count = max(ground_allowances), len(ground_allowances)
    free, each_further = _FREE_GROUNDS, _EACH_FURTHER_GROUND
    note("largest_ground", "boxes.grounds-by-quarters", free=free, edition=edition)
    ground_volume = largest_ground * (1 + each_further * max(count - free, 0))
    return ground_volume  # noqa: RET504 - the assignment is the step


@steps(terminal_volume="cu in")
def terminal_blocks_take(terminal_blocks: Groups, edition: str) -> float:
    """Terminal block assemblies: one allowance each, of the largest conductor on it, since 2023."""
    terminal_allowances = _allowances(TERMINAL_BLOCKS, terminal_blocks, edition, "terminal_allowances")
    if not terminal_allowances:
        return 0.0
    if edition < _TABLE["terminal_blocks"]["since"]:
        note("terminal_volume", "boxes.no-terminal-blocks", edition=edition)
        return 0.0
    terminal_volume = sum(terminal_allowances)
    return terminal_volume  # noqa: RET504 - the assignment is the step


@steps()
def _allowances(given: Input, groups: Groups, edition: str, about: str) -> tuple[float, ...]:
    """The allowance of each conductor, one by one; the look-ups are said once a size."""
    found: tuple[float, ...] = ()
    for group in groups:
        if group.size not in ALLOWANCES:
            raise given.refuse(Message("boxes.too-large", {"size": size_name(group.size)}), given.written(groups))
        allowance = ALLOWANCES[group.size]
        params = {"count": group.count, "size": size_name(group.size), "allowance": cu_in(allowance)}
        note(about, f"boxes.allowance.{given.name}", table=_TABLES[edition], **params)
        found = (*found, *([allowance] * group.count))
    return found
