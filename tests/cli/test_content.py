"""`trainer problem` and `trainer check-content` from the shell."""

from __future__ import annotations

import json
import subprocess
import sys
from contextlib import closing
from datetime import UTC, datetime

import pytest
from click.testing import CliRunner

from trainer.cli import main
from trainer.library.shelf import Library
from trainer.problems.shelf import content_root
from trainer.progress.issue import issue
from trainer.records.engine import Database
from trainer.records.migrate import upgrade
from trainer.records.models import Person, Problem

SOUND = """\
id = "spacing-of-marks"
title = "Spacing"
skill = "bends.offset"
level = 1
calculation = "offset"
basis = ["sharp-corner", "handbook"]
figure = "offset"
sources = ["right-triangle geometry"]

[draw]
depth = { from = "4 in", to = "8 in", step = "1/2 in" }
angle = { choose = [22.5, 45] }

[ask]
kind = "length"
answer = "spacing"
tolerance = "1/16 in"
text = "An offset {{ depth | length }} deep, {{ angle | angle }}. How far apart?"

[[mistakes]]
id = "times-sine"
value = "depth * sin(angle)"
say = "That is the depth times the sine."

[[mistakes]]
id = "shrink"
value = "shrink"
say = "That is the shrink."

[[mistakes]]
id = "depth"
value = "depth"
say = "That is the depth."

[[hints]]
say = "Divide by the sine."
"""


@pytest.fixture
def run():
    def run(*words):
        return CliRunner().invoke(main, words)

    return run


@pytest.fixture
def content(tmp_path, monkeypatch):
    """A content folder with one sound family, one skill and no lesson."""
    (tmp_path / "lessons").mkdir()
    (tmp_path / "questions" / "bends").mkdir(parents=True)
    (tmp_path / "questions" / "bends" / "spacing-of-marks.toml").write_text(SOUND, "utf-8")
    (tmp_path / "questions" / "skills.toml").write_text(
        '[[skill]]\nid = "bends.offset"\ntitle = "Offsets"\nabout = "Bends offsets."\n', "utf-8"
    )
    monkeypatch.setenv("TRAINER_CONTENT", str(tmp_path))
    return tmp_path


def test_a_reference_prints_the_same_problem_every_time(run):
    first, again = run("problem", "offset-spacing#17"), run("problem", "offset-spacing#17")

    assert first.exit_code == 0
    assert first.output == again.output
    for heading in ("Key", "Known mistakes", "Hints", "Steps", "Sources", "Mind"):
        assert f"\n{heading}\n" in first.output
    assert first.output.startswith("offset-spacing#17: ")


def test_the_seed_may_stand_apart(run):
    assert run("problem", "offset-spacing", "--seed", "17").output == run("problem", "offset-spacing#17").output


def test_without_a_seed_one_is_taken_by_chance_and_named(run):
    plain = json.loads(run("problem", "offset-spacing", "--json").output)

    assert json.loads(run("problem", plain["problem"], "--json").output) == plain


def test_json_holds_everything_about_the_problem(run):
    plain = json.loads(run("problem", "offset-far-mark#3", "--json").output)

    assert plain["numbers"] == {"depth": 5.5, "angle": 30.0, "distance": 56.25}
    assert plain["keys"][1] == {"basis": "handbook", "value": 57.625, "text": "57-5/8 in"}
    assert plain["keys"][0]["text"] == "57-3/4 in (57.7237)"
    assert {"no-shrink", "near-mark"} <= {mistake["id"] for mistake in plain["mistakes"]}
    assert plain["steps"][0].startswith("shrink = depth * tan(angle / 2)")
    assert plain["kind"] == "length"


def test_a_job_prints_all_its_parts_with_one_set_of_numbers(run):
    parts = json.loads(run("problem", "step-to-a-box#7", "--json").output)

    assert [part["problem"] for part in parts][:2] == ["step-to-a-box.spacing#7", "step-to-a-box.shrink#7"]
    assert len({part["numbers"]["reach"] for part in parts}) == 1
    assert "part 5: How much tube to cut" in run("problem", "step-to-a-box#7").output
    assert json.loads(run("problem", "step-to-a-box.shrink#7", "--json").output) == parts[1]


