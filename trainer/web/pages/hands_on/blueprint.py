"""The blueprint that the pages of hands-on checks share, and words that several of them need."""

from __future__ import annotations

from flask import Blueprint

from trainer.web.measured import as_measured, asked_before, inches, last_day, wanted

__all__ = ["as_measured", "asked_before", "blueprint", "inches", "last_day", "wanted"]

blueprint = Blueprint("hands_on", __name__)
