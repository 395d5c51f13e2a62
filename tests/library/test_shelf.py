from __future__ import annotations

import shutil

import pytest

from trainer.library.shelf import Library
from trainer.problems.draw import draw
from trainer.problems.errors import ContentError
from trainer.problems.shelf import content_root


def test_skills_stand_in_the_order_of_their_list(library):
    assert list(library.skills) == ["supports.straps", "bends.offset", "fittings.connectors"]


def test_families_are_found_by_id_and_by_skill(library):
    assert library.families["offset-spacing"].title == "Spacing of the marks"
    assert [family.id for family in library.families_of("supports.straps")] == ["straps-run", "straps-safe"]
    assert library.families_of("no.such") == ()


def test_lessons_are_found_by_their_skill(library):
    assert [lesson.id for lesson in library.lessons_of("bends.offset")] == ["offset-bends"]
    assert library.lessons_of("supports.straps") == ()


def test_a_file_that_cannot_be_used_is_told_with_its_line(content, tmp_path):
    shutil.copytree(content, tmp_path, dirs_exist_ok=True)
    file = tmp_path / "questions" / "bends" / "offset-shrink.toml"
    file.write_text(file.read_text().replace('answer = "shrink"', 'answer = "shrnk"'))

    with pytest.raises(ContentError) as raised:
        Library(tmp_path)

    assert raised.value.file.endswith("bends/offset-shrink.toml")
    assert raised.value.given == "shrnk"


def test_a_version_that_is_still_on_the_shelf_is_the_one_on_the_shelf(library):
    family = library.families["offset-spacing"]

    assert library.family_in_version(family.rules_hash, family.words_hash, "not even TOML") is family


def test_an_older_version_is_read_from_its_body_once(library):
    family = library.families["offset-spacing"]
    body = family.body.replace("How far apart are the marks?", "How far is it from mark to mark?")

    older = library.family_in_version(family.rules_hash, "0" * 64, body)

    assert draw(older, 5).text.endswith("How far is it from mark to mark?")
    assert library.family_in_version(family.rules_hash, "0" * 64, body) is older


def test_the_store_of_old_versions_is_emptied_when_it_is_full(content, monkeypatch):
    monkeypatch.setattr("trainer.library.shelf.MOST_OLD_VERSIONS", 1)
    library = Library(content)
    family = library.families["offset-spacing"]
    older = [library.family_in_version(family.rules_hash, nth * 64, family.body) for nth in "012"]

    assert len({id(one) for one in older}) == 3
    assert library.family_in_version(family.rules_hash, "2" * 64, family.body) is older[2]
    assert library.family_in_version(family.rules_hash, "0" * 64, family.body) is not older[0]


def test_a_lesson_that_names_questions_that_there_are_not_is_refused(content, tmp_path):
    shutil.copytree(content, tmp_path, dirs_exist_ok=True)
    lesson = tmp_path / "lessons" / "offset-bends.md"
    lesson.write_text(lesson.read_text().replace("try offset-spacing", "try offset-spaceing"))

    with pytest.raises(ContentError) as raised:
        Library(tmp_path)

    assert raised.value.given == "'offset-spaceing'"


def test_an_old_part_of_a_job_is_found_by_its_id(library):
    job = Library(content_root()).jobs["step-to-a-box"]
    body = job.parts[0].body.replace("Start with the offset itself.", "The offset first.")
    second = job.parts[1]
    older = library.family_in_version(second.rules_hash, "0" * 64, body, second.id)

    assert older.id == second.id
    assert older.job.job.parts[0].words_hash != job.parts[0].words_hash
