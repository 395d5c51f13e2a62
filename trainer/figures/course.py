"""How a share went from answer to answer, with its likely range: 0 to 10 upward, the answers to the right."""

from __future__ import annotations

from collections.abc import Sequence

from trainer.figures.svg import MARGIN, WIDTH, Drawing, polyline

__all__ = ["course_figure"]

LEFT, RIGHT = 40.0, WIDTH - MARGIN
TOP, BOTTOM = 16.0, 176.0
TENTHS = 10


def course_figure(
    shares: Sequence[tuple[float, float, float]], *, title: str, description: str, first: str, last: str
) -> str:
    """
    Draw the course of a share.

    Args:
        shares: After each answer the share, its lower and its upper end, fractions of 1; two at least.
        title: Name of the figure.
        description: What it shows, in sentences with the numbers.
        first: What to write under the first answer.
        last: What to write under the last one.
    """
    drawing = Drawing()
    ends = [(_x(nth, len(shares)), low, high) for nth, (_, low, high) in enumerate(shares)]
    band = [(x, _y(high)) for x, _, high in ends] + [(x, _y(low)) for x, low, _ in reversed(ends)]
    drawing.shape(band, "fig-tube")
    for tenth in (0, TENTHS // 2, TENTHS):
        drawing.line((LEFT, _y(tenth / TENTHS)), (RIGHT, _y(tenth / TENTHS)), "fig-axis")
        drawing.text((LEFT - 6, _y(tenth / TENTHS) + 5), str(tenth), "fig-note", "end")
    points = [(_x(nth, len(shares)), _y(share)) for nth, (share, _, _) in enumerate(shares)]
    drawing.path(polyline(points), "fig-mark")
    drawing.circle(points[-1], 4, "fig-mark-head")
    drawing.text((LEFT, BOTTOM + 20), first, "fig-note")
    drawing.text((RIGHT, BOTTOM + 20), last, "fig-note", "end")
    return drawing.finish(0, BOTTOM + 30, title, description)


def _x(nth: int, of: int) -> float:
    return LEFT + (RIGHT - LEFT) * nth / (of - 1)


def _y(share: float) -> float:
    return BOTTOM - (BOTTOM - TOP) * share
