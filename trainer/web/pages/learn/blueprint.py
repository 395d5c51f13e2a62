"""The blueprint that the learner's pages share, each in a module of its own."""

from __future__ import annotations

from flask import Blueprint

__all__ = ["blueprint"]

blueprint = Blueprint("learn", __name__)
