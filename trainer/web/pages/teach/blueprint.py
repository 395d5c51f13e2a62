"""The blueprint that the leaders' pages share, each in a module of its own, and who is let in."""

from __future__ import annotations

from flask import Blueprint

from trainer.web.navigation import LEADERS

__all__ = ["LEADERS", "blueprint"]

blueprint = Blueprint("teach", __name__)
