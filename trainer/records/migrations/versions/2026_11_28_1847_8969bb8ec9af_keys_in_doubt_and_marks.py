"""
Keys in doubt and marks.

Revision: 8969bb8ec9af; follows: 9776d5f24c5a; written: 2026-11-28.

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

revision = "8969bb8ec9af"
down_revision = "9776d5f24c5a"
branch_labels = None
depends_on = None


BEFORE = "verdict IN ('right', 'rounded-too-far', 'known-mistake', 'wrong-unit', 'wrong', 'gave-up')"
SINCE = (
    "verdict IN ('right', 'rounded-too-far', 'known-mistake', 'wrong-unit', 'wrong', 'gave-up', 'credited', "
    "'not-counted')"
)


def upgrade() -> None:
    with op.batch_alter_table("grading", schema=None) as batch_op:
        batch_op.drop_constraint(batch_op.f("ck_grading_verdict"), type_="check")
        batch_op.create_check_constraint(batch_op.f("ck_grading_verdict"), SINCE)

    op.create_table(
        "key_ruling",
        sa.Column("rules_hash", sa.String(length=64), nullable=False),
        sa.Column("family_id", sa.String(length=80), nullable=False),
        sa.Column("sequence", sa.Integer(), nullable=False),
        sa.Column("remedy", sa.String(length=10), nullable=False),
        sa.Column("accepts", sa.String(length=400), nullable=False),
        sa.Column("reason", sa.String(length=400), nullable=False),
        sa.Column("ruled_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("ruled_by_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("(remedy = 'also') = (length(accepts) > 0)", name=op.f("ck_key_ruling_also_accepts")),
        sa.CheckConstraint(
            "remedy IN ('doubt', 'credit', 'also', 'set-aside', 'new-key', 'stands')", name=op.f("ck_key_ruling_remedy")
        ),
        sa.CheckConstraint("length(accepts) <= 400", name=op.f("ck_key_ruling_accepts_length")),
        sa.CheckConstraint("length(reason) BETWEEN 1 AND 400", name=op.f("ck_key_ruling_reason_length")),
        sa.CheckConstraint("sequence >= 1", name=op.f("ck_key_ruling_sequence_from_one")),
        sa.ForeignKeyConstraint(["ruled_by_id"], ["person.id"], name=op.f("fk_key_ruling_ruled_by_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_key_ruling")),
        sa.UniqueConstraint("rules_hash", "sequence", name=op.f("uq_key_ruling_rules_hash_sequence")),
    )
    op.create_table(
        "result_mark",
        sa.Column("assigned_family_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("sequence", sa.Integer(), nullable=False),
        sa.Column("how", sa.String(length=10), nullable=False),
        sa.Column("points", sa.Float(precision=53), nullable=True),
        sa.Column("reason", sa.String(length=300), nullable=False),
        sa.Column("set_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("set_by_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint(
            "(how = 'taken-back') = (points IS NULL)", name=op.f("ck_result_mark_points_unless_taken_back")
        ),
        sa.CheckConstraint("how IN ('override', 'by-hand', 'taken-back')", name=op.f("ck_result_mark_how")),
        sa.CheckConstraint("length(reason) BETWEEN 1 AND 300", name=op.f("ck_result_mark_reason_length")),
        sa.CheckConstraint("points >= 0 AND points <= 1", name=op.f("ck_result_mark_points_range")),
        sa.CheckConstraint("sequence >= 1", name=op.f("ck_result_mark_sequence_from_one")),
        sa.ForeignKeyConstraint(
            ["assigned_family_id"], ["assigned_family.id"], name=op.f("fk_result_mark_assigned_family_id")
        ),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_result_mark_person_id")),
        sa.ForeignKeyConstraint(["set_by_id"], ["person.id"], name=op.f("fk_result_mark_set_by_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_result_mark")),
        sa.UniqueConstraint(
            "assigned_family_id",
            "person_id",
            "sequence",
            name=op.f("uq_result_mark_assigned_family_id_person_id_sequence"),
        ),
    )
    with op.batch_alter_table("result_mark", schema=None) as batch_op:
        batch_op.create_index("ix_result_mark_person_id", ["person_id"], unique=False)

    op.create_table(
        "key_claim",
        sa.Column("public_id", sa.String(length=22), nullable=False),
        sa.Column("problem_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("person_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("own_answer", sa.String(length=200), nullable=False),
        sa.Column("why", sa.String(length=600), nullable=False),
        sa.Column("sent_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("outcome", sa.String(length=10), nullable=True),
        sa.Column("reply", sa.String(length=600), nullable=False),
        sa.Column("answered_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("answered_by_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("outcome IN ('key-right', 'key-wrong')", name=op.f("ck_key_claim_outcome")),
        sa.CheckConstraint(
            "(outcome IS NULL) = (answered_at IS NULL)", name=op.f("ck_key_claim_answered_with_outcome")
        ),
        sa.CheckConstraint("length(own_answer) BETWEEN 1 AND 200", name=op.f("ck_key_claim_own_answer_length")),
        sa.CheckConstraint("length(reply) <= 600", name=op.f("ck_key_claim_reply_length")),
        sa.CheckConstraint("length(why) BETWEEN 1 AND 600", name=op.f("ck_key_claim_why_length")),
        sa.ForeignKeyConstraint(["answered_by_id"], ["person.id"], name=op.f("fk_key_claim_answered_by_id")),
        sa.ForeignKeyConstraint(
            ["problem_id", "person_id"],
            ["problem.id", "problem.person_id"],
            name=op.f("fk_key_claim_problem_id_person_id"),
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_key_claim")),
        sa.UniqueConstraint("problem_id", name=op.f("uq_key_claim_problem_id")),
        sa.UniqueConstraint("public_id", name=op.f("uq_key_claim_public_id")),
    )
    with op.batch_alter_table("key_claim", schema=None) as batch_op:
        batch_op.create_index("ix_key_claim_answered_at", ["answered_at"], unique=False)
        batch_op.create_index("ix_key_claim_person_id", ["person_id"], unique=False)


def downgrade() -> None:
    # Drops claims, rulings and marks, and the gradings that only a ruling gives: the one before it counts again.
    with op.batch_alter_table("key_claim", schema=None) as batch_op:
        batch_op.drop_index("ix_key_claim_person_id")
        batch_op.drop_index("ix_key_claim_answered_at")

    op.drop_table("key_claim")
    with op.batch_alter_table("result_mark", schema=None) as batch_op:
        batch_op.drop_index("ix_result_mark_person_id")

    op.drop_table("result_mark")
    op.drop_table("key_ruling")
    op.execute("DELETE FROM grading WHERE verdict IN ('credited', 'not-counted')")
    with op.batch_alter_table("grading", schema=None) as batch_op:
        batch_op.drop_constraint(batch_op.f("ck_grading_verdict"), type_="check")
        batch_op.create_check_constraint(batch_op.f("ck_grading_verdict"), BEFORE)
