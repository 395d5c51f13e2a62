"""A class over the terms: its name, putting it away, the copy; and a new password at the desk."""

from __future__ import annotations

import pytest
from sqlalchemy import func, select

from trainer.accounts.access import NotAllowedError, NotFoundError, own_problem
from trainer.accounts.audit import lines_about
from trainer.accounts.many import FirstPasswords
from trainer.accounts.passwords import CHEAP_PASSWORDS
from trainer.accounts.sessions import list_sessions, open_session
from trainer.accounts.sharing import Shared, shared_with
from trainer.accounts.sign_in import Refused, SignedIn, sign_in
from trainer.calc.message import InputError, Message
from trainer.groups.at_desk import reset_at_desk, who_is_at_desk
from trainer.groups.desk import desk
from trainer.groups.joining import join
from trainer.groups.learner_work import work_of_learner
from trainer.groups.membership import leave, make_group, open_joining
from trainer.groups.organisations import appoint
from trainer.groups.roster import import_roster
from trainer.groups.roster_columns import people_in, table_of
from trainer.groups.shop_board import shop_board
from trainer.groups.terms import copy_group, open_again, put_away, put_away_groups, rename
from trainer.groups.told import note_told, untold_groups
from trainer.records.models import Group, Membership, Person, Problem
from trainer.text.separated import rows_of
from trainer.text.words import say


def names(town, who="ines"):
    return [one.name for one in town.do(who, desk, town.now)]


def test_another_name_is_kept_and_one_that_is_taken_refused(town):
    town.do("ines", make_group, town.school, name="Thursday class", now=town.now)
    town.do("ines", rename, town.class_, "  Tuesday  night ", town.now)
    assert names(town) == ["Thursday class", "Tuesday night"]

    with pytest.raises(InputError) as refused:
        town.do("ines", rename, town.class_, "THURSDAY class", town.now)
    assert refused.value.field == "name"
    town.do("ines", rename, town.class_, "Tuesday Night", town.now)
    assert "Tuesday Night" in names(town)


def test_two_classes_of_a_school_have_two_names_but_a_shop_s_crew_may_be_called_the_same(town):
    with pytest.raises(InputError):
        town.do("ines", make_group, town.school, name="tuesday CLASS", now=town.now)

    town.do("fred", make_group, town.shop, name="Tuesday class", now=town.now)


def test_what_is_put_away_leaves_the_lists_and_its_code_opens_nothing(any_town):
    town = any_town
    code = town.code(town.class_)
    town.do("lena", join, code, town.now)
    work = town.assign("straps-run")
    town.do("ines", put_away, town.class_, town.now)

    assert names(town) == []
    assert isinstance(town.do("leo", join, code, town.now), Refused)
    assert [one.name for one in town.do("ines", put_away_groups)] == ["Tuesday class"]
    assert town.with_library("lena", work_of_learner, town.now) == []
    with pytest.raises(NotAllowedError):
        town.do("ines", open_joining, town.class_, town.now)

    town.do("ines", open_again, town.class_, town.now)
    assert names(town) == ["Tuesday class"]
    assert [one.work for one in town.with_library("lena", work_of_learner, town.now)] == [work]


def test_in_what_is_put_away_nothing_is_given_or_opened_and_the_own_answers_stay(any_town):
    town = any_town
    town.join(town.class_, "lena")
    work = town.assign("straps-run", "offset-spacing")
    answered = town.open("lena", work)
    town.answer("lena", answered)
    town.do("ines", put_away, town.class_, town.now)

    with pytest.raises(NotAllowedError) as refused:
        town.assign("straps-run")
    assert refused.value.reason.id == "groups.put-away"
    with pytest.raises(NotFoundError):
        town.open("lena", work, position=2)
    assert town.do("lena", own_problem, answered).public_id == answered

    town.do("ines", open_again, town.class_, town.now)
    assert town.open("lena", work, position=2)
    assert town.assign("straps-run")


