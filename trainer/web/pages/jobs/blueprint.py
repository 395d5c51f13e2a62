"""The blueprint that the pages of job types and of readiness share, and what they have in common."""

from __future__ import annotations

from flask import Blueprint

from trainer.problems.hands_on import KINDS
from trainer.progress.needs import Need, RegistrationNeed, SkillNeed
from trainer.web.language import gettext

__all__ = ["blueprint", "need_name"]

blueprint = Blueprint("jobs", __name__)


def need_name(need: Need) -> str:
    """What to call a part of a job type."""
    if isinstance(need, SkillNeed):
        return need.title
    if isinstance(need, RegistrationNeed):
        return gettext("License in date") if need.what == "licence" else gettext("Registration or license in date")
    title = KINDS[need.kind].title if need.kind in KINDS else need.kind
    return gettext("By hand: %(check)s, %(size)s EMT") % {
        "check": title[:1].lower() + title[1:],
        "size": need.trade_size,
    }
