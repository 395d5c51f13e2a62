"""Job types and who is ready for them."""

from __future__ import annotations

from trainer.web.pages.jobs import board, person, shop, types
from trainer.web.pages.jobs.blueprint import blueprint

__all__ = ["blueprint", "board", "person", "shop", "types"]
