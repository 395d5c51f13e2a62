"""What all tables have in common."""

from __future__ import annotations

from sqlalchemy import JSON, BigInteger, Integer, MetaData
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column

__all__ = ["Base", "BigKey", "Json", "know_postgresql", "one_of"]

BigKey = BigInteger().with_variant(Integer, "sqlite")
"""An integer key: 64 bits on PostgreSQL; on SQLite the rowid, which is 64 bits wide whatever its name."""

Json = JSON(none_as_null=True)
"""A JSON document. None is SQL's NULL, so that `IS NULL` means the same for every column."""


def one_of(column: str, *words: str) -> str:
    """
    SQL that holds a column to a closed list of words.

    >>> one_of("kind", "class", "crew")
    "kind IN ('class', 'crew')"
    """
    return f"{column} IN ({', '.join(repr(word) for word in words)})"


class Base(DeclarativeBase):
    """Base of all tables; names every constraint that isn't named by hand."""

    metadata = MetaData(
        naming_convention={
            "ix": "ix_%(table_name)s_%(column_0_N_name)s",
            "uq": "uq_%(table_name)s_%(column_0_N_name)s",
            "ck": "ck_%(table_name)s_%(constraint_name)s",
            "fk": "fk_%(table_name)s_%(column_0_N_name)s",
            "pk": "pk_%(table_name)s",
        }
    )

    id: Mapped[int] = mapped_column(BigKey, primary_key=True)


def know_postgresql() -> None:
    """
    Give PostgreSQL the conditions of the indexes that hold some rows only; the models give them for SQLite.

    An index that names an engine loads all that SQLAlchemy knows of it, and a site on SQLite would wait for PostgreSQL at
    each start.
    """
    for table in Base.metadata.tables.values():
        for index in table.indexes:
            condition = index.dialect_kwargs.get("sqlite_where")
            if condition is not None:
                index.dialect_kwargs["postgresql_where"] = condition
