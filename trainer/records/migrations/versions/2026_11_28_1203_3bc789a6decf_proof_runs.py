"""
Proof runs.

Revision: 3bc789a6decf; follows: d5b92e43580d; written: 2026-11-28.

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

revision = "3bc789a6decf"
down_revision = "d5b92e43580d"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "proof_run",
        sa.Column("public_id", sa.String(length=22), nullable=False),
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("skill", sa.String(length=40), nullable=False),
        sa.Column("line", sa.String(length=8), nullable=False),
        sa.Column("ready_at", sa.Float(precision=53), nullable=False),
        sa.Column("refreshes", sa.Boolean(), nullable=False),
        sa.Column("difficulties", sa.JSON(none_as_null=True), nullable=False),
        sa.Column("points", sa.Float(precision=53), nullable=False),
        sa.Column("counted", sa.Integer(), nullable=False),
        sa.Column("started_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("ended_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("outcome", sa.String(length=10), nullable=True),
        sa.Column("watched_by_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("line IN ('strict', 'light')", name=op.f("ck_proof_run_line")),
        sa.CheckConstraint("outcome IN ('ready', 'not-yet', 'abandoned', 'empty')", name=op.f("ck_proof_run_outcome")),
        sa.CheckConstraint("(outcome IS NULL) = (ended_at IS NULL)", name=op.f("ck_proof_run_ends_with_outcome")),
        sa.CheckConstraint("counted >= 0", name=op.f("ck_proof_run_counted_not_negative")),
        sa.CheckConstraint("ended_at IS NULL OR ended_at >= started_at", name=op.f("ck_proof_run_ends_after_start")),
        sa.CheckConstraint("ready_at > 0", name=op.f("ck_proof_run_ready_at_positive")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_proof_run_person_id")),
        sa.ForeignKeyConstraint(["watched_by_id"], ["person.id"], name=op.f("fk_proof_run_watched_by_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_proof_run")),
        sa.UniqueConstraint("id", "person_id", name=op.f("uq_proof_run_id_person_id")),
        sa.UniqueConstraint("public_id", name=op.f("uq_proof_run_public_id")),
    )
    with op.batch_alter_table("proof_run", schema=None) as batch_op:
        batch_op.create_index("ix_proof_run_skill_person_id", ["skill", "person_id"], unique=False)
        batch_op.create_index(
            "uq_proof_run_open",
            ["person_id", "skill"],
            unique=True,
            sqlite_where=sa.text("ended_at IS NULL"),
            postgresql_where=sa.text("ended_at IS NULL"),
        )
    with op.batch_alter_table("problem", schema=None) as batch_op:
        batch_op.add_column(
            sa.Column("proof_run_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True)
        )
        batch_op.create_index("ix_problem_proof_run_id", ["proof_run_id"], unique=False)
        batch_op.create_check_constraint(
            batch_op.f("ck_problem_run_is_proof"), "proof_run_id IS NULL OR context = 'proof'"
        )
        batch_op.create_foreign_key(
            batch_op.f("fk_problem_proof_run_id_person_id"),
            "proof_run",
            ["proof_run_id", "person_id"],
            ["id", "person_id"],
        )


def downgrade() -> None:
    # Drops the proof runs: before this revision there is no place for them. Their problems and answers stay.
    with op.batch_alter_table("problem", schema=None) as batch_op:
        batch_op.drop_constraint(batch_op.f("fk_problem_proof_run_id_person_id"), type_="foreignkey")
        batch_op.drop_constraint(batch_op.f("ck_problem_run_is_proof"), type_="check")
        batch_op.drop_index("ix_problem_proof_run_id")
        batch_op.drop_column("proof_run_id")
    with op.batch_alter_table("proof_run", schema=None) as batch_op:
        batch_op.drop_index(
            "uq_proof_run_open",
            sqlite_where=sa.text("ended_at IS NULL"),
            postgresql_where=sa.text("ended_at IS NULL"),
        )
        batch_op.drop_index("ix_proof_run_skill_person_id")
    op.drop_table("proof_run")
