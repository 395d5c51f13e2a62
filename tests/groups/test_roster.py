"""Class lists: what their columns hold, what each line would do, and doing it."""

from __future__ import annotations

import itertools
import shutil

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sqlalchemy import func, select

from trainer.accounts.access import NotAllowedError, NotFoundError
from trainer.accounts.audit import lines_about
from trainer.accounts.many import FirstPasswords
from trainer.accounts.passwords import CHEAP_PASSWORDS
from trainer.accounts.people import change_display_name, delete_person
from trainer.accounts.sharing import Shared, shared_with
from trainer.accounts.sign_in import SignedIn, sign_in
from trainer.calc.message import InputError
from trainer.groups.membership import leave, make_group
from trainer.groups.roster import import_roster, roster_plan
from trainer.groups.roster_columns import people_in, table_of
from trainer.groups.roster_plan import Fate
from trainer.records.engine import Database
from trainer.records.models import Group, Membership, Person
from trainer.text.separated import rows_of
from trainer.text.words import say


def people(text, **chosen):
    return people_in(table_of(rows_of(text), **chosen))


def planned(town, text, group=None, who="ines"):
    return town.do(who, roster_plan, group or town.class_, people(text)).lines


def bring(town, text, group=None, who="ines", leave_out=False):
    firsts = FirstPasswords(0, CHEAP_PASSWORDS)
    more = {"firsts": firsts, "leave_out": leave_out, "now": town.now}
    return town.do(who, import_roster, group or town.class_, people(text), **more)


def fates(lines):
    return [line.fate.value for line in lines]


def learners(town, group=None):
    with town.database.read() as session:
        query = (
            select(Person.display_name)
            .join(Membership, Membership.person_id == Person.id)
            .join(Group, Group.id == Membership.group_id)
            .where(Group.public_id == (group or town.class_), Membership.role == "learner")
            .where(Membership.ended_at.is_(None))
            .order_by(Person.display_name)
        )
        return session.scalars(query).all()


def count(town, table):
    with town.database.read() as session:
        return session.scalar(select(func.count()).select_from(table))


def member_id(town, name):
    with town.database.read() as session:
        return session.scalars(select(Person.id).where(Person.display_name == name)).one()


@pytest.mark.parametrize(
    ("headings", "line", "expected"),
    [
        ("Name", "Ana Ruiz", ("Ana Ruiz", "", "")),
        ("Student Name;ID", "Ruiz, Ana;7", ("Ana Ruiz", "", "7")),
        ("Last Name,First Name,E-mail,Username", "Ruiz,Ana,a@example.org,aruiz", ("Ana Ruiz", "aruiz", "")),
        ("SURNAME\tGiven name\tStudent No.", "Ruiz\tAna\t0042", ("Ana Ruiz", "", "0042")),
        ("#,Apellidos,Nombre", "3,Ruiz Peña,Ana", ("Ana Ruiz Peña", "", "3")),
        ("Nombre,Matrícula", "Ana Ruiz,88", ("Ana Ruiz", "", "88")),
        ("Sign-in name,Learner", "ana,Ana Ruiz", ("Ana Ruiz", "ana", "")),
        ("Full name,First name,Last name", "Ana M. Ruiz,Ana,Ruiz", ("Ana Ruiz", "", "")),
    ],
)
def test_columns_are_known_by_their_headings(headings, line, expected):
    (one,) = people(f"{headings}\n{line}\n")

    assert (one.name, one.sign_in, one.number) == expected
    assert one.line == 2


def test_columns_without_a_known_heading_wait_to_be_chosen():
    rows = rows_of("Who,Sitting at\nAna Ruiz,4\nKim Lee,5\n")
    assert not table_of(rows).names_people

    table = table_of(rows, chosen=["name", "number"], has_headings=True)

    assert [(one.name, one.number, one.line) for one in people_in(table)] == [("Ana Ruiz", "4", 2), ("Kim Lee", "5", 3)]


def test_one_column_without_a_heading_holds_names():
    assert [one.name for one in people("Ana Ruiz\nLee, Kim\n")] == ["Ana Ruiz", "Kim Lee"]


