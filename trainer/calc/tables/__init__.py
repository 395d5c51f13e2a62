"""
The trade's tables: one TOML file a subject, each group with its source and how it was checked.

`checked` is "two sources", "computed" or "from memory"; a nearer key wins over one further out. Editions are those of
NFPA 70 where a group names one.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any

__all__ = ["table"]


@cache
def table(name: str) -> Mapping[str, Any]:
    """
    The table file of this name, read once.

    Raises:
        FileNotFoundError: When there is none.

    >>> table("bends")["hand_bender_shoe"]["rows"][0]["trade_size"]
    '1/2'
    """
    return tomllib.loads(files(__name__).joinpath(f"{name}.toml").read_text(encoding="utf-8"))
