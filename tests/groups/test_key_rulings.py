"""A wrong key from the first wrong verdict to the last new grading: alarm, claim, list, correction, records."""

from __future__ import annotations

import shutil
from random import Random

import pytest
from sqlalchemy import select

from trainer.accounts.access import NotAllowedError, NotFoundError
from trainer.accounts.people import DELETED_NAME, delete_person
from trainer.accounts.sharing import Shared, set_shared
from trainer.calc.message import InputError
from trainer.groups.claims import claim, claims_waiting, claims_waiting_for, key_note, replies_to, reply
from trainer.groups.held import held_about
from trainer.groups.key_questions import Decision, key_in_question
from trainer.groups.key_rulings import preview, rule
from trainer.groups.marks import set_marks
from trainer.groups.question_reports import question_reports
from trainer.groups.results import results
from trainer.groups.tries import Came
from trainer.library.shelf import Library
from trainer.progress import practice
from trainer.progress.alarm import alarmed_families
from trainer.progress.answering import give_up
from trainer.progress.replayed import differences
from trainer.progress.sitting import sit_down
from trainer.progress.standings import standings_of
from trainer.records.models import (
    Answer,
    AuditLine,
    FamilyDifficulty,
    Grading,
    KeyClaim,
    KeyRuling,
    Problem,
    ResultMark,
    SkillState,
)

from .conftest import CONTENT, Town, public, written

WRONG = "offset-shrink"
NAMES = tuple(f"learner-{nth}" for nth in range(12))
WORDS = {"own_answer": "2 in", "why": "The run comes short by the shrink, and that is not the spacing."}


@pytest.fixture(scope="session")
def planted(tmp_path_factory):
    """The content with a file that takes the spacing for the shrink."""
    root = tmp_path_factory.mktemp("planted") / "content"
    shutil.copytree(CONTENT, root)
    file = root / "questions" / "bends" / f"{WRONG}.toml"
    text = file.read_text("utf-8").replace('answer = "shrink"', 'answer = "spacing"')
    text = text.replace('value = "spacing"', 'value = "shrink"').replace("spacing-for-shrink", "shrink-for-spacing")
    file.write_text(text, "utf-8")
    return Library(root)


@pytest.fixture
def site(any_database, planted):
    """A class in which everybody but one works the shrink out rightly, and is told that it is wrong."""
    town = Town(any_database, planted)
    for name in NAMES:
        town.add(name)
    town.join(town.class_, "lena", *NAMES)
    town.work = town.assign(WRONG, "offset-spacing")
    town.problems = {name: town.open(name, town.work) for name in NAMES}
    random = Random(6)
    for name, problem in town.problems.items():
        town.answer(name, problem, "shrink-for-spacing" if random.random() < 0.95 else "99 in")
    with any_database.read() as session:
        town.rules = session.scalar(select(FamilyDifficulty.rules_hash).where(FamilyDifficulty.family_id == WRONG))
    return town


def decide(town, remedy, accepts="", reason="The file took the spacing for the shrink.", who="ines"):
    decision = Decision(remedy, accepts, reason)
    return town.with_library(who, rule, town.rules, decision, now=town.now)


def foresee(town, remedy, accepts="", who="ines"):
    return town.with_library(who, preview, town.rules, Decision(remedy, accepts, "The file is wrong."), now=town.now)


def verdicts(town):
    """All gradings of the first answers to the planted question, in their order, by learner."""
    query = (
        select(Problem.public_id, Grading.verdict)
        .join(Answer, Answer.problem_id == Problem.id)
        .join(Grading, Grading.answer_id == Answer.id)
        .where(Problem.family_id == WRONG, Answer.attempt == 1)
        .order_by(Grading.sequence)
    )
    found = {}
    with town.database.read() as session:
        for problem, verdict in session.execute(query):
            found.setdefault(problem, []).append(verdict)
    return {name: found[problem] for name, problem in town.problems.items()}


def kept_as_replayed(town):
    with town.database.read() as session:
        return [line for name in NAMES for line in differences(session, town.ids[name])]


def test_the_answers_themselves_raise_the_alarm_and_the_family_leaves_practice(site):
    with site.database.read() as session:
        assert alarmed_families(session, site.library, "bends.offset") == {WRONG}
        lines = standings_of(session, site.library, site.ids["lena"], 0, site.now).families["bends.offset"]

    assert {line.id for line in lines if line.in_doubt} == {WRONG}


