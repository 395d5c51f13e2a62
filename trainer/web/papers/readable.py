"""An address as a code that a phone's camera reads."""

from __future__ import annotations

from io import BytesIO

import segno

from trainer.paper import Figure

__all__ = ["readable_code"]

#: Width of the code beside that of the page.
CODE_SHARE = 0.16


def readable_code(address: str, told: str, share: float = CODE_SHARE) -> Figure:
    """
    The code of an address.

    Args:
        address: Where it leads.
        told: What it is, for who cannot see it.
        share: Part of the page's width that it takes.
    """
    held = BytesIO()
    segno.make(address, micro=False, error="m").save(held, kind="svg", xmldecl=False, nl=False, border=2)
    return Figure(held.getvalue().decode(), told, share)
