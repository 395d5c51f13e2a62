"""
Lapses of skills: the last moment at which what a proof run had shown held no more; and how often a record was rebuilt.

Old rows know of no lapse: `trainer replay --write` finds those in the answers. Going down drops them; they can be found
again.

Revision: 077980b8c1b5; follows: f864c2768459; written: 2026-11-28.

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

revision = "077980b8c1b5"
down_revision = "f864c2768459"
branch_labels = None
depends_on = None


def upgrade() -> None:
    with op.batch_alter_table("skill_state") as table:
        table.add_column(sa.Column("lapsed_at", sa.DateTime(timezone=True), nullable=True))
        table.create_check_constraint(op.f("ck_skill_state_lapsed_by_last"), "lapsed_at <= last_at")
    with op.batch_alter_table("person") as table:
        table.add_column(sa.Column("rebuilt", sa.Integer(), server_default=sa.text("0"), nullable=False))
        table.create_check_constraint(op.f("ck_person_rebuilt_not_negative"), "rebuilt >= 0")


def downgrade() -> None:
    with op.batch_alter_table("person") as table:
        table.drop_constraint(op.f("ck_person_rebuilt_not_negative"), type_="check")
        table.drop_column("rebuilt")
    with op.batch_alter_table("skill_state") as table:
        table.drop_constraint(op.f("ck_skill_state_lapsed_by_last"), type_="check")
        table.drop_column("lapsed_at")
