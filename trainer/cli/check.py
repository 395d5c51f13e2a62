"""`trainer check`: what is wrong with a site, in what place, and what to do about it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing

import click
from sqlalchemy import select
from sqlalchemy.exc import DatabaseError
from sqlalchemy.orm import Session

from trainer.cli.site import plain_errors, site_settings
from trainer.cli.site_files import key_of_site, left_over, rights, way_to_database
from trainer.config import Settings
from trainer.library.shelf import Library
from trainer.library.versions import family_at
from trainer.problems.errors import ContentError
from trainer.problems.shelf import content_root
from trainer.progress.question_check import miscounted
from trainer.progress.replayed import differences
from trainer.records.checking.contradictions import contradictions, pictures
from trainer.records.checking.database import broken_keys, documents, every_row, schema, structure, unusable
from trainer.records.checking.finding import Finding, listed
from trainer.records.engine import Database
from trainer.records.models import ContentVersion, Person

__all__ = ["check", "findings"]


@click.command()
@click.option("--whole", is_flag=True, help="Also read every row and picture, and replay everybody's record.")
def check(*, whole: bool) -> None:
    """
    Look for damage in the site's records and files while it runs; nothing is changed.

    Each finding says what is wrong, where, and what to do. The exit status is 1 where something is damaged.
    """
    with plain_errors():
        settings = site_settings()
        found = []
        for finding in findings(settings, whole=whole):
            found.append(finding)
            click.echo(f"{'Damage' if finding.is_damage else 'Advice'}: {finding.what}")
            click.echo(f"  where: {finding.where}")
            click.echo(f"  do:    {finding.do}")
    damage = sum(finding.is_damage for finding in found)
    summary = f"{damage} findings of damage, {len(found) - damage} of advice." if found else "Nothing was found wrong."
    click.echo(summary if whole else f"{summary} This was the quick look; --whole reads every row.")
    if damage:
        raise click.exceptions.Exit(1)


def findings(settings: Settings, *, whole: bool) -> Iterator[Finding]:
    """
    All that is wrong with a site.

    Raises:
        DatabaseVersionError: When there is no site.
    """
    yield from rights(settings)
    yield from left_over(settings)
    yield from way_to_database(settings)
    if reason := unusable(settings.database):
        yield reason
        return
    yield from schema(settings.database)
    with closing(Database(settings.database)) as database, database.read() as session:
        damaged = list(structure(session.connection()))
        yield from damaged
        try:
            yield from _of_rows(session, settings, whole=whole)
        except DatabaseError:
            # Where the file itself is damaged, what stands in its rows may be beyond asking.
            if not damaged:
                raise
            return
    yield from key_of_site(settings)


def _of_rows(session: Session, settings: Settings, *, whole: bool) -> Iterator[Finding]:
    connection = session.connection()
    unreadable = list(documents(connection))
    yield from unreadable
    yield from broken_keys(connection)
    yield from contradictions(connection)
    if whole:
        found = list(every_row(connection))
        yield from found
        yield from pictures(connection)
        library = Library(content_root(settings.content))
        versions = list(_versions(session, library))
        yield from versions
        if not unreadable and not found:
            yield from _replayed(session)
            if not versions:
                yield from _counted(session, library)


def _versions(session: Session, library: Library) -> Iterator[Finding]:
    """Versions of question files that can no longer be read, so that their problems cannot be shown."""
    for version in session.scalars(select(ContentVersion).where(ContentVersion.kind == "family")):
        try:
            family = family_at(library, version)
        except ContentError as error:
            yield Finding(
                "A question file cannot be read in a version that problems were drawn from.",
                f"content_version {version.id}, {version.content_id}: {error}",
                "If it was readable before, put back a backup; else keep the version of the program that read it.",
            )
        else:
            if family.id != version.content_id:
                yield Finding(
                    f"A version on record holds the question file {family.id} in place of {version.content_id}.",
                    f"content_version {version.id}",
                    "Put back a backup in which this is not so.",
                )


def _counted(session: Session, library: Library) -> Iterator[Finding]:
    """Questions whose kept counts are not those of their answers."""
    if wrong := miscounted(session, library):
        yield Finding(
            f"The counts of {len(wrong)} questions differ from what the answers give.",
            listed("question", [*wrong.values()]),
            "Make a backup, then count them again: trainer replay --write",
        )


def _replayed(session: Session) -> Iterator[Finding]:
    """People whose kept record is not the one that their answers give."""
    for person_id, public_id in session.execute(select(Person.id, Person.public_id).order_by(Person.id)).all():
        if lines := differences(session, person_id):
            yield Finding(
                f"A record differs from what the answers give in {len(lines)} places.",
                f"person {public_id}: {lines[0]}",
                "Make a backup, then put the record right from the answers: trainer replay --write",
            )
        session.expunge_all()