def test_a_name_given_anew_meanwhile_keeps_the_old_class_away(town):
    town.do("ines", put_away, town.class_, town.now)
    town.do("ines", make_group, town.school, name="Tuesday class", now=town.now)

    with pytest.raises(InputError):
        town.do("ines", open_again, town.class_, town.now)


def test_a_copy_has_the_leaders_and_the_people_and_no_results(any_town):
    town = any_town
    town.join(town.class_, "lena", "leo")
    work = town.assign("straps-run")
    town.answer("lena", town.open("lena", work))
    town.do("leo", leave, town.class_, town.now)

    made = town.do("ines", copy_group, town.class_, name="Tuesday class, Spring", with_people=True, now=town.now)

    copied = next(one for one in town.do("ines", desk, town.now) if one.group == made)
    assert (copied.people, copied.due, copied.is_open) == (1, (), True)
    with town.database.read() as session:
        group = session.scalar(select(Group.id).where(Group.public_id == made))
        assert shared_with(session, town.ids["lena"], group) == {Shared.ASSIGNED}
        assert session.scalar(select(func.count()).select_from(Problem)) == 1
    assert [one.name for one in town.do("lena", untold_groups)] == ["Tuesday class, Spring"]
    town.do("lena", note_told, town.now)
    assert not town.actor("lena").is_untold
    with town.database.read() as session:
        told, put_in, *_ = lines_about(session, town.ids["lena"])
    assert (told.what, put_in.what) == ("group.told", "group.put-in")
    # No list stood behind it.
    said = say(Message("audit.group.put-in", {"group": put_in.group}))
    assert said == "You were put into Tuesday class, Spring by who leads it."


def test_a_copy_without_people_is_empty(town):
    town.join(town.class_, "lena")
    made = town.do("ines", copy_group, town.class_, name="Next", with_people=False, now=town.now)

    with town.database.read() as session:
        query = select(Membership.role).join(Group, Group.id == Membership.group_id).where(Group.public_id == made)
        assert session.scalars(query).all() == ["instructor"]


def test_only_who_leads_may(town):
    town.join(town.class_, "lena")
    for use_case in (put_away, open_again):
        with pytest.raises(NotAllowedError):
            town.do("lena", use_case, town.class_, town.now)
        with pytest.raises(NotFoundError):
            town.do("fred", use_case, town.class_, town.now)


@pytest.fixture
def listed(town):
    """A learner who came in by a list; public id and first password."""
    people = people_in(table_of(rows_of("Ana Ruiz\n")))
    firsts = FirstPasswords(0, CHEAP_PASSWORDS)
    done = town.do("ines", import_roster, town.class_, people, firsts=firsts, leave_out=False, now=town.now)
    return done.made[0]


def come(town, name, password):
    with town.database.write() as session:
        more = {"address": "192.0.2.1", "device": "", "now": town.now, "passwords": CHEAP_PASSWORDS}
        return sign_in(session, name, password, **more)


def test_a_new_password_at_the_desk_works_once_and_ends_all_sessions(town, listed):
    with town.database.write() as session:
        open_session(session, listed.id, "a phone", town.now)

    _, once = town.do("ines", reset_at_desk, town.class_, listed.public_id, town.now, passwords=CHEAP_PASSWORDS)

    with town.database.read() as session:
        assert list_sessions(session, listed.id, town.now) == []
        newest = lines_about(session, listed.id)[0]
    assert (newest.what, newest.actor) == ("password.reset", "Ines")
    assert isinstance(come(town, "ana.ruiz", listed.password), Refused)
    came = come(town, "ana.ruiz", once)
    assert isinstance(came, SignedIn)
    assert came.must_change_password


def make_owner(town, _key):
    town.do("ada", appoint, town.school, sign_in_name="ana.ruiz", role="owner", now=town.now)


def make_member_elsewhere(town, key):
    code = town.code(town.crew)
    town.ids["ana"] = key
    town.do("ana", join, code, town.now)
    town.do("ana", leave, town.crew, town.now)


