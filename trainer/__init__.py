"""Tubing Trainer: learn to handle electrical metallic tubing, and show what you can do."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from flask import Flask

    from trainer.config import Settings

__all__ = ["create_app"]

__version__ = "0.1.0"


def create_app(settings: Settings | None = None) -> Flask:
    """
    Build the web application.

    Args:
        settings: Settings of the site; read from the environment when left out.

    Returns:
        The WSGI application.

    Raises:
        SettingsError: When a setting in the environment cannot be used; the message names it.
    """
    # Imported here so that the pure layers below can be imported without Flask.
    from trainer.web.app import build

    return build(settings)
