"""Later-year work waits until the person has opened it."""

from __future__ import annotations

import shutil

import pytest

from trainer.library.shelf import Library
from trainer.progress.later import opened_skills
from trainer.progress.lessons import mark_read
from trainer.progress.today import Kind, today

from .conftest import CONTENT, Desk

LATER = ("fittings/straps-choice.toml", "bends/offset-shrink-again.toml")


@pytest.fixture(scope="session")
def library(tmp_path_factory):
    """The small content with one skill that is all of a later year, one that is so in part, and a lesson for later."""
    root = shutil.copytree(CONTENT, tmp_path_factory.mktemp("later") / "content")
    for name in LATER:
        file = root / "questions" / name
        text = file.read_text("utf-8")
        file.write_text(text.replace("\nlevel = ", "\nlater = true\nlevel = ", 1), "utf-8")
    lesson = (root / "lessons" / "offset-bends.md").read_text("utf-8")
    later = lesson.replace('id = "offset-bends"', 'id = "offsets-again"\nlater = true').replace(
        "order = 1", "order = 2"
    )
    (root / "lessons" / "offsets-again.md").write_text(later, "utf-8")
    return Library(root)


@pytest.fixture
def desk(database, library):
    return Desk(database, library)


def opened(desk):
    with desk.database.read() as session:
        return opened_skills(session, desk.library, desk.person_id)


def families_of_forty(desk):
    """The families that the program takes of its own accord."""
    return {desk.problem(desk.practise("right")).family_id for _ in range(40)}


def test_a_skill_is_of_a_later_year_where_all_its_families_are(library):
    assert library.is_later("fittings.connectors")
    assert not library.is_later("bends.offset")
    assert not library.is_later("no.such")


def test_the_program_never_begins_with_later_year_work(desk):
    taken = families_of_forty(desk)

    assert taken.isdisjoint({"straps-choice", "offset-shrink-again"})
    assert taken >= {"straps-run", "offset-spacing"}
    assert opened(desk) == frozenset()


def test_a_skill_asked_for_gives_its_later_year_work_only_where_there_is_nothing_else(desk):
    assert desk.problem(desk.issue(skill="fittings.connectors")).family_id == "straps-choice"
    taken = {desk.problem(desk.practise("right", skill="bends.offset")).family_id for _ in range(12)}
    assert "offset-shrink-again" not in taken


def test_a_problem_once_asked_for_opens_the_later_year_work_of_its_skill(desk):
    desk.practise("right", skill="fittings.connectors")
    desk.practise("right", family_id="offset-shrink-again")

    assert opened(desk) == {"fittings.connectors", "bends.offset"}
    assert families_of_forty(desk) >= {"straps-choice", "offset-shrink-again"}


def test_a_later_year_lesson_opens_it_once_read_and_another_lesson_does_not(desk):
    with desk.database.write() as session:
        mark_read(session, desk.library, desk.person_id, "offset-bends", desk.now)
    assert opened(desk) == frozenset()

    with desk.database.write() as session:
        mark_read(session, desk.library, desk.person_id, "offsets-again", desk.now)
    assert opened(desk) == {"bends.offset"}


def test_nobody_else_opens_it_by_that(desk, database, library):
    desk.issue(skill="fittings.connectors")

    assert opened(Desk(database, library, "sam")) == frozenset()


def test_the_page_of_the_day_names_no_later_year_lesson_for_a_skill_of_the_first(desk):
    desk.practise(*["right"] * 3, skill="supports.straps")
    with desk.database.write() as session:
        mark_read(session, desk.library, desk.person_id, "offset-bends", desk.now)
    with desk.database.read() as session:
        found = today(session, desk.library, desk.person_id, desk.now)

    assert (found.first.kind, found.first.skill) == (Kind.PRACTICE, "bends.offset")


def test_the_page_of_the_problem_says_so(desk):
    assert desk.show(desk.issue(family_id="straps-choice")).later
    assert not desk.show(desk.issue(family_id="straps-run")).later
