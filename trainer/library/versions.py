"""
Versions of content on record: the first use copies the body, so that a problem can be shown and graded again for ever.

The hash of the rules carries statistics and difficulty, the hash of the words does not.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.library.shelf import Library
from trainer.problems.family import Family
from trainer.records.locks import add_if_missing
from trainer.records.models import ContentVersion

__all__ = ["family_at", "family_of", "pin", "pin_all"]

FAMILY = "family"


def pin(session: Session, family: Family, now: datetime) -> int:
    """
    The id of a family's version on record, which is put there when it is used for the first time.

    Args:
        session: A write session.
        family: The family as it stands.
        now: This moment.
    """
    return pin_all(session, [family], now)[family.id]


def pin_all(session: Session, families: Sequence[Family], now: datetime) -> dict[str, int]:
    """The same for several families, by family id; one query when all versions are on record."""
    known = _on_record(session, families)
    # In one order for everybody, so that two who use the same families for the first time don't wait for each other.
    missing = sorted((family for family in families if family.id not in known), key=lambda family: family.rules_hash)
    if not missing:
        return known
    for family in missing:
        add_if_missing(
            session,
            ContentVersion,
            kind=FAMILY,
            content_id=family.id,
            rules_hash=family.rules_hash,
            words_hash=family.words_hash,
            body=family.body,
            first_used_at=now,
        )
    return known | _on_record(session, missing)


def _on_record(session: Session, families: Sequence[Family]) -> dict[str, int]:
    versions = {(family.rules_hash, family.words_hash): family.id for family in families}
    table = ContentVersion
    query = select(table.rules_hash, table.words_hash, table.id).where(
        table.kind == FAMILY, table.rules_hash.in_([rules for rules, _ in versions])
    )
    found = session.execute(query)
    return {versions[rules, words]: version for rules, words, version in found if (rules, words) in versions}


def family_of(session: Session, content_version_id: int, library: Library) -> Family:
    """
    The family in a version on record.

    Raises:
        NoResultFound: When there is no such version.
        ContentError: When its body can no longer be read.
    """
    row = session.scalars(select(ContentVersion).where(ContentVersion.id == content_version_id)).one()
    return family_at(library, row)


def family_at(library: Library, version: ContentVersion) -> Family:
    """The family in a version whose row is at hand."""
    return library.family_in_version(version.rules_hash, version.words_hash, version.body, version.content_id)
