from __future__ import annotations

import re
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


@pytest.fixture(scope="session")
def held():
    return Library(content_root(), checked=False)


def test_what_is_held_as_text_is_listed_like_what_was_read(held):
    read = Library(content_root())

    assert list(held.heads.items()) == list(read.heads.items())
    assert list(held.lesson_heads.items()) == list(read.lesson_heads.items())
    for name in ("families", "lessons", "jobs", "givable"):
        assert list(getattr(held, name)) == list(getattr(read, name))
    for name, family in read.families.items():
        assert (held.families[name].rules_hash, held.families[name].words_hash) == (
            family.rules_hash,
            family.words_hash,
        )


def test_what_is_held_is_compiled_once_and_a_job_as_a_whole(held):
    first, second = held.jobs["step-to-a-box"].parts[:2]

    assert held.families[second.id] is held.families[second.id]
    assert held.families[second.id].job.job is held.jobs["step-to-a-box"]
    assert held.givable["step-to-a-box"] is held.families[first.id].job.job
    assert "step-to-a-box" not in held.families
    assert held.families.get("no-such") is None


def test_a_file_that_is_held_is_told_with_its_line_when_it_is_wanted(content, tmp_path):
    shutil.copytree(content, tmp_path, dirs_exist_ok=True)
    file = tmp_path / "questions" / "bends" / "offset-shrink.toml"
    file.write_text(file.read_text().replace('answer = "shrink"', 'answer = "shrnk"'))
    library = Library(tmp_path, checked=False)

    with pytest.raises(ContentError) as raised:
        library.families["offset-shrink"]

    assert raised.value.given == "shrnk"
    assert library.families["offset-spacing"].id == "offset-spacing"


@pytest.mark.parametrize(
    ("file", "old", "new"),
    [
        ("questions/bends/offset-shrink.toml", 'skill = "bends.offset"', "skill = bends.offset"),
        ("questions/bends/offset-shrink.toml", 'id = "offset-shrink"', 'id = "offset-shrnk"'),
        ("questions/bends/offset-shrink.toml", 'skill = "bends.offset"\n', ""),
        ("lessons/offset-bends.md", 'id = "offset-bends"', 'id = "offset-bend"'),
        ("lessons/offset-bends.md", 'unit = "bends"\n', ""),
    ],
)
def test_a_file_whose_top_is_amiss_is_told_at_once(content, tmp_path, file, old, new):
    shutil.copytree(content, tmp_path, dirs_exist_ok=True)
    path = tmp_path / file
    assert old in path.read_text()
    path.write_text(path.read_text().replace(old, new, 1))

    with pytest.raises(ContentError) as raised:
        Library(tmp_path, checked=False)

    assert raised.value.file == file


def test_a_top_may_hold_a_text_whose_line_begins_like_a_table(content, tmp_path):
    shutil.copytree(content, tmp_path, dirs_exist_ok=True)
    file = tmp_path / "questions" / "bends" / "offset-shrink.toml"
    file.write_text(
        'sources = ["""\n[a] a book"""]\n' + re.sub(r"(?s)^sources = .*?\]\n", "", file.read_text(), flags=re.MULTILINE)
    )

    assert Library(tmp_path, checked=False).families["offset-shrink"].sources == ("[a] a book",)