def test_a_claim_reaches_who_leads_the_class_and_the_answer_comes_back(site):
    name = NAMES[0]
    site.do(name, claim, site.problems[name], **WORDS, now=site.now)
    site.do(name, claim, site.problems[name], **WORDS, now=site.now)
    (line,) = site.with_library("ines", claims_waiting)

    assert (line.person, line.own_answer, line.outcome) == (name.title(), "2 in", "")
    assert site.do("ines", claims_waiting_for) == 1
    assert [site.do(other, claims_waiting_for) for other in ("ada", "fred", "stranger")] == [0, 0, 0]

    site.do("ines", reply, line.claim, words="Look at the picture again.", now=site.now)
    note = site.do(name, key_note, site.problems[name])

    assert (note.outcome, note.reply, note.can_claim) == ("key-right", "Look at the picture again.", False)
    assert [one.problem for one in site.with_library(name, replies_to, site.now)] == [site.problems[name]]
    assert site.after(days=8).with_library(name, replies_to, site.now) == []
    with pytest.raises(NotAllowedError):
        site.do("ines", reply, line.claim, words="Once more.", now=site.now)


def test_a_claim_about_practice_goes_to_who_sees_practice_and_else_to_the_site_without_a_name(site):
    with site.database.write() as session:
        problem = practice.issue(
            session, site.library, site.ids["lena"], family_id="offset-spacing", now=site.now, edition="2023"
        )
    with pytest.raises(NotAllowedError):
        site.do("lena", claim, problem, **WORDS, now=site.now)
    site.answer("lena", problem, "99 in")
    site.do("lena", claim, problem, **WORDS, now=site.now)

    assert [line.person for line in site.with_library("ada", claims_waiting)] == [""]
    assert site.with_library("ines", claims_waiting) == []

    with site.database.write() as session:
        group = site.actor("lena").learns_in[0].group_id
        set_shared(session, site.ids["lena"], group, Shared.PRACTICE, site.now, shared=True)

    assert site.with_library("ada", claims_waiting) == []
    (line,) = site.with_library("ines", claims_waiting)
    assert line.person == "Lena"
    with pytest.raises(NotFoundError):
        site.do("fred", reply, line.claim, words="No.", now=site.now)


@pytest.mark.parametrize("field", ["own_answer", "why"])
def test_a_claim_says_what_and_why(site, field):
    with pytest.raises(InputError) as refused:
        site.do(NAMES[0], claim, site.problems[NAMES[0]], **{**WORDS, field: " "}, now=site.now)

    assert refused.value.field == field


def test_before_anything_is_done_the_list_names_whom_one_may_see_and_counts_the_others(site):
    site.practise("stranger", "shrink-for-spacing", family_id=WRONG)
    before = verdicts(site)
    seen = foresee(site, "also", "shrink")
    wrong = [name for name, (verdict,) in before.items() if verdict == "known-mistake"]

    assert sorted(line.person for line in seen.named) == sorted(name.title() for name in wrong)
    assert {(line.before, line.after, line.work) for line in seen.named} == {
        ("known-mistake", "right", "Offsets for Thursday")
    }
    assert seen.others == 1
    assert verdicts(site) == before

    from_above = foresee(site, "also", "shrink", who="ada")
    assert (from_above.named, from_above.others) == ((), len(wrong) + 1)


def test_another_route_accepted_grades_everything_again_and_keeps_what_was(site):
    before = verdicts(site)
    site.do(NAMES[0], claim, site.problems[NAMES[0]], **WORDS, now=site.now)
    changed = decide(site, "also", "depth * tan(angle / 2)")
    after = verdicts(site)

    assert changed == sum(one == ["known-mistake"] for one in before.values())
    for name in NAMES:
        again = ["right"] if before[name] == ["known-mistake"] else []
        assert after[name] == before[name] + again
    assert kept_as_replayed(site) == []
    assert site.do(NAMES[0], key_note, site.problems[NAMES[0]]).outcome == "key-wrong"
    with site.database.read() as session:
        noted = session.scalars(select(AuditLine.subject_id).where(AuditLine.what == "key.regraded")).all()
        levels = session.scalars(select(SkillState.level).where(SkillState.skill == "bends.offset")).all()
        assert len(noted) == changed
        assert sum(level > 0 for level in levels) >= changed
        assert alarmed_families(session, site.library, "bends.offset") == {WRONG}


def test_what_is_answered_after_the_decision_is_judged_by_it(site):
    decide(site, "also", "shrink")
    problem = site.open("lena", site.work)
    with site.database.read() as session:
        drawn = sit_down(session, site.library, site.ids["lena"], problem).problem
    result = site.answer("lena", problem, written(drawn.outputs["shrink"]))

    assert (result.verdict, result.closed) == ("right", True)


