"""The notes of what was done."""

from __future__ import annotations

from datetime import timedelta

from trainer.accounts.audit import lines_about, note


def test_a_person_reads_who_did_what_the_newest_first(any_database, make_person, now):
    with any_database.write() as session:
        kim, ada = make_person(session), make_person(session, "ada", display_name="Ada")
        for days, actor in [(1, ada.id), (2, kim.id), (3, None)]:
            moment = now + timedelta(days=days)
            note(session, what="password.reset", now=moment, actor_id=actor, subject_id=kim.id, detail={"day": days})
        note(session, what="password.reset", now=now, actor_id=kim.id, subject_id=ada.id)
    with any_database.read() as session:
        lines = lines_about(session, kim.id)

    assert [(line.actor, line.by_subject, dict(line.detail)) for line in lines] == [
        (None, False, {"day": 3}),
        ("Kim.Lee", True, {"day": 2}),
        ("Ada", False, {"day": 1}),
        (None, False, {}),
    ]


def test_the_list_of_notes_has_an_end(any_database, make_person, now):
    with any_database.write() as session:
        kim = make_person(session)
        for _ in range(5):
            note(session, what="password.changed", now=now, subject_id=kim.id)
    with any_database.read() as session:
        assert len(lines_about(session, kim.id, limit=3)) == 3
