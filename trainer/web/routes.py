"""Routes as the application keeps them."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache, partial

from werkzeug.routing import Rule

__all__ = ["LateRule"]


class LateRule(Rule):
    """
    A route that works out how its addresses are put together when the first of them is wanted.

    For all routes at once it is half of what putting the application together takes, and a page links to a few of them. A
    library that calls it otherwise would work it out at the start again, and nothing else: `tests/web/test_start.py` tells.
    """

    def _compile_builder(self, append_unknown: bool = True) -> Callable[..., tuple[str, str]]:
        builder = cache(partial(super()._compile_builder, append_unknown))
        return lambda rule, /, **values: builder()(rule, **values)
