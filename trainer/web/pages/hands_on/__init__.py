"""Hands-on checks: bench night and single checks for leaders, the own ones for learners, who may sign, registrations."""

from __future__ import annotations

from trainer.web.pages.hands_on import check, night, own, photos, registrations, signers
from trainer.web.pages.hands_on.blueprint import blueprint

__all__ = ["blueprint", "check", "night", "own", "photos", "registrations", "signers"]
