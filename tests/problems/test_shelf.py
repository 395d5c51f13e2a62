"""The folder of question files."""

from __future__ import annotations

import pytest

from trainer.problems import shelf as module
from trainer.problems.errors import ContentError
from trainer.problems.shelf import ContentRootError, content_root, load_families, load_skills, read_families


@pytest.fixture
def questions(tmp_path, sound):
    folder = tmp_path / "questions"
    (folder / "bends").mkdir(parents=True)
    (folder / "bends" / "spacing-of-marks.toml").write_text(sound, "utf-8")
    (folder / "skills.toml").write_text(
        '[[skill]]\nid = "bends.offset"\ntitle = "Offsets"\nabout = "Bends offsets."\n', "utf-8"
    )
    return folder


def test_the_families_of_a_folder_are_found_by_their_ids(questions):
    families = load_families(questions)

    assert list(families) == ["spacing-of-marks"]
    assert families["spacing-of-marks"].file == "questions/bends/spacing-of-marks.toml"


def test_a_family_is_named_after_its_file(questions, sound):
    (questions / "bends" / "other-name.toml").write_text(sound, "utf-8")

    with pytest.raises(ContentError, match="'other-name', the file's name") as caught:
        load_families(questions)
    assert caught.value.line == 1


def test_an_id_stands_only_once_in_all_folders(questions, sound):
    (questions / "wet").mkdir()
    (questions / "wet" / "spacing-of-marks.toml").write_text(sound, "utf-8")

    with pytest.raises(ContentError, match=r"questions/bends/spacing-of-marks\.toml has not taken"):
        load_families(questions)


def test_everything_wrong_in_every_file_is_told_and_the_sound_ones_are_given(questions, sound):
    (questions / "bends" / "a.toml").write_text("id = 1", "utf-8")
    (questions / "bends" / "b.toml").write_text(
        sound.replace("spacing-of-marks", "b").replace("sin(", "sinn("), "utf-8"
    )
    families, errors = read_families(questions)

    assert list(families) == ["spacing-of-marks"]
    assert {error.file for error in errors} == {"questions/bends/a.toml", "questions/bends/b.toml"}
    with pytest.raises(ContentError) as caught:
        load_families(questions)
    assert len(caught.value.every) == len(errors) > 2


def test_skills_are_listed_with_title_unit_and_what_they_are_about(questions):
    skill = load_skills(questions)["bends.offset"]

    assert (skill.id, skill.title, skill.unit, skill.about) == ("bends.offset", "Offsets", "bends", "Bends offsets.")


@pytest.mark.parametrize(
    ("spoilt", "line", "accepted"),
    [
        ("[[skill]\n", 1, "TOML"),
        ('[[skill]]\nid = "offset"\ntitle = "a"\nabout = "b"\n', 2, "pattern"),
        ('[[skill]]\nid = "a.b"\ntitle = "a"\n', 1, "field required"),
        ('[[skill]]\nid = "a.b"\ntitle = "a"\nabout = "b"\nlevel = 1\n', 5, "no such key"),
        ('[[skill]]\nid = "a.b"\ntitle = "a"\nabout = "b"\n' * 2, 6, "only once"),
    ],
)
def test_a_spoilt_list_of_skills_is_refused_with_its_line(questions, spoilt, line, accepted):
    (questions / "skills.toml").write_text(spoilt, "utf-8")

    with pytest.raises(ContentError) as caught:
        load_skills(questions)
    assert caught.value.line == line
    assert accepted in caught.value.accepted


def test_the_content_stands_beside_the_program_or_inside_it(tmp_path, monkeypatch):
    assert (content_root() / "questions" / "skills.toml").is_file()

    inside = tmp_path / "trainer" / "_content"
    for name in ("lessons", "questions"):
        (inside / name).mkdir(parents=True)
    (tmp_path / "trainer" / "problems").mkdir()
    monkeypatch.setattr(module, "__file__", str(tmp_path / "trainer" / "problems" / "shelf.py"))
    assert content_root() == inside


def test_a_named_folder_is_the_only_one_tried(tmp_path):
    with pytest.raises(ContentRootError, match="nowhere"):
        content_root(tmp_path / "nowhere")
    for name in ("lessons", "questions"):
        (tmp_path / name).mkdir()
    assert content_root(str(tmp_path)) == tmp_path
