"""
Second steps of signing in.

Revision: 7b7deb3ba8d1; follows: 6816442144c4; written: 2026-11-28.

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

revision = "7b7deb3ba8d1"
down_revision = "6816442144c4"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "half_sign_in",
        sa.Column("token_hash", sa.String(length=64), nullable=False),
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("expires_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("expires_at > created_at", name=op.f("ck_half_sign_in_expires_after_creation")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_half_sign_in_person_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_half_sign_in")),
        sa.UniqueConstraint("token_hash", name=op.f("uq_half_sign_in_token_hash")),
    )
    with op.batch_alter_table("half_sign_in", schema=None) as batch_op:
        batch_op.create_index("ix_half_sign_in_expires_at", ["expires_at"], unique=False)
        batch_op.create_index("ix_half_sign_in_person_id", ["person_id"], unique=False)

    op.create_table(
        "outside_account",
        sa.Column("issuer", sa.String(length=255), nullable=False),
        sa.Column("subject", sa.String(length=255), nullable=False),
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("linked_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("length(issuer) BETWEEN 1 AND 255", name=op.f("ck_outside_account_issuer_length")),
        sa.CheckConstraint("length(subject) BETWEEN 1 AND 255", name=op.f("ck_outside_account_subject_length")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_outside_account_person_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_outside_account")),
        sa.UniqueConstraint("issuer", "subject", name=op.f("uq_outside_account_issuer_subject")),
    )
    with op.batch_alter_table("outside_account", schema=None) as batch_op:
        batch_op.create_index("ix_outside_account_person_id", ["person_id"], unique=False)

    op.create_table(
        "recovery_code",
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("tag", sa.String(length=4), nullable=False),
        sa.Column("code_hash", sa.String(length=255), nullable=False),
        sa.Column("made_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("used_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("length(tag) = 4", name=op.f("ck_recovery_code_tag_length")),
        sa.CheckConstraint("used_at IS NULL OR used_at >= made_at", name=op.f("ck_recovery_code_used_after_making")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_recovery_code_person_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_recovery_code")),
        sa.UniqueConstraint("person_id", "tag", name=op.f("uq_recovery_code_person_id_tag")),
    )
    op.create_table(
        "second_factor",
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("salt", sa.String(length=43), nullable=False),
        sa.Column("key_mark", sa.String(length=16), nullable=False),
        sa.Column("begun_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("confirmed_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("last_step", sa.BigInteger(), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint(
            "(confirmed_at IS NULL) = (last_step IS NULL)", name=op.f("ck_second_factor_confirmed_by_a_code")
        ),
        sa.CheckConstraint(
            "confirmed_at IS NULL OR confirmed_at >= begun_at", name=op.f("ck_second_factor_confirmed_after_begin")
        ),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_second_factor_person_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_second_factor")),
        sa.UniqueConstraint("person_id", name=op.f("uq_second_factor_person_id")),
    )
    with op.batch_alter_table("organisation", schema=None) as batch_op:
        batch_op.add_column(
            sa.Column("second_factor_for", sa.String(length=40), server_default=sa.text("''"), nullable=False)
        )

    with op.batch_alter_table("sign_in_session", schema=None) as batch_op:
        batch_op.add_column(sa.Column("proved_at", sa.DateTime(timezone=True), nullable=True))


def downgrade() -> None:
    # Drops every second factor, with the codes on paper, and every account elsewhere that signs in here: before this
    # revision there is no place for them. Who had one signs in with the password alone.
    with op.batch_alter_table("sign_in_session", schema=None) as batch_op:
        batch_op.drop_column("proved_at")

    with op.batch_alter_table("organisation", schema=None) as batch_op:
        batch_op.drop_column("second_factor_for")

    op.drop_table("second_factor")
    op.drop_table("recovery_code")
    with op.batch_alter_table("outside_account", schema=None) as batch_op:
        batch_op.drop_index("ix_outside_account_person_id")

    op.drop_table("outside_account")
    with op.batch_alter_table("half_sign_in", schema=None) as batch_op:
        batch_op.drop_index("ix_half_sign_in_person_id")
        batch_op.drop_index("ix_half_sign_in_expires_at")

    op.drop_table("half_sign_in")
