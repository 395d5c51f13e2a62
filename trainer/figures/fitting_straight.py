"""Connectors into which the tube runs straight, in section: what holds the tube and what seals."""

from __future__ import annotations

from trainer.figures.fitting_parts import (
    BOX_WALL_LABEL,
    LOCKNUT_LABEL,
    OUTSIDE,
    STOP,
    THROAT,
    TUBE_LABEL,
    Labels,
    Named,
    in_the_wall,
    nipple,
    screw,
    seal,
    tube,
)
from trainer.figures.section import Axle

__all__ = ["compression", "compression_wet", "set_screw", "two_piece"]

#: Inner radius of what slides over the tube [in].
_SLIDES = OUTSIDE + 0.008


def set_screw(axle: Axle) -> Labels:
    """A set-screw connector."""
    tube(axle, -2.3)
    axle.bore(STOP, 0.5, THROAT)
    axle.ring([(-1.15, _SLIDES), (-1.15, 0.45), (-0.16, 0.45), (-0.16, 0.56), *nipple()], "fig-part")
    screw(axle, -0.7, 0.45)
    in_the_wall(axle)
    return Labels(
        above=(Named(-0.7, 0.66, "set-screw"), Named(-0.08, 0.5, "shoulder", "left"), BOX_WALL_LABEL),
        below=(TUBE_LABEL, Named(-1.0, -0.42, "body"), Named(STOP, -0.33, "stop", "left"), LOCKNUT_LABEL),
    )


def _gland(axle: Axle) -> None:
    """Tube, body, split ring and gland nut of a compression connector in the box wall."""
    tube(axle, -2.3)
    axle.bore(STOP, 0.5, THROAT)
    mouth = [(-0.72, _SLIDES), (-0.85, 0.43), (-0.85, 0.48), (-0.36, 0.48), (-0.36, 0.56)]
    axle.ring([*mouth, *nipple()], "fig-part")
    axle.ring([(-1.0, OUTSIDE), (-0.74, OUTSIDE), (-0.86, 0.425), (-1.0, 0.44)], "fig-ring", leftward=True)
    outer = [(-1.22, 0.368), (-1.22, 0.56), (-1.16, 0.6), (-0.46, 0.6), (-0.46, 0.482)]
    axle.ring([*outer, (-1.0, 0.482), (-1.0, 0.446), (-1.06, 0.368)], "fig-nut", leftward=True)
    in_the_wall(axle)


def compression(axle: Axle) -> Labels:
    """A compression connector without sealing rings."""
    _gland(axle)
    return Labels(
        above=(Named(-0.9, 0.54, "gland-nut"), Named(-0.2, 0.5, "body", "left"), BOX_WALL_LABEL),
        below=(TUBE_LABEL, Named(-0.92, -0.4, "split-ring"), Named(STOP, -0.33, "stop", "left"), LOCKNUT_LABEL),
    )


def compression_wet(axle: Axle) -> Labels:
    """A compression connector with a sealing ring on the tube and one at the box."""
    _gland(axle)
    seal(axle, -0.55, OUTSIDE + 0.05)
    seal(axle, -0.045, 0.5, 0.045)
    return Labels(
        above=(BOX_WALL_LABEL, Named(-0.045, 0.5, "seal-at-box", "left"), Named(-0.55, 0.4, "seal-on-tube", "left")),
        below=(TUBE_LABEL, Named(-0.92, -0.4, "split-ring"), Named(-0.6, -0.55, "gland-nut", "right"), LOCKNUT_LABEL),
    )


def two_piece(axle: Axle) -> Labels:
    """A two-piece connector: a sleeve that is slid back over the tube and then over the part in the box."""
    tube(axle, -2.3, -0.82)
    axle.bore(-0.74, 0.5, THROAT)
    spigot = [(-0.74, OUTSIDE), (-0.2, OUTSIDE), (-0.2, 0.56), *nipple()[:-2], (-0.74, THROAT)]
    axle.ring(spigot, "fig-part")
    axle.ring([(-1.4, _SLIDES), (-1.4, 0.45), (-0.24, 0.45), (-0.24, _SLIDES)], "fig-nut", leftward=True)
    screw(axle, -1.1, 0.45)
    screw(axle, -0.48, 0.45)
    in_the_wall(axle)
    return Labels(
        above=(Named(-1.1, 0.6, "set-screw", "left"), Named(-0.78, 0.4, "sleeve"), BOX_WALL_LABEL),
        below=(TUBE_LABEL, Named(-0.78, -0.33, "joint"), Named(-0.1, -0.5, "part-in-box", "left"), LOCKNUT_LABEL),
    )