@pytest.mark.parametrize("reference", ["connector-for-the-job#1", "one-more-bend#1"])
def test_choices_are_printed_with_letter_id_and_reason(run, reference):
    output = run("problem", reference).output

    assert "\nChoices\n  a: " in output
    assert json.loads(run("problem", reference, "--json").output)["options"][0]["why"]


def test_the_edition_is_passed_on(run):
    output = run("problem", "bend-total#1", "--edition", "2017", "--json").output

    assert json.loads(output)["edition"] == "2017"


@pytest.mark.parametrize("words", [["problem"], ["problem", "--list"]])
def test_without_a_name_every_family_is_listed_under_its_skill(run, words):
    output = run(*words).output

    assert "bends.offset\n  " in output
    assert "offset-spacing" in output


@pytest.mark.parametrize(
    ("reference", "told"),
    [
        ("offset-spacin", "Did you mean offset-spacing?"),
        ("zzz#3", "'zzz' is no family"),
        ("offset-spacing#x", "no whole number"),
    ],
)
def test_what_is_no_reference_ends_with_one_line_and_status_2(run, reference, told):
    result = run("problem", reference)

    assert result.exit_code == 2
    assert told in result.stderr
    assert len(result.stderr.splitlines()) == 1
    assert result.stdout == ""


def test_a_family_that_finds_no_fit_says_so(run, content):
    path = content / "questions" / "bends" / "spacing-of-marks.toml"
    path.write_text(SOUND.replace("[ask]", 'keep = ["depth > 99"]\n[ask]'), "utf-8")
    result = run("problem", "spacing-of-marks#1")

    assert result.exit_code == 1
    assert "no fit in 200 tries" in result.stderr


@pytest.mark.usefixtures("content")
def test_content_without_a_flaw_passes(run):
    result = run("check-content", "--draws", "30")

    assert result.exit_code == 0
    assert result.output == "Nothing to mend in 1 families, 30 problems of each; 0 lessons; 1 skills.\n"


def test_every_flaw_is_listed_with_file_and_line_and_the_status_is_1(run, content):
    folder = content / "questions" / "bends"
    (folder / "broken.toml").write_text('id = "broken"\ntitel = 1\n', "utf-8")
    (folder / "spacing-of-marks.toml").write_text(
        SOUND.replace('skill = "bends.offset"', 'skill = "bends.ofset"'), "utf-8"
    )
    result = run("check-content", "--draws", "20")

    assert result.exit_code == 1
    assert "questions/bends/broken.toml:2: titel: given 1; accepted: no such key" in result.stdout
    assert "questions/bends/spacing-of-marks.toml:3: skill: given bends.ofset" in result.stdout
    assert "to mend in 1 families" in result.stderr


def test_a_fact_that_nobody_teaches_or_asks_is_a_flaw_unless_families_are_named(run, content):
    (content / "lessons" / "coverage.toml").write_text(
        '[[fact]]\nid = "shrink"\nunit = "bends"\nfact = "It comes short."\nsource = "geometry"\nchecked = "computed"\n',
        "utf-8",
    )
    result, named = run("check-content", "--draws", "20"), run("check-content", "spacing-of-marks", "--draws", "20")

    assert result.exit_code == 1
    assert "lessons/coverage.toml:1: shrink.taught: given nothing" in result.stdout
    assert named.exit_code == 0


def test_a_spoilt_list_of_facts_is_a_flaw_like_others(run, content):
    (content / "lessons" / "coverage.toml").write_text("[[fact]]\nid = 1\n", "utf-8")

    assert "lessons/coverage.toml:2: fact.0.id" in run("check-content", "--draws", "20").stdout


