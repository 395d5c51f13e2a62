"""The load that a conductor with its device may feed. Amperes."""

from __future__ import annotations

from msgspec import Struct

from trainer.calc.ampacity_device import device_for_load
from trainer.calc.message import Quantity
from trainer.calc.tables import table
from trainer.calc.trace import note, steps

__all__ = ["Load", "Supply", "given_load", "largest_load_on"]

_PERCENT: int = table("ampacity")["continuous"]["percent"]


class Supply(Struct, frozen=True):
    """
    A conductor with its device.

    Args:
        table_limit: Its ampacity before correction and adjustment, within the terminals' column [A].
        ampacity: As laid and connected [A].
        device: The largest that may protect it [A]; None where there is none.
    """

    table_limit: float
    ampacity: float
    device: float | None


class Load(Struct, frozen=True):
    """What is asked of the supply, or the most that may be [A]."""

    largest_load: float | None = None
    needed: float | None = None
    carries: bool | None = None
    load_device: float | None = None


@steps(largest_load="A")
def largest_load_on(supply: Supply, *, continuous: bool) -> Load:
    """The most that the supply may feed, all of it continuous or none."""
    ampacity, table_limit, overcurrent_device = supply.ampacity, supply.table_limit, supply.device
    if overcurrent_device is None:
        return Load()
    if not continuous:
        largest_load = min(ampacity, overcurrent_device)
        return Load(largest_load)
    percent = _PERCENT
    note("percent", "ampacity.continuous", percent=Quantity(percent, "%"))
    largest_load = min(ampacity, 100 * table_limit / percent, 100 * overcurrent_device / percent)
    return Load(largest_load)


@steps(load="A", needed="A")
def given_load(supply: Supply, continuous: float, noncontinuous: float) -> Load:
    """Whether the supply is enough: the load after the factors, with 125 % of its continuous part before them and at the device."""
    percent = _PERCENT
    note("percent", "ampacity.continuous", percent=Quantity(percent, "%"))
    load = continuous + noncontinuous
    needed = continuous * percent / 100 + noncontinuous
    load_device = device_for_load(needed)
    enough = supply.ampacity >= load - 1e-9 and supply.table_limit >= needed - 1e-9
    carries = enough and supply.device is not None and supply.device >= needed - 1e-9
    said = "ampacity.carries" if carries else "ampacity.carries-not"
    note(
        "carries", said, "load", "needed", "ampacity", "table_limit", "overcurrent_device", needed=Quantity(needed, "A")
    )
    return Load(None, needed, carries, load_device)
