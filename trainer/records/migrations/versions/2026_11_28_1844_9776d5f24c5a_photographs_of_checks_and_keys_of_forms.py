"""
Photographs of checks and keys of forms.

Revision: 9776d5f24c5a; follows: a216785bec2b; written: 2026-11-28.

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

revision = "9776d5f24c5a"
down_revision = "a216785bec2b"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "check_photo",
        sa.Column("check_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("public_id", sa.String(length=22), nullable=False),
        sa.Column("image", sa.LargeBinary(), nullable=False),
        sa.Column("width", sa.Integer(), nullable=False),
        sa.Column("height", sa.Integer(), nullable=False),
        sa.Column("shows", sa.String(length=200), nullable=False),
        sa.Column("added_by_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("added_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("height BETWEEN 1 AND 1600", name=op.f("ck_check_photo_height_range")),
        sa.CheckConstraint("length(image) BETWEEN 1 AND 2000000", name=op.f("ck_check_photo_image_length")),
        sa.CheckConstraint("length(shows) BETWEEN 1 AND 200", name=op.f("ck_check_photo_shows_length")),
        sa.CheckConstraint("width BETWEEN 1 AND 1600", name=op.f("ck_check_photo_width_range")),
        sa.ForeignKeyConstraint(["added_by_id"], ["person.id"], name=op.f("fk_check_photo_added_by_id")),
        sa.ForeignKeyConstraint(["check_id"], ["hands_on_check.id"], name=op.f("fk_check_photo_check_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_check_photo")),
        sa.UniqueConstraint("public_id", name=op.f("uq_check_photo_public_id")),
    )
    with op.batch_alter_table("check_photo", schema=None) as batch_op:
        batch_op.create_index("ix_check_photo_check_id", ["check_id"], unique=False)

    with op.batch_alter_table("assigned_work", schema=None) as batch_op:
        batch_op.add_column(sa.Column("form_key", sa.String(length=36), nullable=True))
        batch_op.create_unique_constraint(
            batch_op.f("uq_assigned_work_given_by_id_form_key"), ["given_by_id", "form_key"]
        )


def downgrade() -> None:
    # Drops photographs of checks: before this revision there is no place for them.
    with op.batch_alter_table("assigned_work", schema=None) as batch_op:
        batch_op.drop_constraint(batch_op.f("uq_assigned_work_given_by_id_form_key"), type_="unique")
        batch_op.drop_column("form_key")

    with op.batch_alter_table("check_photo", schema=None) as batch_op:
        batch_op.drop_index("ix_check_photo_check_id")

    op.drop_table("check_photo")
