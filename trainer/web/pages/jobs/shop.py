"""The board over all crews of a shop or classes of a school, for its owner."""

from __future__ import annotations

from typing import Any

from flask import render_template, request, url_for

from trainer.groups.shop_board import shop_board
from trainer.web.content import library
from trainer.web.language import gettext
from trainer.web.pages.jobs.answers import answers, day_asked_for, job_page
from trainer.web.pages.jobs.blueprint import blueprint
from trainer.web.sessions import actor
from trainer.web.transactions import now, writing
from trainer.web.visitors import Visitor, visitors

__all__ = ["job_of_shop", "of_shop"]

# Each of these writes on a GET: that somebody looked is noted, for the members to see.


@blueprint.get("/organisations/<organisation_id>/board")
@visitors(Visitor.OWNER)
def of_shop(organisation_id: str) -> str:
    """The same over all crews of a shop or classes of a school, or one of them."""
    crew = request.args.get("crew", "")
    with writing() as session:
        found = shop_board(session, library(), actor(), organisation_id, crew=crew, now=now())
    chosen: dict[str, Any] = {"crew": crew} if crew else {}
    return render_template(
        "jobs/shop.html",
        organisation=found.organisation,
        job_href=lambda job: url_for("jobs.job_of_shop", organisation_id=organisation_id, job_id=job, **chosen),
        **answers(found, found.organisation),
    )


@blueprint.get("/organisations/<organisation_id>/board/<job_id>")
@visitors(Visitor.OWNER)
def job_of_shop(organisation_id: str, job_id: str) -> str | tuple[str, int]:
    """Who of all crews, or of one, can go on this job on a day."""
    typed, crew = request.args.get("on", "").strip(), request.args.get("crew", "")
    asked = now()
    with writing() as session:
        found = shop_board(
            session,
            library(),
            actor(),
            organisation_id,
            crew=crew,
            now=asked,
            when=lambda zone: day_asked_for(typed, asked, zone)[0],
            job=job_id,
        )
    chosen: dict[str, Any] = {"crew": crew} if crew else {}
    name = found.chosen.name if found.chosen else found.organisation.name
    return job_page(
        found,
        found.organisation,
        found.job(job_id),
        back=(
            gettext("Who is ready: %(group)s") % {"group": name},
            url_for("jobs.of_shop", organisation_id=organisation_id, **chosen),
        ),
        again=url_for("jobs.job_of_shop", organisation_id=organisation_id, job_id=job_id),
        crew=crew,
    )
