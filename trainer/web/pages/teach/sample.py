"""A question seen from behind before it is given out: with its key, its steps and every known mistake."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from flask import render_template, request, url_for
from msgspec import Struct

from trainer.accounts.access import group_led_by
from trainer.groups.sample import sample as sample_of
from trainer.problems.family import Family
from trainer.web.content import edition_of, library
from trainer.web.language import gettext, language
from trainer.web.pages.teach.blueprint import LEADERS, blueprint
from trainer.web.pages.teach.counts import as_fields, read_counts
from trainer.web.sessions import actor
from trainer.web.transactions import reading
from trainer.web.visitors import visitors

__all__ = ["sample"]

MOST_SAMPLES = 99


class WayBack(Struct, frozen=True):
    """Where one came from: its words, its address, and what the address of another sample carries along for it."""

    words: str
    href: str
    kept: Mapping[str, Any]


@blueprint.get("/groups/<group_id>/questions/<family_id>")
@visitors(*LEADERS)
def sample(group_id: str, family_id: str) -> str:
    """A sample; what was chosen so far goes along in the address, so that the way back keeps it."""
    with reading() as session:
        group = group_led_by(session, actor(), group_id)
        edition = edition_of(session)
    nth = min(max(request.args.get("nth", 1, type=int), 1), MOST_SAMPLES)
    found = sample_of(
        library().under(group.organisation.local_rules), family_id, nth, edition=edition, language=language()
    )
    way = _from_results() or _from_list(group_id, family_id)
    return render_template(
        "teach/sample.html",
        group=group,
        sample=found,
        skill=library().skills[found.family.skill],
        way=way,
        parts=_parts(group_id, found.family, nth, way.kept),
        another=url_for("teach.sample", group_id=group_id, family_id=family_id, nth=nth % MOST_SAMPLES + 1, **way.kept),
    )


def _parts(group_id: str, family: Family, nth: int, kept: Mapping[str, Any]) -> list[tuple[str, str]]:
    """The parts of a job, each with the address of its sample with the same numbers; none where it is no job."""
    if family.job is None:
        return []
    job = family.job.job
    addresses = [url_for("teach.sample", group_id=group_id, family_id=part.id, nth=nth, **kept) for part in job.parts]
    return list(zip(job.titles, addresses, strict=True))


def _from_results() -> WayBack | None:
    """Back to what came of one question, where that was looked at."""
    work, line = request.args.get("work", ""), request.args.get("line", 0, type=int)
    if not work or not line:
        return None
    href = url_for("teach.results_of_line", work_id=work, position=line)
    return WayBack(gettext("What came of it"), href, {"work": work, "line": line})


def _from_list(group_id: str, family_id: str) -> WayBack:
    """Back to the list, with what was chosen in it."""
    chosen = as_fields(read_counts(request.args))
    listed, _, _ = family_id.partition(".")
    href = url_for("teach.choose", group_id=group_id, **chosen, _anchor=f"ask-{listed}")
    return WayBack(gettext("The list of questions"), href, chosen)
