"""The bench: today's numbers in, marks out; the shop's shoes."""

from __future__ import annotations

from trainer.web.pages.bench import pages, shoes, wrong
from trainer.web.pages.bench.blueprint import blueprint

__all__ = ["blueprint", "pages", "shoes", "wrong"]