def test_a_spoilt_list_of_skills_or_lesson_is_a_flaw_like_others(run, content):
    (content / "questions" / "skills.toml").write_text("[[skill]\n", "utf-8")
    (content / "lessons" / "offset.md").write_text("no front matter\n", "utf-8")
    result = run("check-content", "--draws", "20")

    assert result.exit_code == 1
    assert "questions/skills.toml:1:" in result.stdout
    assert "lessons/offset.md:1:" in result.stdout


LESSON = """\
+++
id = "offset"
title = "Offset"
about = "Offsets."
unit = "bends"
skills = ["bends.kick"]
minutes = 5

[[sources]]
fact = "Triangle"
source = "geometry"
checked = "computed"
+++

Bend it.

-> try spacing-of-tubes
"""


def test_a_lesson_that_points_nowhere_is_a_flaw(run, content):
    (content / "lessons" / "offset.md").write_text(LESSON, "utf-8")
    result = run("check-content", "--draws", "20")

    assert result.exit_code == 1
    assert "lessons/offset.md:6: skills: given 'bends.kick'" in result.stdout
    assert "lessons/offset.md:17: : given 'spacing-of-tubes'" in result.stdout


def test_a_folder_without_content_is_one_plain_line(run, tmp_path, monkeypatch):
    monkeypatch.setenv("TRAINER_CONTENT", str(tmp_path / "nowhere"))
    result = run("check-content")

    assert result.exit_code == 1
    assert "nowhere" in result.stderr
    assert len(result.stderr.splitlines()) == 1


@pytest.fixture
def site(tmp_path, monkeypatch):
    """A site in a folder of its own, with one person."""
    monkeypatch.setenv("TRAINER_INSTANCE", str(tmp_path))
    url = f"sqlite:///{tmp_path / 'trainer.sqlite3'}"
    monkeypatch.setenv("TRAINER_DATABASE", url)
    upgrade(url)
    with closing(Database(url)) as database:
        yield database


def test_the_code_of_an_issued_problem_prints_it_as_it_was_issued(run, site):
    library, now = Library(content_root()), datetime(2026, 9, 7, 17, 0, tzinfo=UTC)
    with site.write() as session:
        person = Person(sign_in_name="pat", public_id="public-pat", display_name="Pat", created_at=now)
        session.add(person)
        session.flush()
        issue(session, library, person.id, family_id="offset-spacing", now=now, edition="2020")
    with site.read() as session:
        row = session.query(Problem).one()
        code, seed = row.code, row.seed
    plain = json.loads(run("problem", f"{code[:4].lower()} {code[4:]}", "--json").output)

    assert plain == json.loads(run("problem", f"offset-spacing#{seed}", "--edition", "2020", "--json").output)


@pytest.mark.usefixtures("site")
def test_a_code_that_no_problem_of_the_site_has_is_one_plain_line(run):
    result = run("problem", "22222222")

    assert (result.exit_code, result.stderr) == (1, "Error: No problem on this site has the code 22222222.\n")


def test_without_a_site_a_code_leads_nowhere(run, tmp_path, monkeypatch):
    monkeypatch.setenv("TRAINER_INSTANCE", str(tmp_path))
    result = run("problem", "22222222")

    assert result.exit_code == 1
    assert "trainer init" in result.stderr


def test_several_processes_find_what_one_finds(content):
    broken = SOUND.replace('value = "shrink"', 'value = "spacing"').replace("spacing-of-marks", "spacing-again")
    (content / "questions" / "bends" / "spacing-again.toml").write_text(broken, "utf-8")
    words = [sys.executable, "-m", "trainer.cli", "check-content", "--draws", "20"]

    alone = subprocess.run(words, capture_output=True, text=True, check=False)
    together = subprocess.run([*words, "--workers", "2"], capture_output=True, text=True, check=False)

    assert alone.returncode == together.returncode == 1
    assert "spacing-again.toml" in alone.stdout
    assert together.stdout == alone.stdout
