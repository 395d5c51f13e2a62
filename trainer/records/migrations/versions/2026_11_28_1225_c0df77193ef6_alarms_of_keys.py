"""
Alarms of keys.

Revision: c0df77193ef6; follows: 9e47cee92c5c; written: 2026-11-28.

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

revision = "c0df77193ef6"
down_revision = "9e47cee92c5c"
branch_labels = None
depends_on = None


def upgrade() -> None:
    with op.batch_alter_table("family_difficulty", schema=None) as batch_op:
        batch_op.add_column(sa.Column("alarm", sa.Float(precision=53), server_default=sa.text("0"), nullable=False))
        batch_op.add_column(sa.Column("alarmed_at", sa.DateTime(timezone=True), nullable=True))


def downgrade() -> None:
    # Drops which keys are in doubt: the sums cannot be had again without every answer.
    with op.batch_alter_table("family_difficulty", schema=None) as batch_op:
        batch_op.drop_column("alarmed_at")
        batch_op.drop_column("alarm")
