from __future__ import annotations

from threading import Barrier, Thread

import pytest
from sqlalchemy import func, select

from trainer.accounts.sign_in import Refused
from trainer.groups.joining import Joined, JoinPreview, join, join_preview
from trainer.groups.terms import put_away
from trainer.problems.codes import new_code
from trainer.records.models import Membership, Share
from trainer.text.words import say


def test_the_preview_says_who_will_see_what(town):
    found = town.do("lena", join_preview, town.code(town.crew), town.now)

    assert (found.name, found.kind, found.organisation) == ("Garage crew", "crew", "Corner shop")
    assert [say(one) for one in found.leaders] == ["Otto (runs the shop)", "Fred"]
    assert [message.id for message in found.shared] == ["groups.share.assigned", "groups.share.readiness"]
    assert [say(message) for message in found.kept] == ["What you typed in practice, and the slips that come back."]
    assert not found.is_member


def test_a_class_starts_with_assigned_work_alone(town):
    found = town.do("lena", join_preview, town.code(town.class_), town.now)

    assert [say(one) for one in found.leaders] == ["Ines"]
    assert [message.id for message in found.shared] == ["groups.share.assigned"]
    assert len(found.kept) == 2


def test_looking_at_the_preview_changes_nothing(town):
    town.do("lena", join_preview, town.code(town.class_), town.now)

    assert town.actor("lena").memberships == ()


@pytest.mark.parametrize("write", [str.lower, lambda code: f" {code[:4]}-{code[4:]} "])
def test_a_code_is_taken_as_people_write_it(town, write):
    joined = town.do("lena", join, write(town.code(town.class_)), town.now)

    assert joined == Joined(town.class_, "Tuesday class")
    assert [one.group_public_id for one in town.actor("lena").learns_in] == [town.class_]


def test_joining_twice_is_once(any_town):
    town = any_town
    code = town.code(town.class_)
    for _ in range(2):
        assert isinstance(town.do("lena", join, code, town.now), Joined)

    assert town.do("lena", join_preview, code, town.now).is_member
    assert memberships(town) == 1


def memberships(town):
    with town.database.read() as session:
        return session.scalar(select(func.count()).where(Membership.person_id == town.ids["lena"]))


def test_two_posts_at_the_same_moment_make_one_member(any_town):
    town = any_town
    code, lena, start = town.code(town.crew), town.actor("lena"), Barrier(2)

    def post():
        start.wait()
        with town.database.write() as session:
            join(session, lena, code, town.now)

    threads = [Thread(target=post) for _ in range(2)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()

    assert memberships(town) == 1
    with town.database.read() as session:
        assert session.scalar(select(func.count()).where(Share.person_id == town.ids["lena"])) == 2


def test_a_slip_of_the_pen_is_told_from_a_code_that_opens_nothing(town):
    assert town.do("lena", join, "7K3M", town.now) == Refused(town.do("lena", join, "ABC", town.now).reason)
    assert town.do("lena", join, "7K3M", town.now).reason.id == "groups.code-slip"
    assert town.do("lena", join, new_code(), town.now).reason.id == "groups.code-unknown"


def test_who_tries_codes_has_to_wait(town):
    code = town.code(town.class_)
    for _ in range(20):
        town.do("stranger", join, new_code(), town.now)
    refused = town.do("stranger", join, code, town.now)

    assert refused.reason.id.startswith("accounts.wait")
    assert refused.wait.total_seconds() > 0
    assert isinstance(town.do("lena", join, code, town.now), Joined)
    assert isinstance(town.do("stranger", join, code, town.after(minutes=30).now), Joined)


def test_before_there_is_a_sign_in_the_address_counts(town):
    code = town.code(town.class_)
    with town.database.write() as session:
        for _ in range(20):
            join_preview(session, None, new_code(), town.now, address="192.0.2.7")

        assert isinstance(join_preview(session, None, code, town.now, address="192.0.2.7"), Refused)
        assert isinstance(join_preview(session, None, code, town.now, address="192.0.2.8"), JoinPreview)


def test_an_archived_group_is_joined_by_nobody(town):
    code = town.code(town.class_)
    town.do("ines", put_away, town.class_, town.now)

    assert town.do("lena", join, code, town.now).reason.id == "groups.code-unknown"
