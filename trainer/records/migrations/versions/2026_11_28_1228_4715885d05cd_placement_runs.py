"""
Placement runs.

Revision: 4715885d05cd; follows: 796ce5bf3999; written: 2026-11-28.

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

revision = "4715885d05cd"
down_revision = "796ce5bf3999"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "placement_run",
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("started_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("ended_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("picture", sa.JSON(none_as_null=True), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("(picture IS NULL) = (ended_at IS NULL)", name=op.f("ck_placement_run_ends_with_picture")),
        sa.CheckConstraint(
            "ended_at IS NULL OR ended_at >= started_at", name=op.f("ck_placement_run_ends_after_start")
        ),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_placement_run_person_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_placement_run")),
        sa.UniqueConstraint("id", "person_id", name=op.f("uq_placement_run_id_person_id")),
    )
    with op.batch_alter_table("placement_run", schema=None) as batch_op:
        batch_op.create_index("ix_placement_run_person_id", ["person_id"], unique=False)
        batch_op.create_index(
            "uq_placement_run_open",
            ["person_id"],
            unique=True,
            sqlite_where=sa.text("ended_at IS NULL"),
            postgresql_where=sa.text("ended_at IS NULL"),
        )

    with op.batch_alter_table("problem", schema=None) as batch_op:
        batch_op.add_column(
            sa.Column("placement_run_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True)
        )
        batch_op.create_index("ix_problem_placement_run_id", ["placement_run_id"], unique=False)
        batch_op.create_foreign_key(
            batch_op.f("fk_problem_placement_run_id_person_id"),
            "placement_run",
            ["placement_run_id", "person_id"],
            ["id", "person_id"],
        )
        batch_op.create_check_constraint(
            batch_op.f("ck_problem_run_is_placement"), "placement_run_id IS NULL OR context = 'placement'"
        )


def downgrade() -> None:
    # Drops the placement runs: before this revision there is no place for them. Their problems and answers stay.
    with op.batch_alter_table("problem", schema=None) as batch_op:
        batch_op.drop_constraint(batch_op.f("fk_problem_placement_run_id_person_id"), type_="foreignkey")
        batch_op.drop_constraint(batch_op.f("ck_problem_run_is_placement"), type_="check")
        batch_op.drop_index("ix_problem_placement_run_id")
        batch_op.drop_column("placement_run_id")

    with op.batch_alter_table("placement_run", schema=None) as batch_op:
        batch_op.drop_index(
            "uq_placement_run_open",
            sqlite_where=sa.text("ended_at IS NULL"),
            postgresql_where=sa.text("ended_at IS NULL"),
        )
        batch_op.drop_index("ix_placement_run_person_id")

    op.drop_table("placement_run")