@pytest.mark.parametrize(("remedy", "verdict"), [("credit", "credited"), ("set-aside", "not-counted")])
def test_a_question_credited_or_set_aside_tells_nothing_of_anybodys_skill(site, remedy, verdict):
    with site.database.write() as session:
        give_up(session, site.library, site.ids["lena"], site.open("lena", site.work), site.now)
    decide(site, remedy)
    late = site.answer("lena", site.open("lena", site.work, new_numbers=True), "99 in")

    assert {after[-1] for after in verdicts(site).values()} == {verdict}
    assert (late.verdict, late.closed) == (verdict, True)
    assert kept_as_replayed(site) == []
    with site.database.read() as session:
        assert {row.counted for row in session.scalars(select(SkillState))} == {0}


def test_a_mended_file_grades_the_same_numbers_by_its_new_key(site, library):
    with pytest.raises(InputError):
        decide(site, "new-key")
    site.library = library
    before = verdicts(site)
    decide(site, "new-key")
    after = verdicts(site)

    assert [after[name][-1] for name in NAMES if before[name] == ["known-mistake"]] == ["right"] * sum(
        one == ["known-mistake"] for one in before.values()
    )
    assert kept_as_replayed(site) == []
    with site.database.read() as session:
        assert alarmed_families(session, library, "bends.offset") == set()
        page = practice.show(session, library, site.ids[NAMES[0]], site.problems[NAMES[0]])
        drawn = sit_down(session, library, site.ids[NAMES[0]], site.problems[NAMES[0]]).problem
    assert page.accepted[0].quantity.value == pytest.approx(drawn.outputs["shrink"])


def test_a_key_that_stands_after_all_is_in_practice_again_and_everything_as_it_was(site):
    before = verdicts(site)
    decide(site, "credit")
    decide(site, "stands")

    assert [one[-1] for one in verdicts(site).values()] == [one[-1] for one in before.values()]
    assert kept_as_replayed(site) == []
    with site.database.read() as session:
        assert alarmed_families(session, site.library, "bends.offset") == set()
        assert session.scalars(select(KeyRuling.sequence).order_by(KeyRuling.sequence)).all() == [1, 2]


def test_to_be_in_doubt_changes_no_result(site):
    before = verdicts(site)

    assert (decide(site, "doubt"), verdicts(site)) == (0, before)


@pytest.mark.parametrize("accepts", ["", "shrink +", "import os", "no_such_number", "shrink > 1", "one apple"])
def test_what_is_no_value_with_these_numbers_is_refused(site, accepts):
    with pytest.raises(InputError) as refused:
        foresee(site, "also", accepts)

    assert refused.value.field == "accepts"


def test_of_very_many_problems_only_some_are_counted(site, monkeypatch):
    monkeypatch.setattr("trainer.groups.key_questions.MOST_COUNTED", 1)

    assert site.with_library("ines", key_in_question, site.rules).problems == 2


def test_learners_decide_about_no_key(site):
    for name in ("lena", "stranger"):
        with pytest.raises(NotAllowedError):
            site.with_library(name, key_in_question, site.rules)
    with pytest.raises(NotFoundError):
        site.with_library("ines", key_in_question, "0" * 64)


def test_the_results_follow_the_latest_grading(site):
    decide(site, "also", "shrink")
    seen = site.with_library("ines", results, site.work, site.now)
    came = {person.display_name: person.lines[0].came for person in seen.people}
    after = verdicts(site)

    assert {name.title() for name in NAMES if after[name][-1] == "right"} == {
        name for name, one in came.items() if one is Came.RIGHT
    }
    assert public("ines") not in {person.person for person in seen.people}


def test_what_was_typed_about_a_key_is_counted_and_goes_with_the_account(site):
    name, person = NAMES[0], site.ids[NAMES[0]]
    site.do(name, claim, site.problems[name], **WORDS, now=site.now)
    more = {"wanted": {1: "1"}, "reason": f"{name} worked it at the bench.", "now": site.now}
    site.with_library("ines", set_marks, site.work, public(name), **more)
    with site.database.write() as session:
        held = held_about(session, person)
        delete_person(session, person, site.now)
    with site.database.read() as session:
        sent = session.scalars(select(KeyClaim)).one()
        mark = session.scalars(select(ResultMark)).one()

    assert (held.claims, held.marks) == (1, 1)
    assert (sent.own_answer, sent.why) == (DELETED_NAME, DELETED_NAME)
    assert (mark.reason, mark.points) == (DELETED_NAME, 1)


def test_the_report_of_the_class_says_to_check_the_key(site):
    found = site.with_library("ines", question_reports)

    assert found[0].family.id == WRONG
    assert found[0].flagged[0].what == "alarm"
