"""
The digest of the key with which the hosts of a site sign, so that a host with another one is found out.

Going down drops it; the next start of the program writes it again.

Revision: 6816442144c4; follows: 077980b8c1b5; written: 2026-11-28.

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

revision = "6816442144c4"
down_revision = "077980b8c1b5"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "site_key",
        sa.Column("digest", sa.String(length=64), nullable=False),
        sa.Column("since", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("id = 1", name=op.f("ck_site_key_only_one")),
        sa.CheckConstraint("length(digest) = 64", name=op.f("ck_site_key_digest_length")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_site_key")),
    )


def downgrade() -> None:
    op.drop_table("site_key")
