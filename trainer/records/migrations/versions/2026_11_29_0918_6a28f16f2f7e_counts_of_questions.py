"""
Counts of questions, so that the question report reads no answers; problems of a question found without reading all.

What was answered before is marked as not counted: counting takes the question files. `trainer init` does it afterwards,
and until then the report reads those questions" answers, as it always did.

Revision: 6a28f16f2f7e; follows: 7b7deb3ba8d1; written: 2026-11-29.

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

revision = "6a28f16f2f7e"
down_revision = "7b7deb3ba8d1"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "question_count",
        sa.Column("rules_hash", sa.String(length=64), nullable=False),
        sa.Column("what", sa.String(length=9), nullable=False),
        sa.Column("name", sa.String(length=80), nullable=False),
        sa.Column("value", sa.String(length=400), nullable=False),
        sa.Column("counted", sa.BigInteger(), nullable=False),
        sa.Column("hits", sa.BigInteger(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint(
            "what = 'sum' OR counted >= hits AND hits >= 0",
            name=op.f("ck_question_count_no_more_hits_than_counted"),
        ),
        sa.CheckConstraint(
            "what IN ('uncounted', 'tries', 'people', 'answered', 'wrong', 'sum', 'mistake', 'choice', 'number', "
            "'word', 'route')",
            name=op.f("ck_question_count_what"),
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_question_count")),
        sa.UniqueConstraint(
            "rules_hash", "what", "name", "value", name=op.f("uq_question_count_rules_hash_what_name_value")
        ),
    )
    with op.batch_alter_table("question_count", schema=None) as batch_op:
        batch_op.create_index(
            "ix_question_count_rules_hash_what_counted", ["rules_hash", "what", "counted"], unique=False
        )
    with op.batch_alter_table("problem", schema=None) as batch_op:
        batch_op.create_index("ix_problem_content_version_id", ["content_version_id"], unique=False)
    op.execute(
        "INSERT INTO question_count (rules_hash, what, name, value, counted, hits) "
        "SELECT DISTINCT content_version.rules_hash, 'uncounted', '', '', 0, 0 FROM content_version "
        "WHERE EXISTS (SELECT 1 FROM problem JOIN answer ON answer.problem_id = problem.id "
        "WHERE problem.content_version_id = content_version.id)"
    )


def downgrade() -> None:
    with op.batch_alter_table("problem", schema=None) as batch_op:
        batch_op.drop_index("ix_problem_content_version_id")
    op.drop_table("question_count")