NUMBERED = [
    ("1. Ana Ruiz\n2. Bo Lindqvist\n3) Kim Lee\n", ["Ana Ruiz", "Bo Lindqvist", "Kim Lee"]),
    ("Name\n9. Ana Ruiz\n10.  Lee, Kim\nBo Lindqvist\n", ["Ana Ruiz", "Kim Lee", "Bo Lindqvist"]),
    ("Last,First\n1. Ruiz,Ana\n2. Lee,Kim\n", ["Ana Ruiz", "Kim Lee"]),
]


@pytest.mark.parametrize(("text", "names"), NUMBERED)
def test_the_numbers_of_a_numbered_list_are_no_part_of_the_names(text, names):
    table = table_of(rows_of(text))

    assert table.was_numbered
    assert [one.name for one in people_in(table)] == names


@pytest.mark.parametrize(
    "text", ["Ana Ruiz\nKim Lee\n2. Bo Lindqvist\n", "Name,No\nAna Ruiz,1. \nKim Lee,2. x\n", "1.5 Ana\n"]
)
def test_a_number_here_and_there_is_left_where_it_stands(text):
    table = table_of(rows_of(text))

    assert not table.was_numbered
    assert table.rows[-1].cells == rows_of(text)[-1].cells


def test_new_people_are_made_members_who_share_assigned_work(any_town):
    town = any_town
    done = bring(town, "Name,No\nAna Ruiz,1\nJosé Peña,2\n")

    assert [(one.sign_in_name, one.display_name) for one in done.made] == [
        ("ana.ruiz", "Ana Ruiz"),
        ("jose.pena", "José Peña"),
    ]
    assert learners(town) == ["Ana Ruiz", "José Peña"]
    ana = done.made[0]
    with town.database.write() as session:
        group = session.scalar(select(Group.id).where(Group.public_id == town.class_))
        assert shared_with(session, ana.id, group) == {Shared.ASSIGNED}
        assert [line.what for line in lines_about(session, ana.id)] == ["group.put-in", "person.created"]
        more = {"address": "192.0.2.1", "device": "", "now": town.now, "passwords": CHEAP_PASSWORDS}
        came = sign_in(session, "ana.ruiz", ana.password, **more)
    assert isinstance(came, SignedIn)
    assert came.must_change_password


def test_first_passwords_differ_and_can_be_typed_from_a_slip(town):
    done = bring(town, "Ana Ruiz\nKim Lee\n")

    passwords = [one.password for one in done.made]
    assert len(set(passwords)) == 2
    assert all(len(one) == 14 and one.count("-") == 2 for one in passwords)


LISTS = [
    "Name\nAna Ruiz\nKim Lee\n",
    "Name,No\nAna Ruiz,1\nAna Ruiz,2\nKim Lee,3\n",
    "Name\nAna Ruiz\nAna Ruiz\n",
    "Name,Login\nAna Ruiz,aruiz\nAna Ruiz,\n",
    "Name,Login\nAna Ruiz,\nAna Ruiz,aruiz\n",
    "Name,No\nAna Ruiz,\nAna Ruiz,7\nAna Ruiz,7\n",
]


@pytest.mark.parametrize("text", LISTS)
def test_the_same_list_again_changes_nothing(any_town, text):
    bring(any_town, text)
    before = count(any_town, Person), count(any_town, Membership), learners(any_town)

    again = bring(any_town, text)

    assert (again.made, again.put_in) == ((), 0)
    assert (count(any_town, Person), count(any_town, Membership), learners(any_town)) == before


@settings(max_examples=15)
@given(
    st.lists(
        st.tuples(
            st.sampled_from(["Ana Ruiz", "ANA  RUÍZ", "Kim Lee", "", "Li"]),
            st.sampled_from(["", "1", "2"]),
            st.sampled_from(["", "", "aruiz", "kim"]),
        ),
        min_size=1,
        max_size=7,
    )
)
def test_whatever_list_it_is_the_second_time_nobody_comes_in(town_of_lists, rows):
    text = "Name,No,Login\n" + "".join(f"{','.join(row)}\n" for row in rows if any(row))
    if text.count("\n") < 2:
        return
    group = town_of_lists.new_class()
    bring(town_of_lists, text, group, leave_out=True)

    assert not [line for line in planned(town_of_lists, text, group) if line.fate in {Fate.NEW, Fate.AGAIN, Fate.JOINS}]


