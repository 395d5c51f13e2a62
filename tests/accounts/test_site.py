"""The site is made once, whoever makes it at the same moment, and signs with one key."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime

import pytest
from sqlalchemy import func, select

from trainer.accounts.site import make_site, site_of
from trainer.accounts.site_key import OtherKeyError, agree_on_key, is_other_key
from trainer.records.models import Person, SiteKey

NOW = datetime(2026, 11, 28, 22, 0, tzinfo=UTC)
KEYS = "the first key, which nobody can guess", "another key, which nobody can guess"


def made(database):
    with database.write() as session:
        return make_site(session, administrator="chief", edition="2023", now=NOW)


def test_of_several_who_make_the_site_at_once_one_is_given_the_password(any_database):
    with ThreadPoolExecutor(3) as pool:
        passwords = [one.result() for one in [pool.submit(made, any_database) for _ in range(3)]]

    assert len([password for password in passwords if password]) == 1
    with any_database.read() as session:
        assert site_of(session).created_at == NOW
        assert session.scalar(select(func.count()).select_from(Person)) == 1


def test_the_first_key_is_the_sites_and_another_is_refused_until_it_is_told_to_be_new(any_database):
    with any_database.write() as session:
        assert not is_other_key(session, KEYS[0])
        agree_on_key(session, KEYS[0], NOW)
        agree_on_key(session, KEYS[0], NOW)
        with pytest.raises(OtherKeyError, match="TRAINER_SECRET_KEY"):
            agree_on_key(session, KEYS[1], NOW)
        agree_on_key(session, KEYS[1], NOW, as_new=True)
        assert is_other_key(session, KEYS[0])
        assert KEYS[1] not in session.scalars(select(SiteKey.digest)).one()
