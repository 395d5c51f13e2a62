"""What the program says about a known mistake, in the numbers of a problem in which somebody made it."""

from __future__ import annotations

from collections.abc import Mapping

from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.library.shelf import Library
from trainer.library.versions import family_at
from trainer.problems.store import restore
from trainer.records.models import ContentVersion, Problem
from trainer.text.markdown import to_html

__all__ = ["said_about"]


def said_about(
    session: Session, library: Library, made: Mapping[tuple[str, str], object], *, language: str = "en"
) -> dict[tuple[str, str], str]:
    """
    The words about mistakes, with one query.

    Args:
        session: Any session.
        library: The content.
        made: By public id of a problem and id of a mistake the value that was given.
        language: In which the core's own words are said.

    Returns:
        The words of each pair as HTML, where the mistake leads to several values those for the one that was given; a pair
        that is not known is left out.
    """
    query = (
        select(Problem, ContentVersion)
        .join(ContentVersion, ContentVersion.id == Problem.content_version_id)
        .where(Problem.public_id.in_({problem for problem, _ in made}))
    )
    found: dict[tuple[str, str], str] = {}
    for row, version in session.execute(query):
        problem = restore(family_at(library, version), row.seed, row.edition, row.drawn, language=language)
        for (public_id, mistake), value in made.items():
            if public_id == row.public_id and (route := problem.route_taken(mistake, value)):
                found[public_id, mistake] = to_html(route.say)
    return found
