"""
The source of a function as it was when the program started, from which the tracer compiles its twin.

Held sources are read once, so that a program upgraded under a running server writes down the steps of the one that runs.
"""

from __future__ import annotations

import inspect
import sys
from pathlib import Path
from types import FunctionType

__all__ = ["hold_source", "source_of"]

#: Lines of each held module, by its name.
_LINES: dict[str, list[str]] = {}


def hold_source(module: str) -> None:
    """Read the source of a module that is loaded; a second call changes nothing, nor one for a module without a file."""
    file = getattr(sys.modules.get(module), "__file__", None)
    if module not in _LINES and file is not None:
        _LINES[module] = Path(file).read_text("utf-8").splitlines(keepends=True)


def source_of(function: FunctionType) -> tuple[str, int]:
    """
    The source of a function, decorators included, and the number of its first line.

    Raises:
        OSError: When its module is not held and there is no source to read.
    """
    held = _LINES.get(function.__module__)
    if held is None:
        lines, first = inspect.getsourcelines(function)
    else:
        first = function.__code__.co_firstlineno
        lines = inspect.getblock(held[first - 1 :])
    return "".join(lines), first
