"""An address as a code that a phone's camera reads."""

from __future__ import annotations

from io import BytesIO

import segno
from markupsafe import Markup

from trainer.paper import Figure

__all__ = ["readable_code", "readable_svg"]

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


def readable_svg(address: str, told: str) -> Markup:
    """
    The code of an address for a page: dark on white whatever the page is, since cameras read no other.

    Args:
        address: Where it leads.
        told: What it is, for who cannot see it.
    """
    drawn = segno.make(address, micro=False, error="m").svg_inline(
        border=4, omitsize=True, dark="#000", light="#fff", svgclass=None, lineclass=None
    )
    # Segno writes numbers and nothing of the address itself; the words are escaped here.
    return Markup('<div class="readable" role="img" aria-label="{}">{}</div>').format(told, Markup(drawn))  # noqa: S704
