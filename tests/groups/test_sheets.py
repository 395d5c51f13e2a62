"""Sheets of assigned work: numbers of its own for each learner, found again by the code, judged like any other answer."""

from __future__ import annotations

import pytest
from sqlalchemy import select, update

from trainer.accounts.access import NotAllowedError, NotFoundError
from trainer.calc.message import InputError
from trainer.groups.assigned import withdraw
from trainer.groups.results import results
from trainer.groups.sheets import make_sheets, work_of_code, work_sheets
from trainer.progress.replay import rebuild_people
from trainer.progress.today import Kind, today
from trainer.records.models import AssignedWork, Problem, SkillState


@pytest.fixture
def work(town):
    town.join(town.class_, "lena", "leo")
    return town.assign(("offset-spacing", 2), "straps-run")


def make(town, work, who="ines"):
    return town.with_library(who, make_sheets, work, town.now)


def see(town, work, who="ines"):
    return town.with_library(who, work_sheets, work)


def test_each_learner_gets_a_problem_for_each_line_once(any_town):
    town = any_town
    town.join(town.class_, "lena", "leo")
    work = town.assign(("offset-spacing", 2), "straps-run")

    assert [make(town, work), make(town, work)] == [6, 0]
    found = see(town, work)
    assert [sheet.display_name for sheet in found.sheets] == ["Lena", "Leo"]
    assert found.without == ()
    numbers = [line.problem.numbers for sheet in found.sheets for line in sheet.lines if line.position < 3]
    assert len({tuple(sorted(one.items())) for one in numbers}) == 4


def test_who_joins_later_has_none_until_they_are_made_again(town, work):
    make(town, work)
    town.join(town.class_, "stranger")

    assert see(town, work).without == ("Stranger",)
    assert make(town, work) == 3
    assert see(town, work).without == ()


def test_what_a_phone_has_begun_is_what_the_sheet_prints(town, work):
    begun = town.open("lena", work, 2)
    make(town, work)
    lena = see(town, work).sheets[0]

    with town.database.read() as session:
        seed = session.scalars(select(Problem.seed).where(Problem.public_id == begun)).one()
    assert lena.lines[1].problem.seed == seed


def test_a_record_rebuilt_after_sheets_were_printed_knows_the_turns_as_before(any_town):
    any_town.join(any_town.class_, "lena", "leo")
    any_town.practise("lena", "right", "right", family_id="offset-shrink")
    make(any_town, any_town.assign(("offset-spacing", 2), "straps-run"))

    def turns():
        table = SkillState
        with any_town.database.read() as session:
            query = select(table.person_id, table.skill, table.last_turn, table.recent_families)
            return session.execute(query.order_by(table.person_id, table.skill)).all()

    before = turns()
    with any_town.database.write() as session:
        rebuild_people(session, [any_town.ids["lena"], any_town.ids["leo"]])

    assert turns() == before
    assert [(skill, last) for _, skill, last, _ in before] == [("bends.offset", 2)]


def test_an_answer_typed_in_from_the_sheet_is_judged_and_stands_in_the_results(town, work):
    make(town, work)
    sheet = see(town, work).sheets[0]
    opened = town.open("lena", work, 1)
    town.answer("lena", opened)
    with town.database.read() as session:
        code = session.scalars(select(Problem.code).where(Problem.public_id == opened)).one()

    assert code == sheet.code
    came = town.with_library("ines", results, work, town.now)
    assert [(one.display_name, one.right) for one in came.people] == [("Lena", 1), ("Leo", 0)]


def test_the_same_numbers_for_all_are_on_every_sheet(town, work):
    with town.database.write() as session:
        session.execute(update(AssignedWork).values(shared_seed=17))
    make(town, work)
    lena, leo = see(town, work).sheets

    assert [line.problem.numbers for line in lena.lines] == [line.problem.numbers for line in leo.lines]
    assert lena.lines[0].problem.numbers != lena.lines[1].problem.numbers
    assert lena.code != leo.code


def test_a_code_opens_ones_own_work_and_for_its_leader_what_came_of_it(town, work):
    make(town, work)
    lena = see(town, work).sheets[0]

    assert town.do("lena", work_of_code, lena.code) == (work, True)
    assert town.do("ines", work_of_code, lena.code) == (work, False)
    for who in ("leo", "fred", "stranger", "ada"):
        with pytest.raises(NotFoundError):
            town.do(who, work_of_code, lena.code)


def test_what_is_on_a_sheet_of_paper_was_left_open_by_nobody(any_town):
    town = any_town
    town.join(town.class_, "lena")
    paper = town.assign(("offset-spacing", 2), "straps-run", kind="paper")
    make(town, paper)
    assert left_open(town, "lena") == []

    begun = town.open("lena", paper, 2)
    town.answer("lena", begun, "1 in")
    assert left_open(town, "lena") == [begun]


def left_open(town, who):
    with town.database.read() as session:
        found = today(session, town.library, town.ids[who], town.now)
    return [thing.problem for thing in (found.first, *found.others) if thing.kind is Kind.GO_ON]


def test_a_code_of_no_sheet_opens_nothing(town):
    town.practise("lena", "1")
    with town.database.read() as session:
        code = session.scalars(select(Problem.code)).one()

    for one in (code, "22222222"):
        with pytest.raises(NotFoundError):
            town.do("lena", work_of_code, one)


def test_taken_back_it_makes_no_sheets_and_no_code_opens_it_for_a_learner(town, work):
    make(town, work)
    lena = see(town, work).sheets[0]
    town.do("ines", withdraw, work, town.now)

    with pytest.raises(InputError, match="sheet-withdrawn"):
        make(town, work)
    with pytest.raises(NotFoundError):
        town.do("lena", work_of_code, lena.code)


@pytest.mark.parametrize(("who", "error"), [("lena", NotAllowedError), ("fred", NotFoundError)])
def test_sheets_are_for_who_leads_the_group(town, work, who, error):
    for use_case in (make, see):
        with pytest.raises(error):
            use_case(town, work, who)
