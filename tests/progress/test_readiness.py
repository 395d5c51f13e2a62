"""Ready for a job type: all must hold, and what is missing is said."""

from datetime import UTC, datetime, timedelta

import pytest
from msgspec.structs import replace

from trainer.calc.message import Message
from trainer.progress.needs import CheckNeed, JobNeed, Ready, RegistrationNeed, RunLine, Shown, SkillNeed, SkillStanding
from trainer.progress.opening import DUE_AFTER, faded, fades_at, practice_left
from trainer.progress.points import Line
from trainer.progress.readiness import readiness
from trainer.progress.skill import SkillState, chance, fresh

NOW = datetime(2026, 11, 30, 12, 0, tzinfo=UTC)
OFFSET = SkillNeed("bends.offset", "Offsets", Line.STRICT)
STRAPS = SkillNeed("supports.straps", "Straps", Line.LIGHT)
CHECK = CheckNeed("offset", "3/4")
DOG_LEG = {"finding": Message("field.kind.dog-leg"), "reported_at": NOW - timedelta(days=10)}


def job(*, skills=(OFFSET, STRAPS), checks=(), watched=False, valid=None):
    return JobNeed("job", "Garage", "Somebody is there.", watched, valid, tuple(skills), tuple(checks))


def run(outcome="ready", *, line=Line.STRICT, days_ago=3, watched=False, points=15.2, counted=20):
    ended = None if not outcome else NOW - timedelta(days=days_ago)
    began = NOW - timedelta(days=days_ago + 2)
    return RunLine("run", line, 15.0, False, points, counted, began, ended, outcome, watched)


def able(*runs, days_ago=1, level=3.0, **more):
    state = SkillState(level, 0.2, 120.0, 30, NOW - timedelta(days=days_ago))
    return SkillStanding(state, tuple(runs), families=4, **more)


def standings(offset, straps=None):
    return {"bends.offset": offset, "supports.straps": straps or able(run())}


def test_ready_when_every_skill_was_found_ready_and_holds():
    found = readiness(job(), standings(able(run())), Shown(), NOW)

    assert found.state is Ready.READY
    assert found.missing == ()
    assert found.until == NOW - timedelta(days=1) + DUE_AFTER


def test_practice_alone_never_says_ready():
    found = readiness(job(), standings(able()), Shown(), NOW)

    assert found.state is Ready.NOT_YET
    assert [part.need for part in found.missing] == [OFFSET]
    assert [sentence.id for sentence in found.missing[0].says] == ["readiness.open"]
    assert found.missing[0].effort.practice == 0
    assert found.missing[0].effort.questions == 29


@pytest.mark.parametrize(
    ("standing", "says"),
    [
        (able(days_ago=0, level=0.0), "proof.not-likely-enough"),
        (able(mistakes=("left the shrink out",)), "proof.mistake"),
        (able(run("not-yet"), practised=2), "proof.practise-first"),
        (able(run("", points=4.2, counted=5)), "readiness.on-its-way"),
        (SkillStanding(fresh(), families=4), "proof.few-answers"),
        (SkillStanding(able().state, families=2), "proof.few-families"),
    ],
)
def test_what_is_missing_is_said(standing, says):
    found = readiness(job(), standings(standing), Shown(), NOW)

    assert found.state is Ready.NOT_YET
    assert says in [sentence.id for sentence in found.missing[0].says]


def test_a_run_on_its_way_leaves_less_to_do():
    begun = readiness(job(), standings(able(run("", points=9.0, counted=12))), Shown(), NOW)
    unbegun = readiness(job(), standings(able()), Shown(), NOW)

    assert begun.missing[0].effort.questions < unbegun.missing[0].effort.questions
    assert begun.days < unbegun.days


def test_unwatched_does_not_count_where_watched_is_demanded():
    alone = readiness(job(watched=True), standings(able(run()), able(run(watched=True))), Shown(), NOW)
    beside = readiness(job(watched=True), standings(able(run(watched=True)), able(run(watched=True))), Shown(), NOW)

    assert alone.state is Ready.NOT_YET
    assert alone.missing[0].says[0].id == "readiness.nobody-watched"
    assert beside.state is Ready.READY


def test_the_lighter_line_does_not_stand_for_the_strict_one_but_the_strict_for_the_lighter():
    light = able(run(line=Line.LIGHT))
    found = readiness(job(), standings(light, light), Shown(), NOW)

    assert [part.state for part in found.parts] == [Ready.NOT_YET, Ready.READY]
    assert found.missing[0].says[0].id == "readiness.lighter"
    assert readiness(job(), standings(able(run()), able(run())), Shown(), NOW).state is Ready.READY


def test_what_is_older_than_the_job_type_allows_is_due():
    found = readiness(job(valid=timedelta(days=30)), standings(able(run(days_ago=31))), Shown(), NOW)

    assert found.state is Ready.DUE
    assert found.missing[0].says[0].id == "readiness.too-old"
    assert found.missing[0].effort.questions == 12


def test_left_alone_it_is_due_and_says_why():
    alone = readiness(job(), standings(able(run(days_ago=95), days_ago=91)), Shown(), NOW)
    weak = readiness(job(), standings(able(run(days_ago=50), days_ago=45, level=1.6)), Shown(), NOW)

    assert alone.missing[0].says[0].id == "readiness.left-alone"
    assert weak.missing[0].says[0].id == "readiness.faded"
    assert alone.state is weak.state is Ready.DUE


