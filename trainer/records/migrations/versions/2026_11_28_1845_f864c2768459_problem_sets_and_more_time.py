"""
Problem sets, work in the room and with the same numbers for all, more time for one person.

Revision: f864c2768459; follows: 06f0afffbb16; written: 2026-11-28.

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

revision = "f864c2768459"
down_revision = "06f0afffbb16"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "problem_set",
        sa.Column("public_id", sa.String(length=22), nullable=False),
        sa.Column("organisation_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("name", sa.String(length=120), nullable=False),
        sa.Column("make_key", sa.String(length=36), nullable=True),
        sa.Column("made_by_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("made_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("changed_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("put_away_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("changed_at >= made_at", name=op.f("ck_problem_set_changed_after_making")),
        sa.CheckConstraint("length(name) BETWEEN 1 AND 120", name=op.f("ck_problem_set_name_length")),
        sa.CheckConstraint(
            "put_away_at IS NULL OR put_away_at >= made_at", name=op.f("ck_problem_set_put_away_after_making")
        ),
        sa.ForeignKeyConstraint(["made_by_id"], ["person.id"], name=op.f("fk_problem_set_made_by_id")),
        sa.ForeignKeyConstraint(["organisation_id"], ["organisation.id"], name=op.f("fk_problem_set_organisation_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_problem_set")),
        sa.UniqueConstraint("organisation_id", "make_key", name=op.f("uq_problem_set_organisation_id_make_key")),
        sa.UniqueConstraint("public_id", name=op.f("uq_problem_set_public_id")),
    )
    with op.batch_alter_table("problem_set", schema=None) as batch_op:
        batch_op.create_index("ix_problem_set_organisation_id", ["organisation_id"], unique=False)

    op.create_table(
        "problem_set_line",
        sa.Column("problem_set_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("family_id", sa.String(length=80), nullable=False),
        sa.Column("asked", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("asked >= 1 AND asked <= 10", name=op.f("ck_problem_set_line_asked_range")),
        sa.CheckConstraint("position >= 1", name=op.f("ck_problem_set_line_position_from_one")),
        sa.ForeignKeyConstraint(
            ["problem_set_id"], ["problem_set.id"], name=op.f("fk_problem_set_line_problem_set_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_problem_set_line")),
        sa.UniqueConstraint("problem_set_id", "family_id", name=op.f("uq_problem_set_line_problem_set_id_family_id")),
        sa.UniqueConstraint("problem_set_id", "position", name=op.f("uq_problem_set_line_problem_set_id_position")),
    )
    op.create_table(
        "work_extension",
        sa.Column("assigned_work_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("ends_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("reason", sa.String(length=200), nullable=False),
        sa.Column("given_by_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("given_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("ends_at > given_at", name=op.f("ck_work_extension_ends_after_giving")),
        sa.CheckConstraint("length(reason) BETWEEN 1 AND 200", name=op.f("ck_work_extension_reason_length")),
        sa.ForeignKeyConstraint(
            ["assigned_work_id"], ["assigned_work.id"], name=op.f("fk_work_extension_assigned_work_id")
        ),
        sa.ForeignKeyConstraint(["given_by_id"], ["person.id"], name=op.f("fk_work_extension_given_by_id")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_work_extension_person_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_work_extension")),
    )
    with op.batch_alter_table("work_extension", schema=None) as batch_op:
        batch_op.create_index(
            "ix_work_extension_assigned_work_id_person_id", ["assigned_work_id", "person_id"], unique=False
        )
        batch_op.create_index("ix_work_extension_person_id", ["person_id"], unique=False)

    with op.batch_alter_table("assigned_work", schema=None) as batch_op:
        batch_op.add_column(sa.Column("opened_at", sa.DateTime(timezone=True), nullable=True))
        batch_op.add_column(sa.Column("shared_seed", sa.BigInteger(), nullable=True))
        batch_op.add_column(
            sa.Column("problem_set_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True)
        )
        batch_op.create_check_constraint(
            batch_op.f("ck_assigned_work_only_a_room_opens"), "opened_at IS NULL OR kind = 'room'"
        )
        batch_op.create_check_constraint(
            batch_op.f("ck_assigned_work_shared_seed_not_negative"), "shared_seed IS NULL OR shared_seed >= 0"
        )
        batch_op.create_foreign_key(
            batch_op.f("fk_assigned_work_problem_set_id"), "problem_set", ["problem_set_id"], ["id"]
        )


def downgrade() -> None:
    # Drops problem sets, extensions, and which work was opened in the room or had the same numbers for all.
    with op.batch_alter_table("assigned_work", schema=None) as batch_op:
        batch_op.drop_constraint(batch_op.f("fk_assigned_work_problem_set_id"), type_="foreignkey")
        batch_op.drop_constraint(batch_op.f("ck_assigned_work_shared_seed_not_negative"), type_="check")
        batch_op.drop_constraint(batch_op.f("ck_assigned_work_only_a_room_opens"), type_="check")
        batch_op.drop_column("problem_set_id")
        batch_op.drop_column("shared_seed")
        batch_op.drop_column("opened_at")

    with op.batch_alter_table("work_extension", schema=None) as batch_op:
        batch_op.drop_index("ix_work_extension_person_id")
        batch_op.drop_index("ix_work_extension_assigned_work_id_person_id")

    op.drop_table("work_extension")
    op.drop_table("problem_set_line")
    with op.batch_alter_table("problem_set", schema=None) as batch_op:
        batch_op.drop_index("ix_problem_set_organisation_id")

    op.drop_table("problem_set")
