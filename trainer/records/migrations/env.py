"""Alembic's way in: run by `trainer.records.migrate`, which hands over the connection."""

from __future__ import annotations

from alembic import context

from trainer.records.migrate import options

connection = context.config.attributes["connection"]
context.configure(connection=connection, **options(connection))
context.run_migrations()
