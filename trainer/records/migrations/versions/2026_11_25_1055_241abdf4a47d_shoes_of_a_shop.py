"""
Shoes of a shop.

Revision: 241abdf4a47d; follows: c699eeb47a38; written: 2026-11-25.

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

revision = "241abdf4a47d"
down_revision = "c699eeb47a38"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "shoe",
        sa.Column("public_id", sa.String(length=22), nullable=False),
        sa.Column("organisation_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("name", sa.String(length=60), nullable=False),
        sa.Column("trade_size", sa.String(length=8), nullable=False),
        sa.Column("take_up", sa.Float(precision=53), nullable=False),
        sa.Column("outside_gain", sa.Float(precision=53), nullable=False),
        sa.Column("radius", sa.Float(precision=53), nullable=False),
        sa.Column("back_mark", sa.Float(precision=53), nullable=False),
        sa.Column("measured_by_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("measured_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("ended_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("trade_size IN ('1/2', '3/4', '1', '1-1/4')", name=op.f("ck_shoe_trade_size")),
        sa.CheckConstraint("back_mark > 0", name=op.f("ck_shoe_back_mark_positive")),
        sa.CheckConstraint("ended_at IS NULL OR ended_at >= measured_at", name=op.f("ck_shoe_ends_after_measuring")),
        sa.CheckConstraint("length(name) BETWEEN 1 AND 60", name=op.f("ck_shoe_name_length")),
        sa.CheckConstraint("outside_gain > 0", name=op.f("ck_shoe_outside_gain_positive")),
        sa.CheckConstraint("radius > 0", name=op.f("ck_shoe_radius_positive")),
        sa.CheckConstraint("take_up > 0", name=op.f("ck_shoe_take_up_positive")),
        sa.ForeignKeyConstraint(["measured_by_id"], ["person.id"], name=op.f("fk_shoe_measured_by_id")),
        sa.ForeignKeyConstraint(["organisation_id"], ["organisation.id"], name=op.f("fk_shoe_organisation_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_shoe")),
        sa.UniqueConstraint("public_id", name=op.f("uq_shoe_public_id")),
    )
    with op.batch_alter_table("shoe", schema=None) as batch_op:
        batch_op.create_index("ix_shoe_organisation_id", ["organisation_id"], unique=False)
        batch_op.create_index(
            "uq_shoe_used_name",
            ["organisation_id", "name"],
            unique=True,
            sqlite_where=sa.text("ended_at IS NULL"),
            postgresql_where=sa.text("ended_at IS NULL"),
        )


def downgrade() -> None:
    # Drops the shoes that people measured: before this revision there is no place for them.
    with op.batch_alter_table("shoe", schema=None) as batch_op:
        batch_op.drop_index(
            "uq_shoe_used_name", sqlite_where=sa.text("ended_at IS NULL"), postgresql_where=sa.text("ended_at IS NULL")
        )
        batch_op.drop_index("ix_shoe_organisation_id")

    op.drop_table("shoe")
