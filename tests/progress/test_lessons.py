from __future__ import annotations

import pytest

from trainer.accounts.access import NotFoundError
from trainer.accounts.site import make_site
from trainer.progress.lessons import lessons_read, lessons_read_and_edition, mark_read


def test_a_lesson_is_read_once_and_read_again_moves_the_date(any_desk):
    desk = any_desk
    for moment in (desk.now, desk.after(days=2).now):
        with desk.database.write() as session:
            mark_read(session, desk.library, desk.person_id, "offset-bends", moment)
    with desk.database.read() as session:
        assert lessons_read(session, desk.person_id) == {"offset-bends": desk.now}


def test_a_lesson_that_is_none_is_not_found(desk):
    with desk.database.write() as session, pytest.raises(NotFoundError):
        mark_read(session, desk.library, desk.person_id, "no-such", desk.now)


def test_a_page_asks_at_once_for_what_was_read_and_for_the_edition(any_desk):
    desk = any_desk

    def asked():
        with desk.database.glance() as glance:
            return lessons_read_and_edition(glance, desk.person_id)

    assert asked() == ({}, None)
    with desk.database.write() as session:
        make_site(session, administrator="ada", edition="2020", now=desk.now)
    assert asked() == ({}, "2020")
    with desk.database.write() as session:
        mark_read(session, desk.library, desk.person_id, "offset-bends", desk.now)
    assert asked() == ({"offset-bends": desk.now}, "2020")
