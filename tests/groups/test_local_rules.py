"""Which local rules a school or shop follows."""

from shutil import copytree

import pytest
from sqlalchemy import select

from trainer.accounts.access import NotAllowedError, NotFoundError
from trainer.calc.message import InputError
from trainer.groups.assigned import FamilyCount, assign
from trainer.groups.key_questions import Decision, key_in_question
from trainer.groups.key_rulings import rule
from trainer.groups.local_rules import follow, followed
from trainer.library.shelf import Library
from trainer.problems.shelf import content_root
from trainer.progress.rulings import Remedy
from trainer.progress.sitting import sit_down
from trainer.records.models import AssignedFamily, ContentVersion, Grading


@pytest.fixture(scope="module")
def shelf():
    return Library(content_root())


@pytest.fixture
def ruled(any_town, shelf):
    any_town.library = shelf
    any_town.with_library("otto", follow, any_town.shop, rules=["shorter-pulls"], now=any_town.now)
    return any_town


def test_the_owner_chooses_and_takes_back(ruled):
    assert ruled.do("otto", followed, ruled.shop).local_rules == ("shorter-pulls",)
    assert ruled.actor("fred").local_rules == ("shorter-pulls",)
    assert ruled.actor("ines").local_rules == ()

    ruled.with_library("otto", follow, ruled.shop, rules=[], now=ruled.now)

    assert ruled.do("otto", followed, ruled.shop).local_rules == ()


def test_a_rule_that_there_is_not_is_refused_by_name(town, shelf):
    town.library = shelf
    with pytest.raises(InputError) as raised:
        town.with_library("otto", follow, town.shop, rules=["no-such"], now=town.now)

    assert (raised.value.field, raised.value.given) == ("rules", "no-such")


@pytest.mark.parametrize(("who", "error"), [("fred", NotAllowedError), ("stranger", NotFoundError)])
def test_nobody_else_chooses(town, who, error):
    with pytest.raises(error):
        town.with_library(who, follow, town.shop, rules=[], now=town.now)


def test_work_given_under_a_rule_keeps_it_when_the_rule_goes(ruled, shelf):
    given = {"title": "Degrees", "families": [FamilyCount("degrees-left", 1)], "edition": "2023", "now": ruled.now}
    ruled.with_library("fred", assign, ruled.crew, due_on=ruled.now.date(), **given)
    ruled.with_library("otto", follow, ruled.shop, rules=[], now=ruled.now)

    with ruled.database.read() as session:
        version = session.query(ContentVersion).join(AssignedFamily).one()
        assert shelf.family_in_version(version.rules_hash, version.words_hash, version.body).shape.local == {
            "bends.total.limit": 270
        }


@pytest.fixture
def asked(ruled):
    """A crew that follows the rule, one who answered rightly under it, and one who is a degree off."""
    ruled.join(ruled.crew, "lena", "leo")
    work = ruled.assign("degrees-left", who="fred", group=ruled.crew)
    problems = {name: ruled.open(name, work) for name in ("lena", "leo")}
    with ruled.database.read() as session:
        key = sit_down(session, ruled.library, ruled.ids["leo"], problems["leo"]).problem.keys[0].value
    ruled.answer("lena", problems["lena"])
    ruled.answer("leo", problems["leo"], f"{key + 1:g}")
    with ruled.database.read() as session:
        ruled.rules = session.scalars(select(ContentVersion.rules_hash)).one()
    return ruled


def test_a_question_under_a_rule_is_no_other_version_of_its_file(asked):
    question = asked.with_library("fred", key_in_question, asked.rules)

    assert asked.rules != asked.library.families["degrees-left"].rules_hash
    assert not question.mended
    assert Remedy.NEW_KEY not in question.remedies


def test_a_mended_file_grades_again_under_the_rule_under_which_it_was_asked(asked, tmp_path):
    for folder in ("questions", "lessons"):
        copytree(content_root() / folder, tmp_path / folder)
    (file,) = tmp_path.glob("questions/*/degrees-left.toml")
    file.write_text(file.read_text("utf-8").replace("tolerance = 0.5", "tolerance = 1.5"), "utf-8")
    asked.library = Library(tmp_path, checked=False)
    question = asked.with_library("fred", key_in_question, asked.rules)
    decision = Decision("new-key", "", "The file was mended.")

    assert question.mended
    assert asked.with_library("fred", rule, asked.rules, decision, now=asked.now) == 1
    with asked.database.read() as session:
        query = select(Grading.verdict).order_by(Grading.answer_id, Grading.sequence)
        assert session.scalars(query).all() == ["right", "wrong", "right"]
