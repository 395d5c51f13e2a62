"""Whose a decision about a key is, where it reaches others than one's own people, and what it reads to be worked out."""

from __future__ import annotations

from contextlib import contextmanager

import pytest
from sqlalchemy import event, select

from trainer.accounts.access import NotAllowedError
from trainer.calc.message import InputError
from trainer.groups import claims
from trainer.groups.claims import claim, claims_waiting
from trainer.groups.key_questions import Decision, key_in_question
from trainer.groups.key_rulings import preview, rule
from trainer.groups.question_reports import question_reports
from trainer.progress.rulings import Remedy
from trainer.records.models import Grading, KeyClaim, KeyRuling, Problem

FAMILY = "offset-spacing"
SLIP = "sine-for-cosecant"


@pytest.fixture
def site(town):
    """A class in which Lena has slipped."""
    town.join(town.class_, "lena", "leo")
    town.rules = town.library.families[FAMILY].rules_hash
    answer(town, "lena", town.assign(FAMILY))
    return town


def answer(town, name, work):
    problem = town.open(name, work)
    town.answer(name, problem, SLIP)
    return problem


def decide(town, remedy="credit", who="ines", use_case=rule):
    return town.with_library(who, use_case, town.rules, Decision(remedy, "", "The file is wrong."), now=town.now)


def gradings(town):
    with town.database.read() as session:
        return session.scalars(select(Grading.verdict).order_by(Grading.id)).all()


def in_the_crew(town):
    town.join(town.crew, "stranger")
    answer(town, "stranger", town.assign(FAMILY, who="fred", group=town.crew))


def for_another_shop(town):
    town.join(town.crew, "lena")
    answer(town, "lena", town.assign(FAMILY, who="fred", group=town.crew))


def alone(town):
    town.practise("stranger", SLIP, family_id=FAMILY)


@pytest.mark.parametrize("elsewhere", [in_the_crew, for_another_shop, alone])
def test_a_key_asked_beyond_ones_own_school_or_shop_is_for_who_looks_after_the_site(site, elsewhere):
    elsewhere(site)
    before = gradings(site)

    assert decide(site, use_case=preview).refused.id == "keys.beyond"
    with pytest.raises(NotAllowedError) as refused:
        decide(site)
    assert refused.value.reason.id == "keys.beyond"
    with site.database.read() as session:
        assert session.scalars(select(KeyRuling)).all() == []
    assert decide(site, "doubt", use_case=preview).refused is None
    assert decide(site, "doubt") == 0
    assert gradings(site) == before
    assert decide(site, who="ada", use_case=preview).refused is None
    assert decide(site, who="ada") >= 1


def test_what_the_site_decides_answers_those_who_wait_for_their_leader(site):
    in_the_crew(site)
    with site.database.read() as session:
        problem = session.scalar(select(Problem.public_id).where(Problem.person_id == site.ids["lena"]))
    site.do("lena", claim, problem, own_answer="12 in", why="The sine goes below.", now=site.now)
    decide(site, "doubt")

    assert site.do("ines", claims.claims_waiting_for) == 1
    decide(site, who="ada")
    assert site.do("ines", claims.claims_waiting_for) == 0
    assert site.do("lena", claims.key_note, problem).outcome == "key-wrong"


def test_what_ones_own_people_practise_is_within(site):
    site.practise("leo", SLIP, family_id=FAMILY)

    assert decide(site, use_case=preview).refused is None
    assert decide(site) == 2


def test_nobody_decides_about_a_result_of_his_own(site):
    site.practise("ines", SLIP, family_id=FAMILY)

    assert decide(site, use_case=preview).refused.id == "keys.own-result"
    with pytest.raises(NotAllowedError) as refused:
        decide(site)
    assert refused.value.reason.id == "keys.own-result"
    assert decide(site, "doubt") == decide(site, "stands") == 0
    assert decide(site, who="ada") == 2


def test_a_corrected_key_is_not_put_in_doubt_which_would_take_the_correction_back(site):
    decide(site)
    after = gradings(site)

    assert Remedy.DOUBT not in site.with_library("ines", key_in_question, site.rules).remedies
    with pytest.raises(InputError) as refused:
        decide(site, "doubt")
    assert refused.value.field == "remedy"
    assert gradings(site) == after
    decide(site, "stands")
    assert Remedy.DOUBT in site.with_library("ines", key_in_question, site.rules).remedies


@contextmanager
def heard(target, name):
    found = []

    def note(*arguments):
        found.append(arguments)

    event.listen(target, name, note)
    yield found
    event.remove(target, name, note)


def test_the_file_of_a_question_is_not_read_once_for_each_answer(site):
    with heard(site.database.engine, "before_cursor_execute") as sent:
        site.with_library("ines", question_reports)
        decide(site, "stands", use_case=preview)
    of_answers = [statement for _, _, statement, *_ in sent if "FROM answer" in statement]

    assert len(of_answers) >= 2
    assert not [statement for statement in of_answers if "content_version.body" in statement]


def test_of_claims_that_were_answered_only_those_shown_are_read(site, monkeypatch):
    monkeypatch.setattr(claims, "MOST_ANSWERED", 1)
    work = site.assign("offset-shrink", FAMILY)
    problems = [site.open("lena", work, line) for line in (1, 2)]
    for problem in problems:
        site.answer("lena", problem, "99 in")
        site.do("lena", claim, problem, own_answer="12 in", why="Look.", now=site.now)
        (line,) = [one for one in site.with_library("ines", claims_waiting) if not one.outcome]
        site.do("ines", claims.reply, line.claim, words="Look at step 2.", now=site.after(hours=1).now)
    with heard(KeyClaim, "load") as read:
        shown = site.with_library("ines", claims_waiting)

    assert [one.family_id for one in shown] == [FAMILY]
    assert len(read) == 1
