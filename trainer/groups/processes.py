"""Work processes by which hours on the job are entered: a small file beside this one."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from types import MappingProxyType

__all__ = ["processes"]


@cache
def processes() -> Mapping[str, str]:
    """Titles of the work processes by their id, in the order in which work goes."""
    text = files("trainer.groups").joinpath("work_processes.toml").read_text(encoding="utf-8")
    return MappingProxyType({one["id"]: one["title"] for one in tomllib.loads(text)["process"]})