def let_leave(town, key):
    town.ids["ana"] = key
    town.do("ana", leave, town.class_, town.now)


@pytest.mark.parametrize(
    ("change", "why"),
    [
        (make_owner, "groups.desk-leads"),
        (make_member_elsewhere, "groups.desk-elsewhere"),
        (let_leave, "groups.desk-left"),
    ],
)
def test_no_leader_sets_the_password_of_who_is_more_than_a_learner_here(town, listed, change, why):
    change(town, listed.id)

    assert town.do("ines", who_is_at_desk, town.class_, listed.public_id).why_not.id == why
    with pytest.raises(NotAllowedError):
        town.do("ines", reset_at_desk, town.class_, listed.public_id, town.now)


@pytest.fixture
def taken(town):
    """Leo, who learns with Ines and whom Tess, of the same school, puts into a class of hers by a list; that class."""
    town.add("tess")
    town.do("ada", appoint, town.school, sign_in_name="tess", role="instructor", now=town.now)
    town.join(town.class_, "leo")
    other = town.do("tess", make_group, town.school, name="Thursday class", now=town.now)
    people = people_in(table_of(rows_of("Name,Login\nLeo,leo\n")))
    more = {"firsts": FirstPasswords(0, CHEAP_PASSWORDS), "leave_out": False, "now": town.now}
    assert town.do("tess", import_roster, other, people, **more).put_in == 1
    return other


def why_not(town, who, group, person):
    found = town.do(who, who_is_at_desk, group, person).why_not
    return found and found.id


def test_a_list_alone_opens_no_account_of_who_learns_with_somebody_else(town, taken):
    leo = town.actor("leo").public_id
    assert why_not(town, "tess", taken, leo) == "groups.desk-untold"
    with pytest.raises(NotAllowedError):
        town.do("tess", reset_at_desk, taken, leo, town.now)
    assert why_not(town, "ines", town.class_, leo) is None

    # Nor does it in the hour in which he has a password from his own instructor.
    town.do("ines", reset_at_desk, town.class_, leo, town.now, passwords=CHEAP_PASSWORDS)
    assert why_not(town, "tess", taken, leo) == "groups.desk-untold"

    town.do("leo", note_told, town.now)
    assert why_not(town, "tess", taken, leo) is None


def test_in_the_class_of_the_next_term_a_forgotten_password_is_given_anew_at_once(town):
    town.join(town.class_, "lena")
    made = town.do("ines", copy_group, town.class_, name="Spring", with_people=True, now=town.now)
    lena = town.actor("lena").public_id
    assert why_not(town, "ines", made, lena) is None

    town.do("lena", leave, town.class_, town.now)
    assert why_not(town, "ines", made, lena) == "groups.desk-untold"


def test_who_came_by_a_list_and_stopped_before_reading_what_it_sees_waits_for_the_site(town, listed):
    assert why_not(town, "ines", town.class_, listed.public_id) is None
    with town.database.write() as session:
        session.get_one(Person, listed.id).must_change_password = False

    assert why_not(town, "ines", town.class_, listed.public_id) == "groups.desk-untold"


def test_nobody_but_who_leads_sets_a_password(town, listed):
    town.join(town.class_, "lena")
    with pytest.raises(NotAllowedError):
        town.do("lena", reset_at_desk, town.class_, listed.public_id, town.now)
    with pytest.raises(NotFoundError):
        town.do("fred", reset_at_desk, town.class_, listed.public_id, town.now)
    with pytest.raises(NotFoundError):
        town.do("ines", reset_at_desk, town.class_, "x" * 22, town.now)


def test_a_class_that_is_put_away_is_not_on_the_board_of_all(town):
    town.join(town.crew, "lena")
    assert board_of(town) == ["Garage crew"]
    town.do("fred", put_away, town.crew, town.now)

    assert board_of(town) == []


def board_of(town):
    return [one.name for one in town.with_library("otto", shop_board, town.shop, now=town.now).crews]