@pytest.fixture(scope="module")
def town_of_lists(sqlite_template, tmp_path_factory, library, new_town):
    """A town with as many classes as there are examples."""
    file = tmp_path_factory.mktemp("lists") / "site.db"
    shutil.copyfile(sqlite_template, file)
    opened = Database(f"sqlite:///{file}")
    town = new_town(opened, library)
    names = (f"Class {nth}" for nth in itertools.count())
    town.new_class = lambda: town.do("ines", make_group, town.school, name=next(names), now=town.now)
    yield town
    opened.close()


def test_a_list_counted_anew_still_finds_everybody(town):
    bring(town, "No,Name\n1,Ana Ruiz\n2,Kim Lee\n")

    lines = planned(town, "No,Name\n1,Abe Cole\n2,Ana Ruiz\n3,Kim Lee\n")

    assert fates(lines) == ["new", "there", "there"]


def test_somebody_with_another_name_by_now_is_found_under_that_of_the_list(town):
    bring(town, "Name\nAna Ruiz\n")
    with town.database.write() as session:
        change_display_name(session, member_id(town, "Ana Ruiz"), "Annie R.", town.now)

    assert fates(planned(town, "Name\nAna Ruiz\n")) == ["there"]


def test_who_has_joined_by_code_is_there_and_stays_so_under_another_name(town):
    town.join(town.class_, "lena")
    bring(town, "Name\nLena\n")
    with town.database.write() as session:
        change_display_name(session, town.ids["lena"], "Magdalena", town.now)

    assert fates(planned(town, "Name\nLena\n")) == ["there"]


def test_who_has_left_joins_again_and_who_learns_nearby_needs_no_new_account(town):
    town.join(town.class_, "lena")
    town.after(days=1).do("lena", leave, town.class_, town.now)
    other = town.do("ines", make_group, town.school, name="Thursday class", now=town.now)
    bring(town, "Name,Login\nLeo Nagy,leo.nagy\n", other)

    lines = planned(town, "Name,Login\nLena,\nLeo Nagy,leo.nagy\n")
    assert fates(lines) == ["again", "joins"]
    done = bring(town, "Name,Login\nLena,\nLeo Nagy,leo.nagy\n")

    assert (done.made, done.put_in) == ((), 2)
    assert learners(town) == ["Lena", "Leo Nagy"]


@pytest.mark.parametrize("row", ["Lena,", "Somebody Else,lena"])
def test_who_left_and_belongs_elsewhere_by_now_is_not_put_back(town, row):
    town.join(town.class_, "lena")
    town.after(days=1).do("lena", leave, town.class_, town.now)
    assert fates(planned(town, f"Name,Login\n{row}\n")) == ["again"]
    town.join(town.crew, "lena")

    (line,) = planned(town, f"Name,Login\n{row}\n")
    assert line.fate is Fate.KEPT
    assert "belongs to another school or shop by now" in say(line.why)
    bring(town, f"Name,Login\n{row}\n")
    assert learners(town) == []

    town.do("lena", leave, town.crew, town.now)
    assert fates(planned(town, f"Name,Login\n{row}\n")) == ["again"]


def test_who_left_is_not_taken_for_a_newcomer_of_the_same_name_with_another_number(town):
    bring(town, "Name,No\nAna Ruiz,1041\nKim Lee,1042\n")
    town.ids["ana"] = member_id(town, "Ana Ruiz")
    town.after(days=1).do("ana", leave, town.class_, town.now)

    assert fates(planned(town, "Name,No\nAna Ruiz,2077\nKim Lee,2078\n")) == ["new", "there"]
    assert fates(planned(town, "Name,No\nAna Ruiz,1041\n")) == ["again"]
    assert fates(planned(town, "Name\nAna Ruiz\n")) == ["again"]


