"""
Photographs of findings and own work processes.

Revision: a216785bec2b; follows: 85a9d630f06a; written: 2026-11-28.

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

revision = "a216785bec2b"
down_revision = "85a9d630f06a"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "work_process",
        sa.Column("organisation_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("key", sa.String(length=40), nullable=False),
        sa.Column("title", sa.String(length=80), nullable=False),
        sa.Column("required_hours", sa.Integer(), nullable=True),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("closed_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("length(key) BETWEEN 1 AND 40", name=op.f("ck_work_process_key_length")),
        sa.CheckConstraint("length(title) BETWEEN 1 AND 80", name=op.f("ck_work_process_title_length")),
        sa.CheckConstraint("position >= 1", name=op.f("ck_work_process_position_from_one")),
        sa.CheckConstraint("required_hours BETWEEN 1 AND 20000", name=op.f("ck_work_process_required_hours_range")),
        sa.ForeignKeyConstraint(["organisation_id"], ["organisation.id"], name=op.f("fk_work_process_organisation_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_work_process")),
        sa.UniqueConstraint("organisation_id", "key", name=op.f("uq_work_process_organisation_id_key")),
    )
    op.create_table(
        "finding_photo",
        sa.Column("public_id", sa.String(length=22), nullable=False),
        sa.Column("finding_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("image", sa.LargeBinary(), nullable=False),
        sa.Column("width", sa.Integer(), nullable=False),
        sa.Column("height", sa.Integer(), nullable=False),
        sa.Column("shows", sa.String(length=200), nullable=False),
        sa.Column("added_by_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("added_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("height BETWEEN 1 AND 1600", name=op.f("ck_finding_photo_height_range")),
        sa.CheckConstraint("length(image) BETWEEN 1 AND 2000000", name=op.f("ck_finding_photo_image_length")),
        sa.CheckConstraint("length(shows) BETWEEN 1 AND 200", name=op.f("ck_finding_photo_shows_length")),
        sa.CheckConstraint("width BETWEEN 1 AND 1600", name=op.f("ck_finding_photo_width_range")),
        sa.ForeignKeyConstraint(["added_by_id"], ["person.id"], name=op.f("fk_finding_photo_added_by_id")),
        sa.ForeignKeyConstraint(["finding_id"], ["field_finding.id"], name=op.f("fk_finding_photo_finding_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_finding_photo")),
        sa.UniqueConstraint("public_id", name=op.f("uq_finding_photo_public_id")),
    )
    with op.batch_alter_table("finding_photo", schema=None) as batch_op:
        batch_op.create_index("ix_finding_photo_finding_id", ["finding_id"], unique=False)


def downgrade() -> None:
    # Drops photographs, and the lists that owners made: before this revision there is no place for either.
    with op.batch_alter_table("finding_photo", schema=None) as batch_op:
        batch_op.drop_index("ix_finding_photo_finding_id")

    op.drop_table("finding_photo")
    op.drop_table("work_process")
