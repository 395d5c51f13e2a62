"""
Rosters, sample classes and calendar feeds.

Revision: 06f0afffbb16; follows: 8969bb8ec9af; written: 2026-11-28.

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

revision = "06f0afffbb16"
down_revision = "8969bb8ec9af"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "calendar_feed",
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("token_hash", sa.String(length=64), nullable=False),
        sa.Column("made_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("ended_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("ended_at IS NULL OR ended_at >= made_at", name=op.f("ck_calendar_feed_ends_after_making")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_calendar_feed_person_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_calendar_feed")),
        sa.UniqueConstraint("token_hash", name=op.f("uq_calendar_feed_token_hash")),
    )
    with op.batch_alter_table("calendar_feed", schema=None) as batch_op:
        batch_op.create_index(
            "uq_calendar_feed_open",
            ["person_id"],
            unique=True,
            sqlite_where=sa.text("ended_at IS NULL"),
            postgresql_where=sa.text("ended_at IS NULL"),
        )
    with op.batch_alter_table("membership", schema=None) as batch_op:
        batch_op.add_column(
            sa.Column("added_by_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True)
        )
        batch_op.add_column(sa.Column("told_at", sa.DateTime(timezone=True), nullable=True))
        batch_op.add_column(sa.Column("roster_name", sa.String(length=80), nullable=True))
        batch_op.add_column(sa.Column("roster_number", sa.String(length=40), nullable=True))
        batch_op.create_foreign_key(batch_op.f("fk_membership_added_by_id"), "person", ["added_by_id"], ["id"])
        batch_op.create_check_constraint(
            batch_op.f("ck_membership_told_when_added"), "told_at IS NULL OR added_by_id IS NOT NULL"
        )
        batch_op.create_check_constraint(
            batch_op.f("ck_membership_roster_name_length"), "length(roster_name) BETWEEN 1 AND 80"
        )
        batch_op.create_check_constraint(
            batch_op.f("ck_membership_roster_number_length"), "length(roster_number) BETWEEN 1 AND 40"
        )
    with op.batch_alter_table("person", schema=None) as batch_op:
        batch_op.add_column(sa.Column("is_invented", sa.Boolean(), server_default=sa.false(), nullable=False))
    # A code of a class that was put away opened nothing before, either.
    op.execute("UPDATE study_group SET join_code = NULL WHERE archived_at IS NOT NULL")
    with op.batch_alter_table("study_group", schema=None) as batch_op:
        batch_op.add_column(sa.Column("is_sample", sa.Boolean(), server_default=sa.false(), nullable=False))
        batch_op.create_check_constraint(
            batch_op.f("ck_study_group_sample_cannot_be_joined"), "NOT is_sample OR join_code IS NULL"
        )
        batch_op.create_check_constraint(
            batch_op.f("ck_study_group_archived_cannot_be_joined"), "archived_at IS NULL OR join_code IS NULL"
        )


def downgrade() -> None:
    # Drops who was put in by whom and under which name of the list, and the addresses of calendars: before this
    # revision there is no place for either. Invented people and their class stay, and look like any others.
    with op.batch_alter_table("study_group", schema=None) as batch_op:
        batch_op.drop_constraint(batch_op.f("ck_study_group_archived_cannot_be_joined"), type_="check")
        batch_op.drop_constraint(batch_op.f("ck_study_group_sample_cannot_be_joined"), type_="check")
        batch_op.drop_column("is_sample")
    with op.batch_alter_table("person", schema=None) as batch_op:
        batch_op.drop_column("is_invented")
    with op.batch_alter_table("membership", schema=None) as batch_op:
        batch_op.drop_constraint(batch_op.f("ck_membership_roster_number_length"), type_="check")
        batch_op.drop_constraint(batch_op.f("ck_membership_roster_name_length"), type_="check")
        batch_op.drop_constraint(batch_op.f("ck_membership_told_when_added"), type_="check")
        batch_op.drop_constraint(batch_op.f("fk_membership_added_by_id"), type_="foreignkey")
        batch_op.drop_column("roster_number")
        batch_op.drop_column("roster_name")
        batch_op.drop_column("told_at")
        batch_op.drop_column("added_by_id")
    with op.batch_alter_table("calendar_feed", schema=None) as batch_op:
        batch_op.drop_index("uq_calendar_feed_open")
    op.drop_table("calendar_feed")