def test_a_stranger_s_sign_in_name_is_no_way_to_put_him_in(town):
    (line,) = planned(town, "Name,Login\nSomebody Else,stranger\n")

    assert line.fate is Fate.BAD
    assert "Somebody who does not belong here signs in as stranger" in say(line.why)


def test_who_leads_is_left_as_is(town):
    (line,) = planned(town, "Name,Login\nInes,ines\n")

    assert line.fate is Fate.KEPT
    assert "Leads here" in say(line.why)


def test_a_second_line_of_one_name_is_left_unless_something_tells_them_apart(town):
    lines = planned(town, "Name,No\nAna Ruiz,1\nAna Ruiz,2\nKim Lee,\nKIM LEE,\n")

    assert fates(lines) == ["new", "new", "new", "kept"]
    assert [line.sign_in for line in lines] == ["ana.ruiz", "ana.ruiz.2", "kim.lee", ""]
    assert "stands in line 4" in say(lines[3].why)


def test_one_sign_in_name_is_not_for_two_people(town):
    lines = planned(town, "Name,Login\nAna Ruiz,aruiz\nKim Lee,aruiz\nAna Ruiz,ARUIZ\n")

    assert fates(lines) == ["new", "bad", "kept"]
    assert "stands in line 2 already" in say(lines[1].why)


@pytest.mark.parametrize(
    ("row", "said"),
    [
        (",17", "There is no name in this line"),
        ("12345,17", "no name was given"),
        (f"{'x' * 81},17", "this name is too long"),
        (f"Ana Ruiz,{'7' * 41}", "more than 40 characters"),
    ],
)
def test_a_bad_line_is_named_with_its_reason(town, row, said):
    _, line = planned(town, f"Name,No\nKim Lee,1\n{row}\n")

    assert (line.line, line.fate) == (3, Fate.BAD)
    assert said in say(line.why)


def test_a_bad_sign_in_name_is_told(town):
    (line,) = planned(town, "Name,Login\nAna Ruiz,a!\n")

    assert line.fate is Fate.BAD
    assert "sign-in name" in say(line.why)


def test_with_a_bad_line_nobody_comes_in_unless_it_is_left_out(town):
    text = "Name,No\nAna Ruiz,1\n,2\n"
    with pytest.raises(InputError, match=r"groups\.roster-bad-lines"):
        bring(town, text)
    assert learners(town) == []

    done = bring(town, text, leave_out=True)

    assert [one.display_name for one in done.made] == ["Ana Ruiz"]


def test_what_goes_wrong_in_the_middle_leaves_nothing(town, monkeypatch):
    before = count(town, Person)
    monkeypatch.setattr("trainer.groups.roster.put_in", _breaks)
    with pytest.raises(ZeroDivisionError):
        bring(town, "Name\nAna Ruiz\n")

    assert count(town, Person) == before


def _breaks(*_rest):
    raise ZeroDivisionError


def test_names_in_other_scripts_get_a_sign_in_name(town):
    done = bring(town, "Name\n李明\n王芳\nŁukasz Żak\n")

    assert [one.sign_in_name for one in done.made] == ["learner", "learner.2", "lukasz.zak"]


def test_a_deleted_account_leaves_no_name_of_the_list(town):
    bring(town, "Name,No\nAna Ruiz,1042\n")
    with town.database.write() as session:
        delete_person(session, member_id(town, "Ana Ruiz"), town.now)

    with town.database.read() as session:
        kept = session.execute(select(Membership.roster_name, Membership.roster_number)).all()
    assert set(kept) == {(None, None)}


@pytest.mark.parametrize(("who", "error"), [("fred", NotFoundError), ("stranger", NotFoundError)])
def test_only_who_leads_puts_people_in(town, who, error):
    with pytest.raises(error):
        bring(town, "Ana Ruiz\n", who=who)


def test_a_learner_puts_nobody_in(town):
    town.join(town.class_, "lena")
    with pytest.raises(NotAllowedError):
        bring(town, "Ana Ruiz\n", who="lena")
