"""
When what a proof run had shown stopped holding: kept with the skill's state, so that practice alone does not bring it back.

What was shown lapses when a right first try is no longer likely enough, or when the skill is left alone for long. From
then on it counts again only after a proof run that ends after that, the shorter one of somebody once found ready. The
moment is part of the fold over the answers: it costs one look at each of them, and a replay finds the same one. Pure:
nothing here knows a clock or a table.
"""

from __future__ import annotations

from datetime import datetime

from trainer.progress.constants import CURRENT, Constants
from trainer.progress.opening import faded, fades_at
from trainer.progress.skill import SkillState

__all__ = ["had_lapsed", "lapsed", "with_lapse"]


def with_lapse(before: SkillState, after: SkillState, constants: Constants = CURRENT) -> SkillState:
    """
    The state after a counted answer, with the last moment at which nothing shown by then would have held.

    Args:
        before: The state before the answer, as it was left then.
        after: The state after it.
        constants: Table to use.
    """
    now = after.last_at
    if now is None:
        return after
    if faded(after, now, constants):
        lapsed_at: datetime | None = now
    elif before.last_at is not None and faded(before, now, constants):
        lapsed_at = fades_at(before, constants)
    else:
        return after
    return SkillState(after.level, after.variance, after.holding_days, after.counted, now, lapsed_at)


def had_lapsed(state: SkillState, shown_at: datetime) -> bool:
    """Whether what was shown at that moment had lapsed by the last answer. A run that ended on a low chance holds nothing."""
    return state.lapsed_at is not None and state.lapsed_at >= shown_at


def lapsed(state: SkillState, shown_at: datetime, now: datetime) -> bool:
    """Whether what was shown at that moment has to be shown again, were the chance up again meanwhile."""
    return had_lapsed(state, shown_at) or faded(state, now)
