"""The wire-type equipment grounding conductor: by its device, in proportion to larger phases, never above the circuit."""

from __future__ import annotations

from msgspec import Struct

from trainer.calc import conductors as listed
from trainer.calc.calculation import Calculation, Output
from trainer.calc.conductors import SIZES, SLACK, is_smaller, size_name
from trainer.calc.inputs import Input, Kind
from trainer.calc.message import Message, Quantity
from trainer.calc.tables import table
from trainer.calc.trace import note, steps

__all__ = ["GROUND_SIZE", "GroundSize", "ground_size"]

_TABLE = table("grounding")
_COLUMN = {name: place for place, name in enumerate(_TABLE["least"]["columns"])}
_ROWS = _TABLE["least"]["rows"]

#: Sizes with circular mils in Table 8, and kcmil sizes above it.
_SIZES = SIZES[SIZES.index("14") :]

OVERCURRENT_DEVICE = Input("overcurrent_device", Kind.NUMBER, "60 A", "A", above=0, most=_ROWS[-1][0])
MATERIAL = Input("material", Kind.CHOICE, "copper", choices=("copper", "aluminum"))
MINIMUM_PHASE_SIZE = Input("minimum_phase_size", Kind.CONDUCTOR_SIZE, "6", optional=True, choices=_SIZES)
INSTALLED_PHASE_SIZE = Input("installed_phase_size", Kind.CONDUCTOR_SIZE, "4", optional=True, choices=_SIZES)
EDITION = Input("edition", Kind.CHOICE, "2023", optional=True, choices=tuple(_TABLE["larger"]["rule"]))


class GroundSize(Struct, frozen=True):
    """
    The least equipment grounding conductor.

    Args:
        conductor_size: Its size.
        table_size: What the device alone asks for.
        needed: Circular mils in proportion to the phase conductors; None where they are not larger than needed.
        held_to_circuit: Whether the circuit conductors are smaller than that, so that they set the size.
    """

    conductor_size: str
    table_size: str
    needed: float | None
    held_to_circuit: bool


@steps()
def ground_size(
    overcurrent_device: float,
    material: str,
    minimum_phase_size: str | None = None,
    installed_phase_size: str | None = None,
    edition: str = "2023",
) -> GroundSize:
    """
    The least wire-type equipment grounding conductor of a circuit.

    Args:
        overcurrent_device: Rating of the device ahead [A], up to 4000.
        material: Of the grounding conductor: "copper" or "aluminum".
        minimum_phase_size: The phase conductors that would have been enough.
        installed_phase_size: The phase conductors that are there; larger for another reason than heat or bundling.
        edition: Of NFPA 70, for the wording of the rule.

    Raises:
        InputError: When a value lies outside its range, or the installed phases are smaller than they may be.

    Source: NFPA 70-2023 Table 250.122, 250.122(A), (B).

    >>> ground_size(60, "copper", "6", "4").conductor_size
    '8'
    """
    values = (overcurrent_device, material, minimum_phase_size, installed_phase_size, edition)
    for given, value in zip(GROUND_SIZE.inputs, values, strict=True):
        given.check(value)
    table_size = _by_device(overcurrent_device, material)
    wanted, needed = table_size, None
    if minimum_phase_size is not None and installed_phase_size is not None:
        needed = _in_proportion(table_size, minimum_phase_size, installed_phase_size, edition)
        wanted = _standard(needed) if needed is not None else table_size
    conductor_size = _held(wanted, installed_phase_size or minimum_phase_size, material)
    return GroundSize(conductor_size, table_size, needed, conductor_size != wanted)


@steps()
def _by_device(overcurrent_device: float, material: str) -> str:
    """The first row of the table whose rating the device does not exceed."""
    row = next(row for row in _ROWS if overcurrent_device <= row[0])
    table_size: str = row[_COLUMN[material]]
    params = {"device": Quantity(overcurrent_device, "A"), "row": Quantity(row[0], "A")}
    note("conductor_size", "ground.table", material=material, size=size_name(table_size), **params)
    return table_size


@steps(needed="cmil")
def _in_proportion(table_size: str, minimum: str, installed: str, edition: str) -> float | None:
    """Circular mils that grow as those of the phases did; None where they did not."""
    if is_smaller(installed, than=minimum):
        reason = Message("ground.phases-too-small", {"minimum": size_name(minimum)})
        raise INSTALLED_PHASE_SIZE.refuse(reason, installed)
    if installed == minimum:
        note("conductor_size", "ground.not-larger")
        return None
    note("conductor_size", f"ground.rule-{_TABLE['larger']['rule'][edition]}", edition=edition)
    for name, size in (("table_area", table_size), ("installed_area", installed), ("minimum_area", minimum)):
        note(name, "ground.circular-mils", size=size_name(size), area=listed.circular_mils(size))
    table_area, installed_area = listed.circular_mils(table_size), listed.circular_mils(installed)
    minimum_area = listed.circular_mils(minimum)
    needed = table_area * installed_area / minimum_area
    note("conductor_size", "ground.needed", "needed", needed=Quantity(needed, "cmil"))
    return needed


@steps()
def _standard(needed: float) -> str:
    """The next standard size; printed circular mils are rounded, so a tenth of a percent is let go."""
    size = next((each for each in _SIZES if listed.circular_mils(each) >= needed * (1 - SLACK)), _SIZES[-1])
    note("conductor_size", "ground.standard", size=size_name(size), area=listed.circular_mils(size))
    return size


@steps()
def _held(wanted: str, phases: str | None, material: str) -> str:
    """Never larger than the circuit conductors, and never smaller than the least size of the metal."""
    least: str = _ROWS[0][_COLUMN[material]]
    if phases is None or not is_smaller(phases, than=wanted):
        return wanted
    size = least if is_smaller(phases, than=least) else phases
    note("conductor_size", "ground.held", size=size_name(size))
    return size


GROUND_SIZE = Calculation(
    name="ground_size",
    function=ground_size,
    inputs=(OVERCURRENT_DEVICE, MATERIAL, MINIMUM_PHASE_SIZE, INSTALLED_PHASE_SIZE, EDITION),
    outputs=(
        Output("conductor_size"),
        Output("table_size"),
        Output("needed", "cmil", optional=True),
        Output("held_to_circuit"),
    ),
    sources=(
        _TABLE["least"]["source"],
        f"{_TABLE['larger']['source']}: from memory",
        f"circular mils: {table('conductors')['properties']['source']}",
    ),
    area="grounding",
    example_inputs={
        "overcurrent_device": "60 A",
        "material": "copper",
        "minimum_phase_size": "6",
        "installed_phase_size": "4",
    },
)
