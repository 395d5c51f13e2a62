"""
Sittings of watched proof runs, and the registration that a job type asks.

Revision: 85a9d630f06a; follows: 4715885d05cd; written: 2026-11-28.

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

revision = "85a9d630f06a"
down_revision = "4715885d05cd"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "proof_sitting",
        sa.Column("run_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("watcher_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("group_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("opened_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("ends_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("ended_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("ends_at > opened_at", name=op.f("ck_proof_sitting_ends_after_opening")),
        sa.CheckConstraint(
            "ended_at IS NULL OR ended_at >= opened_at", name=op.f("ck_proof_sitting_ended_after_opening")
        ),
        sa.ForeignKeyConstraint(["group_id"], ["study_group.id"], name=op.f("fk_proof_sitting_group_id")),
        sa.ForeignKeyConstraint(["run_id"], ["proof_run.id"], name=op.f("fk_proof_sitting_run_id")),
        sa.ForeignKeyConstraint(["watcher_id"], ["person.id"], name=op.f("fk_proof_sitting_watcher_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_proof_sitting")),
    )
    with op.batch_alter_table("proof_sitting", schema=None) as batch_op:
        batch_op.create_index("ix_proof_sitting_run_id", ["run_id"], unique=False)
        batch_op.create_index(
            "uq_proof_sitting_open",
            ["run_id"],
            unique=True,
            sqlite_where=sa.text("ended_at IS NULL"),
            postgresql_where=sa.text("ended_at IS NULL"),
        )

    with op.batch_alter_table("job_type", schema=None) as batch_op:
        batch_op.add_column(sa.Column("registration", sa.String(length=12), nullable=True))
        batch_op.create_check_constraint(
            batch_op.f("ck_job_type_registration"), "registration IN ('registration', 'licence')"
        )


def downgrade() -> None:
    # Drops who sat beside watched runs, and what registration a job type asks: before this there is no place for them.
    with op.batch_alter_table("job_type", schema=None) as batch_op:
        batch_op.drop_constraint(batch_op.f("ck_job_type_registration"), type_="check")
        batch_op.drop_column("registration")

    with op.batch_alter_table("proof_sitting", schema=None) as batch_op:
        batch_op.drop_index(
            "uq_proof_sitting_open",
            sqlite_where=sa.text("ended_at IS NULL"),
            postgresql_where=sa.text("ended_at IS NULL"),
        )
        batch_op.drop_index("ix_proof_sitting_run_id")

    op.drop_table("proof_sitting")
