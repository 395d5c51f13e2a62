from __future__ import annotations

from datetime import UTC, datetime

import pytest
from sqlalchemy import event, func, select
from sqlalchemy.exc import NoResultFound

from trainer.library.versions import family_of, pin, pin_all
from trainer.problems.family import load_family
from trainer.records.models import ContentVersion

NOON = datetime(2026, 9, 7, 12, 0, tzinfo=UTC)


@pytest.fixture
def family(library):
    return library.families["offset-spacing"]


def versions(session):
    return session.scalar(select(func.count()).select_from(ContentVersion))


def test_the_first_use_copies_the_body_and_later_ones_find_it(any_database, family):
    with any_database.write() as session:
        first, second = pin(session, family, NOON), pin(session, family, NOON)

        assert first == second
        assert versions(session) == 1
        assert session.scalar(select(ContentVersion.body)) == family.body


def test_a_mended_typo_is_a_version_with_the_same_rules(any_database, family):
    mended = load_family(family.body.replace("How far apart", "How far from each other"), "mended")
    with any_database.write() as session:
        ids = {pin(session, family, NOON), pin(session, mended, NOON)}

        assert len(ids) == 2
        assert session.scalars(select(ContentVersion.rules_hash).distinct()).all() == [family.rules_hash]


def test_a_version_comes_back_from_its_body_when_the_shelf_has_moved_on(any_database, family, library):
    other = load_family(family.body.replace("How far apart", "How wide apart"), "other")
    with any_database.write() as session:
        version = pin(session, other, NOON)
    with any_database.read() as session:
        found = family_of(session, version, library)

    assert (found.rules_hash, found.words_hash) == (other.rules_hash, other.words_hash)
    assert found.body == other.body


def test_several_families_on_record_take_one_query(database, library):
    families = list(library.families.values())
    with database.write() as session:
        first = pin_all(session, families, NOON)
        statements = []
        event.listen(session.get_bind(), "before_cursor_execute", lambda *args: statements.append(args[2]))

        assert pin_all(session, families, NOON) == first

    assert len(statements) == 1
    assert set(first) == set(library.families)


def test_an_unknown_version_is_an_error(database, library):
    with database.read() as session, pytest.raises(NoResultFound):
        family_of(session, 99, library)
