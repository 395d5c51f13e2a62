"""
Job types.

Revision: 9e47cee92c5c; follows: 8f21b8647d3e; written: 2026-11-28.

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

revision = "9e47cee92c5c"
down_revision = "8f21b8647d3e"
branch_labels = None
depends_on = None


def upgrade() -> None:

    op.create_table(
        "job_type",
        sa.Column("public_id", sa.String(length=22), nullable=False),
        sa.Column("organisation_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("name", sa.String(length=120), nullable=False),
        sa.Column("about", sa.String(length=400), nullable=False),
        sa.Column("supervision", sa.String(length=400), nullable=False),
        sa.Column("watched", sa.Boolean(), nullable=False),
        sa.Column("valid_days", sa.Integer(), nullable=True),
        sa.Column("trade_sizes", sa.JSON(none_as_null=True), nullable=False),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("ended_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("length(name) BETWEEN 1 AND 120", name=op.f("ck_job_type_name_length")),
        sa.CheckConstraint("length(supervision) BETWEEN 1 AND 400", name=op.f("ck_job_type_supervision_length")),
        sa.CheckConstraint("valid_days IS NULL OR valid_days > 0", name=op.f("ck_job_type_valid_days_positive")),
        sa.ForeignKeyConstraint(["organisation_id"], ["organisation.id"], name=op.f("fk_job_type_organisation_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_job_type")),
        sa.UniqueConstraint("public_id", name=op.f("uq_job_type_public_id")),
    )
    with op.batch_alter_table("job_type", schema=None) as batch_op:
        batch_op.create_index("ix_job_type_organisation_id", ["organisation_id"], unique=False)
        batch_op.create_index(
            "uq_job_type_used_name",
            ["organisation_id", "name"],
            unique=True,
            sqlite_where=sa.text("ended_at IS NULL"),
            postgresql_where=sa.text("ended_at IS NULL"),
        )

    op.create_table(
        "job_type_check",
        sa.Column("job_type_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("kind", sa.String(length=40), nullable=False),
        sa.Column("trade_size", sa.String(length=8), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(["job_type_id"], ["job_type.id"], name=op.f("fk_job_type_check_job_type_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_job_type_check")),
        sa.UniqueConstraint(
            "job_type_id", "kind", "trade_size", name=op.f("uq_job_type_check_job_type_id_kind_trade_size")
        ),
    )
    op.create_table(
        "job_type_skill",
        sa.Column("job_type_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("skill", sa.String(length=40), nullable=False),
        sa.Column("line", sa.String(length=8), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("line IN ('strict', 'light')", name=op.f("ck_job_type_skill_line")),
        sa.ForeignKeyConstraint(["job_type_id"], ["job_type.id"], name=op.f("fk_job_type_skill_job_type_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_job_type_skill")),
        sa.UniqueConstraint("job_type_id", "skill", name=op.f("uq_job_type_skill_job_type_id_skill")),
    )


def downgrade() -> None:
    # Drops the job types that owners described: before this revision there is no place for them.

    op.drop_table("job_type_skill")
    op.drop_table("job_type_check")
    with op.batch_alter_table("job_type", schema=None) as batch_op:
        batch_op.drop_index(
            "uq_job_type_used_name",
            sqlite_where=sa.text("ended_at IS NULL"),
            postgresql_where=sa.text("ended_at IS NULL"),
        )
        batch_op.drop_index("ix_job_type_organisation_id")

    op.drop_table("job_type")
