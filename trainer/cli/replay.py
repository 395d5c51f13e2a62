"""`trainer replay`: the record of each person rebuilt from the answers, and compared."""

from __future__ import annotations

from contextlib import closing

import click
from sqlalchemy import select

from trainer.cli.site import plain_errors, site_settings
from trainer.library.shelf import Library
from trainer.problems.shelf import content_root
from trainer.progress.question_check import count_whole, miscounted
from trainer.progress.replay import rebuild
from trainer.progress.replayed import differences
from trainer.records.engine import Database
from trainer.records.migrate import check_version
from trainer.records.models import Person

__all__ = ["replay"]


@click.command()
@click.option("--write", is_flag=True, help="Put the replayed skills, slips and counts in place of those that differ.")
def replay(*, write: bool) -> None:
    """
    Rebuild everybody's skills, slips and points of proof runs, and what is counted of each question, from the answers,
    and compare them to the last bit.

    Nothing is written without --write. The exit status is 1 where something differs.
    """
    with plain_errors():
        settings = site_settings()
        check_version(settings.database)
        with closing(Database(settings.database)) as database:
            people, found = _compared(database)
            library = Library(content_root(settings.content))
            with database.read() as session:
                questions = miscounted(session, library)
            if write:
                _rebuild(database, found)
                count_whole(database, library, questions)
    for public_id, lines in found.values():
        for line in lines:
            click.echo(f"{public_id}: {line}")
    for rules, family in questions.items():
        click.echo(f"{family or rules}: its counts are not those of its answers")
    count = sum(len(lines) for _, lines in found.values()) + len(questions)
    click.echo(f"{people} people replayed, {count} differences.")
    if count and not write:
        raise click.exceptions.Exit(1)


def _compared(database: Database) -> tuple[int, dict[int, tuple[str, list[str]]]]:
    """How many people there are, and the differences of those that have any."""
    found = {}
    with database.read() as session:
        people = session.execute(select(Person.id, Person.public_id).order_by(Person.id)).all()
        for person_id, public_id in people:
            if lines := differences(session, person_id):
                found[person_id] = public_id, lines
            session.expunge_all()
    return len(people), found


def _rebuild(database: Database, people: dict[int, tuple[str, list[str]]]) -> None:
    for person_id in people:
        with database.write() as session:
            rebuild(session, person_id)
