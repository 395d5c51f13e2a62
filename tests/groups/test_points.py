"""Points by the rule of each kind of work, and what a leader sets by hand."""

from __future__ import annotations

from datetime import timedelta

import pytest
from sqlalchemy import select

from trainer.accounts.access import NotAllowedError, NotFoundError
from trainer.calc.message import InputError
from trainer.groups.marks import own_points, person_work, result_rows, set_marks
from trainer.groups.points import points_rule, worked_out
from trainer.groups.results import results
from trainer.groups.tries import Given, Tried
from trainer.records.models import ResultMark, SkillState
from trainer.text.words import say

from .conftest import MONDAY, public

DUE = MONDAY + timedelta(days=2)


def tried(*verdicts, hints=0, late=False):
    at = DUE + timedelta(hours=1) if late else MONDAY
    given = tuple(Given(at, "12 in", hints, verdict, ()) for verdict in verdicts)
    return Tried(1, 1, 1, "problem", False, given)


@pytest.mark.parametrize(
    ("kind", "tries", "points"),
    [
        ("home", [], 0),
        ("home", [tried("right")], 1),
        ("home", [tried("rounded-too-far", "right")], 0.5),
        ("home", [tried("wrong-unit", "right")], 0),
        ("home", [tried("right", hints=1)], 0),
        ("home", [tried("wrong"), tried("right"), tried("wrong")], 1),
        ("home", [tried("right", late=True)], 0),
        ("home", [tried("gave-up")], 0),
        ("home", [tried("credited", hints=2)], 1),
        ("home", [tried("not-counted")], None),
        ("home", [tried("not-counted"), tried("credited")], 1),
        ("home", [tried("credited"), tried("not-counted")], 1),
        ("home", [tried("not-counted"), tried("not-counted")], None),
        ("room", [tried("not-counted"), tried("credited")], None),
        ("room", [tried("wrong"), tried("right")], 0),
        ("room", [tried(), tried("right")], 1),
        ("paper", [tried("rounded-too-far")], 0.5),
    ],
)
def test_points_follow_the_rule_of_the_kind(kind, tries, points):
    assert worked_out(kind, tries, DUE) == points


@pytest.fixture
def work(any_town):
    any_town.join(any_town.class_, "lena", "leo")
    any_town.given = any_town.assign("offset-first-mark", "straps-run")
    return any_town


def put(town, wanted, reason="Measured it right at the bench.", who="ines", name="lena"):
    more = {"wanted": wanted, "reason": reason, "now": town.now}
    return town.with_library(who, set_marks, town.given, public(name), **more)


def total(town, name="lena"):
    seen = town.with_library("ines", results, town.given, town.now)
    return next((one.points.total, one.points.of) for one in seen.people if one.person == public(name))


def test_a_leader_sets_points_with_a_reason_and_takes_them_back(work):
    work.answer("lena", work.open("lena", work.given), "shrink-subtracted")

    assert total(work) == (0, 2)
    assert put(work, {1: "1", 2: "0.5"}) == 2
    assert total(work) == (1.5, 2)
    own = work.with_library("lena", own_points, work.given)
    assert [line.mark.how for line in own.points.lines] == ["override", "by-hand"]
    assert own.points.lines[0].mark.reason == "Measured it right at the bench."

    assert put(work, {1: "1", 2: "0.5"}) == 0
    assert put(work, {1: "rule", 2: "0.5"}, "That was another question.") == 1
    assert total(work) == (0.5, 2)
    with work.database.read() as session:
        kept = session.scalars(select(ResultMark.how).order_by(ResultMark.id)).all()
        moved = session.scalars(select(SkillState.counted)).all()
    assert kept == ["override", "by-hand", "taken-back"]
    assert moved == [1]


@pytest.mark.parametrize(
    ("wanted", "reason", "field"),
    [({1: "2"}, "So.", "points"), ({1: "1"}, "", "reason"), ({1: "1"}, "x" * 301, "reason")],
)
def test_what_cannot_be_set_is_refused(work, wanted, reason, field):
    with pytest.raises(InputError) as refused:
        put(work, wanted, reason)

    assert refused.value.field == field


def test_only_leaders_of_the_group_set_points(work):
    with pytest.raises(NotAllowedError):
        put(work, {1: "1"}, who="lena")
    for who in ("fred", "ada"):
        with pytest.raises(NotFoundError):
            work.with_library(who, person_work, work.given, public("lena"), now=work.now)


def test_the_file_has_a_row_for_each_person_with_what_counts(work):
    work.answer("leo", work.open("leo", work.given))
    put(work, {2: "1"})
    title, columns, rows = work.with_library("ines", result_rows, work.given, work.now)

    assert title == "Offsets for Thursday"
    assert columns[:2] == ["Name", "In the class"]
    assert columns[-5:] == ["Answered", "Points", "Of", "Known mistakes", "Set by hand"]
    assert [[row[0], *row[2:]] for row in rows] == [
        ["Lena", 0, 1, 0, 1, 2, "", "2: Measured it right at the bench."],
        ["Leo", 1, 0, 1, 1, 2, "", ""],
    ]


@pytest.mark.parametrize("kind", ["home", "paper"])
def test_a_hint_takes_the_point_only_where_the_rule_says_so(kind):
    assert (worked_out(kind, [tried("right")], DUE), worked_out(kind, [tried("right", hints=1)], DUE)) == (1, 0)
    assert "first answer without a hint" in say(points_rule(kind))
