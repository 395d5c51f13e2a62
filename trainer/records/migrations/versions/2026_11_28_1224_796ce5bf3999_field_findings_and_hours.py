"""
Field findings and hours.

Revision: 796ce5bf3999; follows: c0df77193ef6; written: 2026-11-28.

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

revision = "796ce5bf3999"
down_revision = "c0df77193ef6"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "class_day",
        sa.Column("public_id", sa.String(length=22), nullable=False),
        sa.Column("group_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("day", sa.Date(), nullable=False),
        sa.Column("topic", sa.String(length=120), nullable=False),
        sa.Column("quarters", sa.Integer(), nullable=False),
        sa.Column("noted_by_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("noted_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("length(topic) BETWEEN 1 AND 120", name=op.f("ck_class_day_topic_length")),
        sa.CheckConstraint("quarters BETWEEN 1 AND 96", name=op.f("ck_class_day_quarters_range")),
        sa.ForeignKeyConstraint(["group_id"], ["study_group.id"], name=op.f("fk_class_day_group_id")),
        sa.ForeignKeyConstraint(["noted_by_id"], ["person.id"], name=op.f("fk_class_day_noted_by_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_class_day")),
        sa.UniqueConstraint("public_id", name=op.f("uq_class_day_public_id")),
    )
    with op.batch_alter_table("class_day", schema=None) as batch_op:
        batch_op.create_index("ix_class_day_group_id_day", ["group_id", "day"], unique=False)

    op.create_table(
        "field_finding",
        sa.Column("public_id", sa.String(length=22), nullable=False),
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("group_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("skill", sa.String(length=40), nullable=False),
        sa.Column("kind", sa.String(length=20), nullable=False),
        sa.Column("note", sa.String(length=300), nullable=False),
        sa.Column("reported_by_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("reported_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("withdrawn_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("withdrawn_reason", sa.String(length=300), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint(
            "kind IN ('failed-inspection', 'scrapped', 'dog-leg', 'other', 'good-work')",
            name=op.f("ck_field_finding_kind"),
        ),
        sa.CheckConstraint(
            "(withdrawn_at IS NULL) = (withdrawn_reason IS NULL)", name=op.f("ck_field_finding_withdrawn_with_reason")
        ),
        sa.CheckConstraint("length(note) BETWEEN 1 AND 300", name=op.f("ck_field_finding_note_length")),
        sa.CheckConstraint(
            "length(withdrawn_reason) BETWEEN 1 AND 300", name=op.f("ck_field_finding_withdrawn_reason_length")
        ),
        sa.CheckConstraint("reported_by_id <> person_id", name=op.f("ck_field_finding_reported_by_another")),
        sa.CheckConstraint(
            "withdrawn_at IS NULL OR withdrawn_at >= reported_at", name=op.f("ck_field_finding_withdrawn_after_report")
        ),
        sa.ForeignKeyConstraint(["group_id"], ["study_group.id"], name=op.f("fk_field_finding_group_id")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_field_finding_person_id")),
        sa.ForeignKeyConstraint(["reported_by_id"], ["person.id"], name=op.f("fk_field_finding_reported_by_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_field_finding")),
        sa.UniqueConstraint("public_id", name=op.f("uq_field_finding_public_id")),
    )
    with op.batch_alter_table("field_finding", schema=None) as batch_op:
        batch_op.create_index("ix_field_finding_group_id", ["group_id"], unique=False)
        batch_op.create_index("ix_field_finding_person_id_skill", ["person_id", "skill"], unique=False)

    op.create_table(
        "job_hours",
        sa.Column("public_id", sa.String(length=22), nullable=False),
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("group_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("day", sa.Date(), nullable=False),
        sa.Column("process", sa.String(length=40), nullable=False),
        sa.Column("quarters", sa.Integer(), nullable=False),
        sa.Column("note", sa.String(length=200), nullable=False),
        sa.Column("entered_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("decision", sa.String(length=10), nullable=True),
        sa.Column("decided_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("decided_by_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("reason", sa.String(length=200), nullable=True),
        sa.Column("taken_back_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint(
            "decision <> 'sent-back' OR reason IS NOT NULL", name=op.f("ck_job_hours_sent_back_with_reason")
        ),
        sa.CheckConstraint("decision IN ('confirmed', 'sent-back')", name=op.f("ck_job_hours_decision")),
        sa.CheckConstraint(
            "(decision IS NULL) = (decided_at IS NULL)", name=op.f("ck_job_hours_decided_at_with_decision")
        ),
        sa.CheckConstraint(
            "(decision IS NULL) = (decided_by_id IS NULL)", name=op.f("ck_job_hours_decided_by_with_decision")
        ),
        sa.CheckConstraint("decided_by_id <> person_id", name=op.f("ck_job_hours_decided_by_another")),
        sa.CheckConstraint("length(note) <= 200", name=op.f("ck_job_hours_note_length")),
        sa.CheckConstraint("length(reason) BETWEEN 1 AND 200", name=op.f("ck_job_hours_reason_length")),
        sa.CheckConstraint("quarters BETWEEN 1 AND 96", name=op.f("ck_job_hours_quarters_range")),
        sa.CheckConstraint(
            "taken_back_at IS NULL OR taken_back_at >= entered_at", name=op.f("ck_job_hours_taken_back_after_entry")
        ),
        sa.ForeignKeyConstraint(["decided_by_id"], ["person.id"], name=op.f("fk_job_hours_decided_by_id")),
        sa.ForeignKeyConstraint(["group_id"], ["study_group.id"], name=op.f("fk_job_hours_group_id")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_job_hours_person_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_job_hours")),
        sa.UniqueConstraint("public_id", name=op.f("uq_job_hours_public_id")),
    )
    with op.batch_alter_table("job_hours", schema=None) as batch_op:
        batch_op.create_index("ix_job_hours_group_id", ["group_id"], unique=False)
        batch_op.create_index("ix_job_hours_person_id_day", ["person_id", "day"], unique=False)

    op.create_table(
        "attendance",
        sa.Column("class_day_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("noted_by_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("noted_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(["class_day_id"], ["class_day.id"], name=op.f("fk_attendance_class_day_id")),
        sa.ForeignKeyConstraint(["noted_by_id"], ["person.id"], name=op.f("fk_attendance_noted_by_id")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_attendance_person_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_attendance")),
        sa.UniqueConstraint("class_day_id", "person_id", name=op.f("uq_attendance_class_day_id_person_id")),
    )
    with op.batch_alter_table("attendance", schema=None) as batch_op:
        batch_op.create_index("ix_attendance_person_id", ["person_id"], unique=False)


def downgrade() -> None:
    # Drops findings, hours and attendance: before this revision there is no place for them.
    with op.batch_alter_table("attendance", schema=None) as batch_op:
        batch_op.drop_index("ix_attendance_person_id")

    op.drop_table("attendance")
    with op.batch_alter_table("job_hours", schema=None) as batch_op:
        batch_op.drop_index("ix_job_hours_person_id_day")
        batch_op.drop_index("ix_job_hours_group_id")

    op.drop_table("job_hours")
    with op.batch_alter_table("field_finding", schema=None) as batch_op:
        batch_op.drop_index("ix_field_finding_person_id_skill")
        batch_op.drop_index("ix_field_finding_group_id")

    op.drop_table("field_finding")
    with op.batch_alter_table("class_day", schema=None) as batch_op:
        batch_op.drop_index("ix_class_day_group_id_day")

    op.drop_table("class_day")