@pytest.mark.parametrize(("ago", "state"), [(2, Ready.DUE), (3, Ready.DUE), (4, Ready.READY)])
def test_practised_back_up_after_a_lapse_it_stays_due_until_a_run_ends_after_that(ago, state):
    standing = able(run(days_ago=3))
    standing = replace(standing, state=replace(standing.state, lapsed_at=NOW - timedelta(days=ago)))
    found = readiness(job(), standings(standing), Shown(), NOW)

    assert found.state is state
    assert [part.says[0].id for part in found.missing] == ["readiness.lapsed"] * (state is Ready.DUE)
    assert [part.effort.questions for part in found.missing] == [12] * (state is Ready.DUE)


def test_what_the_job_showed_makes_it_due():
    found = readiness(job(), standings(able(run(days_ago=20), **DOG_LEG)), Shown(), NOW)

    assert found.state is Ready.DUE
    assert found.missing[0].says[0].id == "readiness.finding"


@pytest.mark.parametrize("later", [{"watched": False}, {"watched": True, "line": Line.LIGHT}])
def test_only_a_run_that_counts_where_it_is_asked_answers_what_the_job_showed(later):
    asks = job(skills=[OFFSET], watched=True)
    answered = able(run(watched=True, days_ago=20), run(**later, days_ago=3), **DOG_LEG)
    there = able(*answered.runs, run(watched=True, days_ago=1), **DOG_LEG)

    found = readiness(asks, standings(answered), Shown(), NOW)
    assert (found.state, found.missing[0].says[0].id) == (Ready.DUE, "readiness.finding")
    assert readiness(asks, standings(there), Shown(), NOW).state is Ready.READY


def test_what_is_missing_outweighs_what_is_due():
    found = readiness(job(), standings(able(), able(run(days_ago=95), days_ago=91)), Shown(), NOW)

    assert [part.state for part in found.parts] == [Ready.NOT_YET, Ready.DUE]
    assert found.state is Ready.NOT_YET


def test_a_check_by_hand_has_to_be_signed_and_in_date():
    need = job(checks=[CHECK], valid=timedelta(days=365))
    all_ready = standings(able(run()))

    assert readiness(need, all_ready, Shown(), NOW).missing[0].says[0].id == "readiness.unsigned"
    assert readiness(need, all_ready, Shown({CHECK: NOW - timedelta(days=10)}), NOW).state is Ready.READY
    assert readiness(need, all_ready, Shown({CHECK: NOW - timedelta(days=365)}), NOW).state is Ready.DUE
    assert readiness(need, all_ready, Shown({CheckNeed("offset", "1/2"): NOW}), NOW).state is Ready.NOT_YET


@pytest.mark.parametrize("level", [1.4, 1.7, 2.0, 4.0])
def test_it_fades_at_the_very_hour_from_which_it_counts_as_faded(level):
    state = SkillState(level, 0.2, 5.0, 20, NOW)
    ends = fades_at(state)

    assert not faded(state, ends - timedelta(hours=1)) or ends == NOW
    assert faded(state, ends + timedelta(hours=2))
    assert ends <= NOW + DUE_AFTER


def test_the_fewest_problems_that_open_a_run_do_open_it():
    begun = SkillState(1.0, 0.7, 2.0, 7, NOW)
    left = practice_left(begun, practised=None, now=NOW)

    assert chance(begun) < 0.85
    assert 0 < left < 40
    assert practice_left(fresh(), practised=None, now=NOW) >= 6
    assert practice_left(able().state, practised=4, now=NOW) == 2


def cards(**until):
    return Shown(cards={what: NOW + timedelta(days=days) for what, days in until.items()})


def asking(what):
    return replace(job(), registration=RegistrationNeed(what))


@pytest.mark.parametrize(
    ("asked", "shown", "state", "says"),
    [
        ("registration", cards(), Ready.NOT_YET, "readiness.no-registration"),
        ("registration", cards(registration=20), Ready.READY, "readiness.card"),
        ("registration", cards(registration=-1, licence=20), Ready.READY, "readiness.card"),
        ("registration", cards(registration=-1), Ready.DUE, "readiness.card-over"),
        ("licence", cards(registration=20), Ready.NOT_YET, "readiness.no-licence"),
        ("licence", cards(licence=20), Ready.READY, "readiness.card"),
    ],
)
def test_the_card_that_a_job_type_asks_for_has_to_be_entered_and_in_date(asked, shown, state, says):
    found = readiness(asking(asked), standings(able(run())), shown, NOW)

    assert (found.parts[0].state, found.parts[0].says[0].id) == (state, says)
    assert found.state is state


def test_ready_holds_no_longer_than_the_card():
    found = readiness(asking("registration"), standings(able(run())), cards(registration=20), NOW)

    assert found.until == NOW + timedelta(days=20)


def test_what_only_needs_somebody_to_watch_is_marked():
    found = readiness(job(watched=True), standings(able(run()), able()), Shown(), NOW)

    assert [part.to_be_watched for part in found.parts] == [True, False]


@pytest.mark.parametrize(
    ("begun", "watched", "says"),
    [
        (run("", line=Line.STRICT), True, "readiness.unwatched-on-its-way"),
        (run("", line=Line.LIGHT, watched=True), True, "readiness.lighter-on-its-way"),
        (run("", line=Line.STRICT, watched=True), True, "readiness.on-its-way"),
        (run("", line=Line.STRICT), False, "readiness.on-its-way"),
    ],
)
def test_a_run_on_its_way_that_would_not_count_here_is_said_to_be_one(begun, watched, says):
    found = readiness(job(watched=watched), standings(able(begun)), Shown(), NOW)

    assert found.parts[0].says[-1].id == says
    assert (found.parts[0].effort.questions == 29) == says.endswith(("unwatched-on-its-way", "lighter-on-its-way"))
