"""Tubing Trainer: learn to handle electrical metallic tubing, and show what you can do."""

from __future__ import annotations

import gc
from functools import cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

    from flask import Flask

    from trainer.config import Settings

__all__ = ["create_app", "load"]

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
    return load()(settings)


@cache
def load() -> Callable[[Settings | None], Flask]:
    """
    Load the program, once in a process, and hand back what builds the application.

    What loading makes stays to the end, so that looking for garbage among it, some 300 times, would cost a tenth of the
    start; and processes that are forked afterwards share it, as the collector no longer touches it.
    """
    gc.disable()
    try:
        # Imported here so that the pure layers below can be imported without Flask.
        from trainer.web.app import build
    finally:
        gc.enable()
    gc.freeze()
    return build
