"""
First tables.

Revision: c699eeb47a38; follows: none; written: 2026-11-25.

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

revision = "c699eeb47a38"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "family_difficulty",
        sa.Column("rules_hash", sa.String(length=64), nullable=False),
        sa.Column("family_id", sa.String(length=80), nullable=False),
        sa.Column("skill", sa.String(length=40), nullable=False),
        sa.Column("difficulty", sa.Float(precision=53), nullable=False),
        sa.Column("counted", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("difficulty BETWEEN -3 AND 3", name=op.f("ck_family_difficulty_difficulty_range")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_family_difficulty")),
        sa.UniqueConstraint("rules_hash", name=op.f("uq_family_difficulty_rules_hash")),
    )
    with op.batch_alter_table("family_difficulty", schema=None) as batch_op:
        batch_op.create_index("ix_family_difficulty_skill", ["skill"], unique=False)

    op.create_table(
        "organisation",
        sa.Column("public_id", sa.String(length=22), nullable=False),
        sa.Column("name", sa.String(length=120), nullable=False),
        sa.Column("kind", sa.String(length=8), nullable=False),
        sa.Column("time_zone", sa.String(length=64), nullable=False),
        sa.Column("basis", sa.String(length=16), nullable=False),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("basis IN ('sharp-corner', 'handbook', 'arc')", name=op.f("ck_organisation_basis")),
        sa.CheckConstraint("kind IN ('school', 'shop')", name=op.f("ck_organisation_kind")),
        sa.CheckConstraint("length(name) BETWEEN 1 AND 120", name=op.f("ck_organisation_name_length")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_organisation")),
        sa.UniqueConstraint("public_id", name=op.f("uq_organisation_public_id")),
    )
    op.create_table(
        "person",
        sa.Column("public_id", sa.String(length=22), nullable=False),
        sa.Column("sign_in_name", sa.String(length=40), nullable=True),
        sa.Column("display_name", sa.String(length=80), nullable=False),
        sa.Column("password_hash", sa.String(length=255), nullable=True),
        sa.Column("must_change_password", sa.Boolean(), nullable=False),
        sa.Column("is_site_administrator", sa.Boolean(), nullable=False),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("deleted_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("problems_issued", sa.Integer(), nullable=False),
        sa.Column("answers_given", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint(
            "(sign_in_name IS NULL) = (deleted_at IS NOT NULL)", name=op.f("ck_person_named_until_deleted")
        ),
        sa.CheckConstraint("answers_given >= 0", name=op.f("ck_person_answers_given_not_negative")),
        sa.CheckConstraint(
            "deleted_at IS NULL OR (password_hash IS NULL AND NOT is_site_administrator)",
            name=op.f("ck_person_deleted_cannot_sign_in"),
        ),
        sa.CheckConstraint("length(display_name) BETWEEN 1 AND 80", name=op.f("ck_person_display_name_length")),
        sa.CheckConstraint("length(sign_in_name) BETWEEN 3 AND 40", name=op.f("ck_person_sign_in_name_length")),
        sa.CheckConstraint("problems_issued >= 0", name=op.f("ck_person_problems_issued_not_negative")),
        sa.CheckConstraint("sign_in_name = lower(sign_in_name)", name=op.f("ck_person_sign_in_name_lower")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_person")),
        sa.UniqueConstraint("public_id", name=op.f("uq_person_public_id")),
        sa.UniqueConstraint("sign_in_name", name=op.f("uq_person_sign_in_name")),
    )
    op.create_table(
        "site",
        sa.Column("edition", sa.String(length=4), nullable=False),
        sa.Column("is_demo", sa.Boolean(), nullable=False),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("edition IN ('2017', '2020', '2023')", name=op.f("ck_site_edition")),
        sa.CheckConstraint("id = 1", name=op.f("ck_site_only_one")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_site")),
    )
    op.create_table(
        "throttle",
        sa.Column("kind", sa.String(length=20), nullable=False),
        sa.Column("subject", sa.String(length=64), nullable=False),
        sa.Column("level", sa.Float(precision=53), nullable=False),
        sa.Column("updated_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("expires_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("expires_at >= updated_at", name=op.f("ck_throttle_expires_after_update")),
        sa.CheckConstraint("level >= 0", name=op.f("ck_throttle_level_not_negative")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_throttle")),
        sa.UniqueConstraint("kind", "subject", name=op.f("uq_throttle_kind_subject")),
    )
    with op.batch_alter_table("throttle", schema=None) as batch_op:
        batch_op.create_index("ix_throttle_expires_at", ["expires_at"], unique=False)

    op.create_table(
        "content_version",
        sa.Column("kind", sa.String(length=8), nullable=False),
        sa.Column("content_id", sa.String(length=80), nullable=False),
        sa.Column("organisation_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("rules_hash", sa.String(length=64), nullable=False),
        sa.Column("words_hash", sa.String(length=64), nullable=False),
        sa.Column("body", sa.Text(), nullable=False),
        sa.Column("first_used_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("kind IN ('family', 'lesson')", name=op.f("ck_content_version_kind")),
        sa.ForeignKeyConstraint(
            ["organisation_id"], ["organisation.id"], name=op.f("fk_content_version_organisation_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_content_version")),
        sa.UniqueConstraint(
            "kind", "rules_hash", "words_hash", name=op.f("uq_content_version_kind_rules_hash_words_hash")
        ),
    )
    with op.batch_alter_table("content_version", schema=None) as batch_op:
        batch_op.create_index("ix_content_version_content_id", ["content_id"], unique=False)

    op.create_table(
        "lesson_reading",
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("lesson_id", sa.String(length=80), nullable=False),
        sa.Column("read_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_lesson_reading_person_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_lesson_reading")),
        sa.UniqueConstraint("person_id", "lesson_id", name=op.f("uq_lesson_reading_person_id_lesson_id")),
    )
    op.create_table(
        "mistake_history",
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("skill", sa.String(length=40), nullable=False),
        sa.Column("family_id", sa.String(length=80), nullable=False),
        sa.Column("mistake_id", sa.String(length=80), nullable=False),
        sa.Column("bits", sa.Integer(), nullable=False),
        sa.Column("seen", sa.Integer(), nullable=False),
        sa.Column("right_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("right_before_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("bits BETWEEN 0 AND 63", name=op.f("ck_mistake_history_six_bits")),
        sa.CheckConstraint("seen BETWEEN 0 AND 6", name=op.f("ck_mistake_history_seen_up_to_six")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_mistake_history_person_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_mistake_history")),
        sa.UniqueConstraint(
            "person_id", "family_id", "mistake_id", name=op.f("uq_mistake_history_person_id_family_id_mistake_id")
        ),
    )
    op.create_table(
        "sign_in_session",
        sa.Column("public_id", sa.String(length=22), nullable=False),
        sa.Column("token_hash", sa.String(length=64), nullable=False),
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("last_seen_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("expires_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("revoked_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("device", sa.String(length=120), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("expires_at > created_at", name=op.f("ck_sign_in_session_expires_after_creation")),
        sa.ForeignKeyConstraint(
            ["person_id"], ["person.id"], name=op.f("fk_sign_in_session_person_id"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_sign_in_session")),
        sa.UniqueConstraint("public_id", name=op.f("uq_sign_in_session_public_id")),
        sa.UniqueConstraint("token_hash", name=op.f("uq_sign_in_session_token_hash")),
    )
    with op.batch_alter_table("sign_in_session", schema=None) as batch_op:
        batch_op.create_index("ix_sign_in_session_expires_at", ["expires_at"], unique=False)
        batch_op.create_index("ix_sign_in_session_person_id", ["person_id"], unique=False)

    op.create_table(
        "skill_state",
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("skill", sa.String(length=40), nullable=False),
        sa.Column("level", sa.Float(precision=53), nullable=False),
        sa.Column("variance", sa.Float(precision=53), nullable=False),
        sa.Column("holding_days", sa.Float(precision=53), nullable=False),
        sa.Column("counted", sa.Integer(), nullable=False),
        sa.Column("last_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("last_turn", sa.Integer(), nullable=False),
        sa.Column("recent_families", sa.JSON(none_as_null=True), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("counted >= 0", name=op.f("ck_skill_state_counted_not_negative")),
        sa.CheckConstraint("holding_days > 0", name=op.f("ck_skill_state_holding_positive")),
        sa.CheckConstraint("variance > 0", name=op.f("ck_skill_state_variance_positive")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_skill_state_person_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_skill_state")),
        sa.UniqueConstraint("person_id", "skill", name=op.f("uq_skill_state_person_id_skill")),
    )
    op.create_table(
        "study_group",
        sa.Column("public_id", sa.String(length=22), nullable=False),
        sa.Column("organisation_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("kind", sa.String(length=8), nullable=False),
        sa.Column("name", sa.String(length=120), nullable=False),
        sa.Column("join_code", sa.String(length=12), nullable=True),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("archived_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("kind IN ('class', 'crew')", name=op.f("ck_study_group_kind")),
        sa.CheckConstraint("length(name) BETWEEN 1 AND 120", name=op.f("ck_study_group_name_length")),
        sa.ForeignKeyConstraint(["organisation_id"], ["organisation.id"], name=op.f("fk_study_group_organisation_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_study_group")),
        sa.UniqueConstraint("id", "organisation_id", name=op.f("uq_study_group_id_organisation_id")),
        sa.UniqueConstraint("join_code", name=op.f("uq_study_group_join_code")),
        sa.UniqueConstraint("public_id", name=op.f("uq_study_group_public_id")),
    )
    with op.batch_alter_table("study_group", schema=None) as batch_op:
        batch_op.create_index("ix_study_group_organisation_id", ["organisation_id"], unique=False)

    op.create_table(
        "assigned_work",
        sa.Column("public_id", sa.String(length=22), nullable=False),
        sa.Column("group_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("given_by_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("kind", sa.String(length=8), nullable=False),
        sa.Column("title", sa.String(length=120), nullable=False),
        sa.Column("edition", sa.String(length=4), nullable=False),
        sa.Column("due_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("withdrawn_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("kind IN ('room', 'home', 'paper')", name=op.f("ck_assigned_work_kind")),
        sa.CheckConstraint("length(title) BETWEEN 1 AND 120", name=op.f("ck_assigned_work_title_length")),
        sa.ForeignKeyConstraint(["given_by_id"], ["person.id"], name=op.f("fk_assigned_work_given_by_id")),
        sa.ForeignKeyConstraint(["group_id"], ["study_group.id"], name=op.f("fk_assigned_work_group_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_assigned_work")),
        sa.UniqueConstraint("public_id", name=op.f("uq_assigned_work_public_id")),
    )
    with op.batch_alter_table("assigned_work", schema=None) as batch_op:
        batch_op.create_index("ix_assigned_work_group_id", ["group_id"], unique=False)

    op.create_table(
        "audit_line",
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("actor_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("subject_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("group_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("what", sa.String(length=60), nullable=False),
        sa.Column("detail", sa.JSON(none_as_null=True), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(["actor_id"], ["person.id"], name=op.f("fk_audit_line_actor_id")),
        sa.ForeignKeyConstraint(["group_id"], ["study_group.id"], name=op.f("fk_audit_line_group_id")),
        sa.ForeignKeyConstraint(["subject_id"], ["person.id"], name=op.f("fk_audit_line_subject_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_audit_line")),
    )
    with op.batch_alter_table("audit_line", schema=None) as batch_op:
        batch_op.create_index("ix_audit_line_subject_id_at", ["subject_id", "at"], unique=False)

    op.create_table(
        "membership",
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("organisation_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("group_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("role", sa.String(length=12), nullable=False),
        sa.Column("started_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("ended_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("role <> 'learner' OR group_id IS NOT NULL", name=op.f("ck_membership_learner_has_group")),
        sa.CheckConstraint("role <> 'owner' OR group_id IS NULL", name=op.f("ck_membership_owner_of_organisation")),
        sa.CheckConstraint("role IN ('learner', 'instructor', 'foreman', 'owner')", name=op.f("ck_membership_role")),
        sa.CheckConstraint("ended_at IS NULL OR ended_at >= started_at", name=op.f("ck_membership_ends_after_start")),
        sa.ForeignKeyConstraint(
            ["group_id", "organisation_id"],
            ["study_group.id", "study_group.organisation_id"],
            name=op.f("fk_membership_group_id_organisation_id"),
        ),
        sa.ForeignKeyConstraint(["organisation_id"], ["organisation.id"], name=op.f("fk_membership_organisation_id")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_membership_person_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_membership")),
    )
    with op.batch_alter_table("membership", schema=None) as batch_op:
        batch_op.create_index("ix_membership_group_id", ["group_id"], unique=False)
        batch_op.create_index("ix_membership_organisation_id", ["organisation_id"], unique=False)
        batch_op.create_index("ix_membership_person_id", ["person_id"], unique=False)
        batch_op.create_index(
            "uq_membership_open_in_group",
            ["person_id", "group_id", "role"],
            unique=True,
            sqlite_where=sa.text("ended_at IS NULL AND group_id IS NOT NULL"),
            postgresql_where=sa.text("ended_at IS NULL AND group_id IS NOT NULL"),
        )
        batch_op.create_index(
            "uq_membership_open_in_organisation",
            ["person_id", "organisation_id", "role"],
            unique=True,
            sqlite_where=sa.text("ended_at IS NULL AND group_id IS NULL"),
            postgresql_where=sa.text("ended_at IS NULL AND group_id IS NULL"),
        )

    op.create_table(
        "share",
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("group_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("what", sa.String(length=12), nullable=False),
        sa.Column("started_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("ended_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("what IN ('assigned', 'readiness', 'practice')", name=op.f("ck_share_what")),
        sa.CheckConstraint("ended_at IS NULL OR ended_at >= started_at", name=op.f("ck_share_ends_after_start")),
        sa.ForeignKeyConstraint(["group_id"], ["study_group.id"], name=op.f("fk_share_group_id")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_share_person_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_share")),
    )
    with op.batch_alter_table("share", schema=None) as batch_op:
        batch_op.create_index("ix_share_group_id", ["group_id"], unique=False)
        batch_op.create_index(
            "uq_share_open",
            ["person_id", "group_id", "what"],
            unique=True,
            sqlite_where=sa.text("ended_at IS NULL"),
            postgresql_where=sa.text("ended_at IS NULL"),
        )

    op.create_table(
        "assigned_family",
        sa.Column("assigned_work_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("content_version_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("position >= 1", name=op.f("ck_assigned_family_position_from_one")),
        sa.ForeignKeyConstraint(
            ["assigned_work_id"], ["assigned_work.id"], name=op.f("fk_assigned_family_assigned_work_id")
        ),
        sa.ForeignKeyConstraint(
            ["content_version_id"], ["content_version.id"], name=op.f("fk_assigned_family_content_version_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_assigned_family")),
        sa.UniqueConstraint("assigned_work_id", "position", name=op.f("uq_assigned_family_assigned_work_id_position")),
    )
    op.create_table(
        "problem",
        sa.Column("public_id", sa.String(length=22), nullable=False),
        sa.Column("code", sa.String(length=12), nullable=False),
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("context", sa.String(length=10), nullable=False),
        sa.Column("lesson_id", sa.String(length=80), nullable=True),
        sa.Column("assigned_family_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("content_version_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("family_id", sa.String(length=80), nullable=False),
        sa.Column("skill", sa.String(length=40), nullable=False),
        sa.Column("seed", sa.BigInteger(), nullable=False),
        sa.Column("edition", sa.String(length=4), nullable=False),
        sa.Column("basis", sa.String(length=40), nullable=False),
        sa.Column("drawn", sa.JSON(none_as_null=True), nullable=False),
        sa.Column("why", sa.JSON(none_as_null=True), nullable=True),
        sa.Column("issued_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("closed_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("hints_shown", sa.Integer(), nullable=False),
        sa.Column("steps_shown", sa.Boolean(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint(
            "(context = 'assigned') = (assigned_family_id IS NOT NULL)", name=op.f("ck_problem_assigned_has_family")
        ),
        sa.CheckConstraint(
            "context IN ('practice', 'lesson', 'proof', 'assigned', 'placement', 'paper')",
            name=op.f("ck_problem_context"),
        ),
        sa.CheckConstraint("edition IN ('2017', '2020', '2023')", name=op.f("ck_problem_edition")),
        sa.CheckConstraint("hints_shown >= 0", name=op.f("ck_problem_hints_not_negative")),
        sa.ForeignKeyConstraint(
            ["assigned_family_id"], ["assigned_family.id"], name=op.f("fk_problem_assigned_family_id")
        ),
        sa.ForeignKeyConstraint(
            ["content_version_id"], ["content_version.id"], name=op.f("fk_problem_content_version_id")
        ),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_problem_person_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_problem")),
        sa.UniqueConstraint("code", name=op.f("uq_problem_code")),
        sa.UniqueConstraint("id", "person_id", name=op.f("uq_problem_id_person_id")),
        sa.UniqueConstraint("public_id", name=op.f("uq_problem_public_id")),
    )
    with op.batch_alter_table("problem", schema=None) as batch_op:
        batch_op.create_index(
            "ix_problem_assigned_family_id_person_id", ["assigned_family_id", "person_id"], unique=False
        )
        batch_op.create_index("ix_problem_person_id_closed_at", ["person_id", "closed_at"], unique=False)

    op.create_table(
        "answer",
        sa.Column("problem_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("answer_key", sa.String(length=36), nullable=False),
        sa.Column("sequence", sa.Integer(), nullable=False),
        sa.Column("attempt", sa.Integer(), nullable=False),
        sa.Column("typed", sa.String(length=400), nullable=False),
        sa.Column("value_read", sa.JSON(none_as_null=True), nullable=True),
        sa.Column("hints_seen", sa.Integer(), nullable=False),
        sa.Column("steps_seen", sa.Boolean(), nullable=False),
        sa.Column("answered_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("difficulty", sa.Float(precision=53), nullable=False),
        sa.Column("chance_before", sa.Float(precision=53), nullable=False),
        sa.Column("weight", sa.Float(precision=53), nullable=False),
        sa.Column("start_level", sa.Float(precision=53), nullable=False),
        sa.Column("days", sa.Float(precision=53), nullable=False),
        sa.Column("lucky", sa.Float(precision=53), nullable=False),
        sa.Column("constants_version", sa.Integer(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("attempt >= 1", name=op.f("ck_answer_attempt_from_one")),
        sa.CheckConstraint("days >= 0", name=op.f("ck_answer_days_not_negative")),
        sa.CheckConstraint("length(typed) <= 400", name=op.f("ck_answer_typed_length")),
        sa.CheckConstraint("weight >= 0 AND weight <= 1", name=op.f("ck_answer_weight_range")),
        sa.ForeignKeyConstraint(
            ["problem_id", "person_id"],
            ["problem.id", "problem.person_id"],
            name=op.f("fk_answer_problem_id_person_id"),
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_answer")),
        sa.UniqueConstraint("person_id", "answer_key", name=op.f("uq_answer_person_id_answer_key")),
        sa.UniqueConstraint("person_id", "sequence", name=op.f("uq_answer_person_id_sequence")),
        sa.UniqueConstraint("problem_id", "attempt", name=op.f("uq_answer_problem_id_attempt")),
    )
    op.create_table(
        "grading",
        sa.Column("answer_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("sequence", sa.Integer(), nullable=False),
        sa.Column("verdict", sa.String(length=16), nullable=False),
        sa.Column("mistakes", sa.JSON(none_as_null=True), nullable=False),
        sa.Column("reason", sa.JSON(none_as_null=True), nullable=True),
        sa.Column("basis", sa.String(length=16), nullable=False),
        sa.Column("graded_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("graded_by_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint(
            "verdict IN ('right', 'rounded-too-far', 'known-mistake', 'wrong-unit', 'wrong', 'gave-up')",
            name=op.f("ck_grading_verdict"),
        ),
        sa.CheckConstraint("sequence >= 1", name=op.f("ck_grading_sequence_from_one")),
        sa.ForeignKeyConstraint(["answer_id"], ["answer.id"], name=op.f("fk_grading_answer_id")),
        sa.ForeignKeyConstraint(["graded_by_id"], ["person.id"], name=op.f("fk_grading_graded_by_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_grading")),
        sa.UniqueConstraint("answer_id", "sequence", name=op.f("uq_grading_answer_id_sequence")),
    )


def downgrade() -> None:
    op.drop_table("grading")
    op.drop_table("answer")
    with op.batch_alter_table("problem", schema=None) as batch_op:
        batch_op.drop_index("ix_problem_person_id_closed_at")
        batch_op.drop_index("ix_problem_assigned_family_id_person_id")

    op.drop_table("problem")
    op.drop_table("assigned_family")
    with op.batch_alter_table("share", schema=None) as batch_op:
        batch_op.drop_index(
            "uq_share_open", sqlite_where=sa.text("ended_at IS NULL"), postgresql_where=sa.text("ended_at IS NULL")
        )
        batch_op.drop_index("ix_share_group_id")

    op.drop_table("share")
    with op.batch_alter_table("membership", schema=None) as batch_op:
        batch_op.drop_index(
            "uq_membership_open_in_organisation",
            sqlite_where=sa.text("ended_at IS NULL AND group_id IS NULL"),
            postgresql_where=sa.text("ended_at IS NULL AND group_id IS NULL"),
        )
        batch_op.drop_index(
            "uq_membership_open_in_group",
            sqlite_where=sa.text("ended_at IS NULL AND group_id IS NOT NULL"),
            postgresql_where=sa.text("ended_at IS NULL AND group_id IS NOT NULL"),
        )
        batch_op.drop_index("ix_membership_person_id")
        batch_op.drop_index("ix_membership_organisation_id")
        batch_op.drop_index("ix_membership_group_id")

    op.drop_table("membership")
    with op.batch_alter_table("audit_line", schema=None) as batch_op:
        batch_op.drop_index("ix_audit_line_subject_id_at")

    op.drop_table("audit_line")
    with op.batch_alter_table("assigned_work", schema=None) as batch_op:
        batch_op.drop_index("ix_assigned_work_group_id")

    op.drop_table("assigned_work")
    with op.batch_alter_table("study_group", schema=None) as batch_op:
        batch_op.drop_index("ix_study_group_organisation_id")

    op.drop_table("study_group")
    op.drop_table("skill_state")
    with op.batch_alter_table("sign_in_session", schema=None) as batch_op:
        batch_op.drop_index("ix_sign_in_session_person_id")
        batch_op.drop_index("ix_sign_in_session_expires_at")

    op.drop_table("sign_in_session")
    op.drop_table("mistake_history")
    op.drop_table("lesson_reading")
    with op.batch_alter_table("content_version", schema=None) as batch_op:
        batch_op.drop_index("ix_content_version_content_id")

    op.drop_table("content_version")
    with op.batch_alter_table("throttle", schema=None) as batch_op:
        batch_op.drop_index("ix_throttle_expires_at")

    op.drop_table("throttle")
    op.drop_table("site")
    op.drop_table("person")
    op.drop_table("organisation")
    with op.batch_alter_table("family_difficulty", schema=None) as batch_op:
        batch_op.drop_index("ix_family_difficulty_skill")

    op.drop_table("family_difficulty")
