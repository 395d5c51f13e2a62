"""Why a draw is thrown out."""

from __future__ import annotations

__all__ = ["Misfit"]


class Misfit(Exception):  # noqa: N818 - no error: a draw may not fit, and another is made
    """A draw that makes no good problem; the text says why, for the author of the family."""
