"""The overcurrent device beside a conductor: next standard size, and the caps of small conductors. Amperes."""

from __future__ import annotations

from collections.abc import Mapping

from trainer.calc.message import Quantity
from trainer.calc.tables import table
from trainer.calc.trace import note, steps

__all__ = ["STANDARD_DEVICES", "device_cap", "device_for_load", "largest_device"]

_TABLE = table("ampacity")

#: Standard ratings up to the largest for which the next one may be taken.
STANDARD_DEVICES: tuple[int, ...] = tuple(_TABLE["device"]["standard"])

_CAPS: Mapping[str, Mapping[str, int]] = _TABLE["small_conductors"]


def device_cap(conductor_size: str, material: str) -> int | None:
    """
    The most that may protect a small conductor, whatever its ampacity; None for larger ones.

    >>> device_cap("12", "copper"), device_cap("8", "copper")
    (20, None)
    """
    return _CAPS[material].get(conductor_size)


@steps()
def device_for_load(needed: float) -> float | None:
    """
    The smallest standard device that is enough for a load; None above the largest standard rating.

    Args:
        needed: 125 % of the continuous load and the rest of it [A].
    """
    rating = next((rating for rating in STANDARD_DEVICES if rating >= needed - 1e-9), None)
    if rating is None:
        return None
    note("load_device", "ampacity.load-device", "needed", device=Quantity(rating, "A"), needed=Quantity(needed, "A"))
    return float(rating)


@steps(overcurrent_device="A")
def largest_device(ampacity: float, conductor_size: str, material: str, *, cord_and_plug: bool) -> float | None:
    """
    The largest standard device that may protect the conductor.

    Args:
        ampacity: Of the conductor as it is laid and connected [A].
        conductor_size: Its size, for the cap.
        material: "copper" or "aluminum".
        cord_and_plug: Whether the circuit feeds several outlets for cords and plugs, so that nothing is rounded up.

    Returns:
        Its rating [A]; None where no standard one is small enough.
    """
    standard = _not_above(ampacity) if cord_and_plug else _next_standard(ampacity)
    if standard is None:
        note("overcurrent_device", "ampacity.no-device", ampacity=Quantity(ampacity, "A"))
        return None
    cap = device_cap(conductor_size, material)
    if cap is None:
        overcurrent_device = standard
        return overcurrent_device  # noqa: RET504 - the assignment is the step
    note("cap", "ampacity.cap", size=conductor_size, material=material, cap=Quantity(cap, "A"))
    overcurrent_device = min(standard, cap)
    return overcurrent_device  # noqa: RET504 - the assignment is the step


@steps()
def _next_standard(ampacity: float) -> float:
    """The standard rating that meets the ampacity, or the next larger one."""
    standard = float(next(rating for rating in STANDARD_DEVICES if rating >= ampacity - 1e-9))
    met = abs(standard - ampacity) < 1e-9
    note("standard", "ampacity.standard" if met else "ampacity.next-standard", standard=Quantity(standard, "A"))
    return standard


@steps()
def _not_above(ampacity: float) -> float | None:
    """The largest standard rating that is not above the ampacity."""
    ratings = [rating for rating in STANDARD_DEVICES if rating <= ampacity + 1e-9]
    if not ratings:
        return None
    note("standard", "ampacity.not-above", standard=Quantity(ratings[-1], "A"))
    return float(ratings[-1])
