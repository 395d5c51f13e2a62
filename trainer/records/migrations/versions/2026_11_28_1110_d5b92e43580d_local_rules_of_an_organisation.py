"""
Local rules of an organisation.

Revision: d5b92e43580d; follows: 241abdf4a47d; written: 2026-11-28.

Before you commit this, hold it against the rules of a safe migration:

1.  It imports nothing from `trainer`: the tables of today are not those of next year.
2.  Rows of answers, gradings and audit lines are never changed or removed.
3.  A new column is nullable or has a `server_default`; a rule that old rows may break is added only after they are mended.
4.  Every constraint has its name from the models; change a table inside `with op.batch_alter_table(...)`, or SQLite refuses.
5.  `downgrade` gives back the tables as they were. Where it must drop what people entered, it says so here.
6.  Values are moved by SQL that runs on SQLite and on PostgreSQL alike, not by loading rows into Python.
7.  It has example rows in `tests/records/rows/`, and goes up and down with them on both.
"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "d5b92e43580d"
down_revision = "241abdf4a47d"
branch_labels = None
depends_on = None


def upgrade() -> None:
    with op.batch_alter_table("organisation", schema=None) as batch_op:
        batch_op.add_column(
            sa.Column("local_rules", sa.String(length=400), server_default=sa.text("''"), nullable=False)
        )


def downgrade() -> None:
    # Drops which local rules a school or shop follows: before this revision there is no place for them.
    with op.batch_alter_table("organisation", schema=None) as batch_op:
        batch_op.drop_column("local_rules")
