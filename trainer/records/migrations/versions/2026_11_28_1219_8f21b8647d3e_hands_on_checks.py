"""
Hands-on checks: who may sign, what was set, what was signed; registrations of people.

Revision: 8f21b8647d3e; follows: 3bc789a6decf; written: 2026-11-28.

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

revision = "8f21b8647d3e"
down_revision = "3bc789a6decf"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "registration",
        sa.Column("public_id", sa.String(length=22), nullable=False),
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("what", sa.String(length=12), nullable=False),
        sa.Column("words", sa.String(length=120), nullable=False),
        sa.Column("expires_on", sa.Date(), nullable=False),
        sa.Column("entered_by_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("entered_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("ended_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("what IN ('registration', 'licence')", name=op.f("ck_registration_what")),
        sa.CheckConstraint("ended_at IS NULL OR ended_at >= entered_at", name=op.f("ck_registration_ends_after_entry")),
        sa.CheckConstraint("length(words) BETWEEN 1 AND 120", name=op.f("ck_registration_words_length")),
        sa.ForeignKeyConstraint(["entered_by_id"], ["person.id"], name=op.f("fk_registration_entered_by_id")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_registration_person_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_registration")),
        sa.UniqueConstraint("public_id", name=op.f("uq_registration_public_id")),
    )
    with op.batch_alter_table("registration", schema=None) as batch_op:
        batch_op.create_index("ix_registration_person_id", ["person_id"], unique=False)

    op.create_table(
        "signer",
        sa.Column("public_id", sa.String(length=22), nullable=False),
        sa.Column("organisation_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("kind", sa.String(length=40), nullable=False),
        sa.Column("licence", sa.String(length=120), nullable=False),
        sa.Column("expires_on", sa.Date(), nullable=False),
        sa.Column("named_by_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("named_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("ended_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("ended_at IS NULL OR ended_at >= named_at", name=op.f("ck_signer_ends_after_naming")),
        sa.CheckConstraint("length(licence) BETWEEN 1 AND 120", name=op.f("ck_signer_licence_length")),
        sa.ForeignKeyConstraint(["named_by_id"], ["person.id"], name=op.f("fk_signer_named_by_id")),
        sa.ForeignKeyConstraint(["organisation_id"], ["organisation.id"], name=op.f("fk_signer_organisation_id")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_signer_person_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_signer")),
        sa.UniqueConstraint("public_id", name=op.f("uq_signer_public_id")),
    )
    with op.batch_alter_table("signer", schema=None) as batch_op:
        batch_op.create_index("ix_signer_person_id", ["person_id"], unique=False)
        batch_op.create_index(
            "uq_signer_open",
            ["organisation_id", "person_id", "kind"],
            unique=True,
            sqlite_where=sa.text("ended_at IS NULL"),
            postgresql_where=sa.text("ended_at IS NULL"),
        )

    op.create_table(
        "hands_on_check",
        sa.Column("public_id", sa.String(length=22), nullable=False),
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("organisation_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("group_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("kind", sa.String(length=40), nullable=False),
        sa.Column("trade_size", sa.String(length=8), nullable=False),
        sa.Column("seed", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("sheet", sa.JSON(none_as_null=True), nullable=False),
        sa.Column("issued_by_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("issued_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("dropped_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint(
            "dropped_at IS NULL OR dropped_at >= issued_at", name=op.f("ck_hands_on_check_dropped_after_issue")
        ),
        sa.ForeignKeyConstraint(["group_id"], ["study_group.id"], name=op.f("fk_hands_on_check_group_id")),
        sa.ForeignKeyConstraint(["issued_by_id"], ["person.id"], name=op.f("fk_hands_on_check_issued_by_id")),
        sa.ForeignKeyConstraint(
            ["organisation_id"], ["organisation.id"], name=op.f("fk_hands_on_check_organisation_id")
        ),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_hands_on_check_person_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_hands_on_check")),
        sa.UniqueConstraint("public_id", name=op.f("uq_hands_on_check_public_id")),
    )
    with op.batch_alter_table("hands_on_check", schema=None) as batch_op:
        batch_op.create_index("ix_hands_on_check_group_id", ["group_id"], unique=False)
        batch_op.create_index("ix_hands_on_check_organisation_id_kind", ["organisation_id", "kind"], unique=False)
        batch_op.create_index("ix_hands_on_check_person_id", ["person_id"], unique=False)

    op.create_table(
        "check_signing",
        sa.Column("check_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("judge", sa.Integer(), nullable=False),
        sa.Column("signer_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("signed_by_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("signed_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("measured", sa.JSON(none_as_null=True), nullable=False),
        sa.Column("steps", sa.JSON(none_as_null=True), nullable=False),
        sa.Column("passed", sa.Boolean(), nullable=False),
        sa.Column("note", sa.String(length=400), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("judge IN (1, 2)", name=op.f("ck_check_signing_judge")),
        sa.CheckConstraint("length(note) <= 400", name=op.f("ck_check_signing_note_length")),
        sa.ForeignKeyConstraint(["check_id"], ["hands_on_check.id"], name=op.f("fk_check_signing_check_id")),
        sa.ForeignKeyConstraint(["signed_by_id"], ["person.id"], name=op.f("fk_check_signing_signed_by_id")),
        sa.ForeignKeyConstraint(["signer_id"], ["signer.id"], name=op.f("fk_check_signing_signer_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_check_signing")),
        sa.UniqueConstraint("check_id", "judge", name=op.f("uq_check_signing_check_id_judge")),
        sa.UniqueConstraint("check_id", "signed_by_id", name=op.f("uq_check_signing_check_id_signed_by_id")),
    )
    with op.batch_alter_table("check_signing", schema=None) as batch_op:
        batch_op.create_index("ix_check_signing_signer_id", ["signer_id"], unique=False)

    op.create_table(
        "check_withdrawal",
        sa.Column("check_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("reason", sa.String(length=400), nullable=False),
        sa.Column("withdrawn_by_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("withdrawn_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("length(reason) BETWEEN 1 AND 400", name=op.f("ck_check_withdrawal_reason_length")),
        sa.ForeignKeyConstraint(["check_id"], ["hands_on_check.id"], name=op.f("fk_check_withdrawal_check_id")),
        sa.ForeignKeyConstraint(["withdrawn_by_id"], ["person.id"], name=op.f("fk_check_withdrawal_withdrawn_by_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_check_withdrawal")),
        sa.UniqueConstraint("check_id", name=op.f("uq_check_withdrawal_check_id")),
    )


def downgrade() -> None:
    # Drops namings, checks, signatures and registrations: before this revision there is no place for them.
    op.drop_table("check_withdrawal")
    with op.batch_alter_table("check_signing", schema=None) as batch_op:
        batch_op.drop_index("ix_check_signing_signer_id")

    op.drop_table("check_signing")
    with op.batch_alter_table("hands_on_check", schema=None) as batch_op:
        batch_op.drop_index("ix_hands_on_check_person_id")
        batch_op.drop_index("ix_hands_on_check_organisation_id_kind")
        batch_op.drop_index("ix_hands_on_check_group_id")

    op.drop_table("hands_on_check")
    with op.batch_alter_table("signer", schema=None) as batch_op:
        batch_op.drop_index(
            "uq_signer_open", sqlite_where=sa.text("ended_at IS NULL"), postgresql_where=sa.text("ended_at IS NULL")
        )
        batch_op.drop_index("ix_signer_person_id")

    op.drop_table("signer")
    with op.batch_alter_table("registration", schema=None) as batch_op:
        batch_op.drop_index("ix_registration_person_id")

    op.drop_table("registration")
