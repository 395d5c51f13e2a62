"""A proof run from what opens it to its decision, over days."""

from datetime import timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

import pytest
from sqlalchemy import select, update

from trainer.accounts.access import NotAllowedError, NotFoundError
from trainer.problems.check import check
from trainer.progress.points import Line, rule_for
from trainer.progress.proof import DUE_AFTER, ProofState, view_proof
from trainer.progress.proof_families import FEWEST_FAMILIES, askable, next_family
from trainer.progress.proof_run import abandon, begin, next_question
from trainer.progress.regrading import lock_holders, put_through
from trainer.progress.replay import rebuild, replay
from trainer.progress.replayed import differences
from trainer.progress.states import as_state, states_of
from trainer.progress.today import Kind, today
from trainer.progress.watching import SITTING_LASTS, Watcher, leave
from trainer.records.locks import add_if_missing
from trainer.records.models import (
    FamilyDifficulty,
    Group,
    KeyRuling,
    Organisation,
    Person,
    Problem,
    ProofRun,
    ProofSitting,
    SkillState,
)

ZONE = ZoneInfo("America/Chicago")
SKILL = "bends.offset"
FAMILIES = ("offset-spacing", "offset-shrink", "offset-first-mark", "offset-second-mark")


class Run:
    """A person at a proof run; each step is one transaction."""

    def __init__(self, desk):
        self.desk = desk

    def do(self, use_case, *arguments, **more):
        with self.desk.database.write() as session:
            return use_case(session, *arguments, **more)

    def view(self, **more):
        desk = self.desk
        with desk.database.read() as session:
            return view_proof(session, desk.library, desk.person_id, SKILL, now=desk.now, zone=ZONE, **more)

    def begin(self, **more):
        desk = self.desk
        return self.do(begin, desk.library, desk.person_id, SKILL, now=desk.now, zone=ZONE, **more)

    def watched(self):
        """A foreman sits down beside the person; each time another sitting."""
        with self.desk.database.write() as session:
            group = session.scalar(select(Group.id)) or crew(session, self.desk.now)
            foreman = session.scalar(select(Person.id).where(Person.sign_in_name == "fred"))
        return self.begin(watcher=Watcher(foreman, group))

    def leave(self):
        self.do(leave, self.last().id, self.desk.now)

    def next(self):
        desk = self.desk
        return self.do(next_question, desk.library, desk.person_id, SKILL, now=desk.now, zone=ZONE, edition="2023")

    def answer(self, typed=None):
        problem = self.next()
        return self.desk.answer(problem, self.desk.right(problem) if typed is None else typed)

    def stop(self):
        self.do(abandon, self.desk.person_id, SKILL, self.desk.now)

    def last(self):
        return self.desk.rows(ProofRun)[-1]


def crew(session, now):
    """A crew with its foreman, Fred."""
    shop = Organisation(public_id="shop", kind="shop", name="Corner shop", time_zone="America/Chicago", created_at=now)
    fred = Person(sign_in_name="fred", public_id="public-fred", display_name="Fred", created_at=now)
    session.add_all([shop, fred])
    session.flush()
    made = Group(public_id="crew", organisation_id=shop.id, kind="crew", name="Garage crew", created_at=now)
    session.add(made)
    session.flush()
    return made.id


@pytest.fixture
def run(any_desk):
    return Run(any_desk)


@pytest.fixture
def able(run):
    """Practised until a run opens."""
    while run.view().state is ProofState.CLOSED:
        for family in FAMILIES:
            run.desk.practise("right", family_id=family)
        run.desk.after(days=1)
    return run


def decided(run, days=20):
    """Right answers, eight a day, until the run is decided; how many that were."""
    answers = 0
    for _ in range(days):
        while run.view().state is ProofState.RUNNING:
            run.answer()
            answers += 1
        if not run.view().run:
            return answers
        run.desk.after(days=1)
        if run.view().in_sight:
            run.watched()
    raise AssertionError("never decided")


def test_it_is_closed_at_first_and_says_what_is_missing(run):
    view = run.view()

    assert view.state is ProofState.CLOSED
    assert [sentence.id for sentence in view.waiting] == ["proof.few-answers"]
    with pytest.raises(NotAllowedError) as refused:
        run.begin()
    assert refused.value.reason.id == "proof.few-answers"


def test_answers_alone_do_not_open_it(run):
    for family in FAMILIES[:2] * 4:
        run.desk.practise("right", family_id=family)

    assert "proof.few-answers" not in [sentence.id for sentence in run.view().waiting]


def test_a_slip_that_comes_back_keeps_it_closed(able):
    for _ in range(2):
        able.desk.practise("shrink-left-out", family_id="offset-first-mark")

    assert "proof.mistake" in [sentence.id for sentence in able.view().waiting]


def test_right_answers_on_two_days_decide_for_ready(able):
    able.begin()
    needed = able.view().ready_at
    answers = decided(able)

    assert able.view().state is ProofState.READY
    assert able.last().outcome == "ready"
    assert able.last().points >= needed
    assert able.last().counted == answers >= 15
    assert not able.view().watched


def test_eight_count_a_day_and_the_ninth_waits_for_tomorrow(able):
    able.begin()
    for _ in range(8):
        able.answer()

    assert able.view().state is ProofState.TOMORROW
    with pytest.raises(NotAllowedError):
        able.next()
    able.desk.after(days=1)
    assert able.view().left_today == 8
    able.next()


def test_a_days_end_is_that_of_the_persons_own_calendar(able):
    able.begin()
    able.desk.now = able.desk.now.replace(hour=3, minute=30)  # 10:30 in the evening in Chicago.
    for _ in range(8):
        able.answer()
    able.desk.after(hours=1)
    assert able.view().state is ProofState.TOMORROW
    able.desk.after(hours=2)
    assert able.view().state is ProofState.RUNNING


def test_wrong_answers_end_it_and_the_next_asks_for_more(able):
    able.begin()
    first = able.view().ready_at
    while able.view().run:
        able.answer("1 in")
    assert able.last().outcome == "not-yet"
    assert able.last().counted == 3

    waiting = [sentence.id for sentence in able.view().waiting]
    assert "proof.practise-first" in waiting
    assert able.view().ready_at == first + 3


def test_abandoning_with_an_answer_in_it_counts_as_failed_and_without_one_as_nothing(able):
    able.begin()
    able.next()
    able.stop()
    assert able.last().outcome == "empty"
    assert able.view().ready_at == 15

    able.begin()
    able.answer()
    able.stop()
    assert able.last().outcome == "abandoned"
    assert able.view().ready_at == 18
    with pytest.raises(NotFoundError):
        able.stop()


def test_the_families_are_mixed(able):
    able.begin()
    for _ in range(6):
        able.answer()

    asked = [row.family_id for row in able.desk.rows(Problem) if row.context == "proof"]
    assert len(set(asked)) >= FEWEST_FAMILIES
    assert all(one != other for one, other in pairwise(asked))


def test_with_too_few_families_it_says_so_and_waits(able):
    others = [family.id for family in askable(able.desk.library, SKILL)][FEWEST_FAMILIES - 1 :]
    able.begin()
    with able.desk.database.write() as session:
        for family in (able.desk.library.families[one] for one in others):
            values = {"rules_hash": family.rules_hash, "family_id": family.id, "skill": SKILL}
            add_if_missing(session, FamilyDifficulty, **values, difficulty=0.0, counted=0, alarm=7.0)
        raised = update(FamilyDifficulty).where(FamilyDifficulty.family_id.in_(others))
        session.execute(raised.values(alarmed_at=able.desk.now))

    view = able.view()
    assert (view.state, [sentence.id for sentence in view.waiting]) == (ProofState.TOO_FEW, ["proof.few-families"])
    with pytest.raises(NotAllowedError) as refused:
        able.next()
    assert refused.value.reason.id == "proof.few-families"
    able.stop()

    assert able.view().state is ProofState.CLOSED
    assert "proof.few-families" in [sentence.id for sentence in able.view().waiting]


def raise_alarm(run, family_id):
    """The key of a family comes into doubt."""
    with run.desk.database.write() as session:
        family = run.desk.library.families[family_id]
        values = {"rules_hash": family.rules_hash, "family_id": family.id, "skill": SKILL}
        add_if_missing(session, FamilyDifficulty, **values, difficulty=0.0, counted=0, alarm=7.0)
        raised = update(FamilyDifficulty).where(FamilyDifficulty.family_id == family_id)
        session.execute(raised.values(alarmed_at=run.desk.now))


def test_a_family_whose_key_is_in_doubt_leaves_the_run_at_once(able):
    able.begin()
    problem = able.next()
    family = able.desk.problem(problem).family_id
    raise_alarm(able, family)

    assert able.desk.answer(problem, "1 in").closed
    view = able.view()
    assert (view.counted, view.points, view.days, view.left_today) == (0, 0, 0, 8)
    for _ in range(6):
        asked = able.next()
        assert able.desk.problem(asked).family_id != family
        able.desk.answer(asked, able.desk.right(asked))
    assert able.view().counted == 6


def test_a_wrong_unit_is_asked_once_more_and_only_the_second_try_counts(able):
    able.begin()
    problem = able.next()
    unit_slip = f"{able.desk.problem(problem).keys[0].value * 25.4:.0f}"

    first = able.desk.answer(problem, unit_slip)
    assert (first.verdict, first.closed) == ("wrong-unit", False)
    assert able.view().counted == 0
    second = able.desk.answer(problem, able.desk.right(problem))

    assert second.closed
    assert able.view().counted == 1
    assert able.view().points > 0


def test_twice_the_wrong_unit_is_not_right(able):
    able.begin()
    problem = able.next()
    unit_slip = f"{able.desk.problem(problem).keys[0].value * 25.4:.0f}"
    able.desk.answer(problem, unit_slip)

    assert able.desk.answer(problem, unit_slip).closed
    assert able.view().points < 0


def test_giving_up_counts_as_not_right(able):
    able.begin()
    able.desk.show_steps(able.next())

    assert able.view().counted == 1
    assert able.view().points < -3


def test_while_its_question_is_open_nothing_helps(able):
    able.begin()
    other = able.desk.issue(family_id="offset-shrink")
    problem = able.next()

    assert able.desk.hint(problem) == 0
    for help_of in (able.desk.hint, able.desk.show_steps):
        with pytest.raises(NotAllowedError):
            help_of(other)
    able.desk.answer(problem, able.desk.right(problem))
    assert able.desk.show_steps(other).closed


def test_the_same_question_comes_back_until_it_is_answered(able):
    able.begin()

    assert able.next() == able.next()


def test_a_run_begun_twice_is_one(able):
    assert able.begin() == able.begin()


def test_it_keeps_the_difficulties_it_began_with(able):
    able.begin()
    points = rule_for(Line.STRICT).points(able.last().difficulties["offset-spacing"])
    able.answer()

    assert able.last().points == pytest.approx(points.right, abs=0.6)
    assert set(able.last().difficulties) >= set(FAMILIES)


def test_left_alone_for_long_it_is_due_and_the_run_is_shorter(able):
    able.watched()
    first = decided(able)
    assert able.view().watched
    able.desk.after(days=120)

    assert able.view().due
    while able.view().state is ProofState.CLOSED:
        able.desk.practise("right", family_id="offset-spacing")
        able.desk.practise("right", family_id="offset-shrink")
        able.desk.after(days=1)
    assert (able.view().state, able.view().due, able.view().lapsed) == (ProofState.OPEN, True, True)
    able.begin()
    assert able.last().refreshes
    assert able.view().ready_at == 6
    assert decided(able) < first
    assert able.view().state is ProofState.READY


def test_what_lapsed_is_kept_and_one_answer_does_not_bring_it_back(able):
    able.begin()
    decided(able)
    shown_at = able.last().ended_at
    able.desk.after(days=91)
    able.desk.practise("right", family_id="offset-spacing")

    view = able.view()
    assert (view.due, view.lapsed, view.ready_since) == (True, True, shown_at)
    assert able.desk.rows(SkillState)[0].lapsed_at == shown_at + DUE_AFTER
    assert Kind.REFRESH in [thing.kind for thing in look(able.desk)]
    with able.desk.database.write() as session:
        assert differences(session, able.desk.person_id) == []
        rebuild(session, able.desk.person_id)
    assert able.desk.rows(SkillState)[0].lapsed_at == shown_at + DUE_AFTER
    assert able.view() == view


def look(desk):
    """What the page of today has."""
    with desk.database.read() as session:
        found = today(session, desk.library, desk.person_id, desk.now)
    return [found.first, *found.others]


def test_shown_longer_ago_than_is_asked_it_can_be_shown_again_while_practice_holds(able):
    able.begin()
    decided(able)
    able.desk.after(days=2)
    assert able.view(valid=timedelta(days=30)).state is ProofState.READY

    too_old = {"valid": timedelta(days=1)}
    assert (able.view(**too_old).state, able.view(**too_old).due) == (ProofState.OPEN, True)
    with pytest.raises(NotAllowedError):
        able.begin()
    able.begin(**too_old)
    assert able.last().refreshes


def test_a_replay_finds_the_same_skill(able):
    able.begin()
    decided(able)
    with able.desk.database.read() as session:
        kept = as_state(states_of(session, able.desk.person_id)[SKILL])

        assert replay(session, able.desk.person_id).states[SKILL] == kept


def test_each_run_takes_the_families_in_an_order_of_its_own(library):
    families = askable(library, SKILL)
    firsts = {next_family(families, [], f"run-{nth}").id for nth in range(40)}

    assert len(firsts) == len(families)


def test_a_watched_run_goes_on_only_while_somebody_sits_there(able):
    able.watched()
    able.answer()
    assert able.view().beside.watcher == "Fred"
    able.leave()

    assert able.view().state is ProofState.UNATTENDED
    assert able.next() is None
    able.desk.after(minutes=5)
    able.watched()
    able.answer()
    assert able.view().counted == 2
    assert able.view().in_sight
    assert [row.ended_at is None for row in sittings(able)] == [False, True]


def test_who_sits_there_already_and_opens_it_again_leaves_the_question_open(able):
    able.watched()
    problem = able.next()
    able.desk.after(minutes=5)
    able.watched()

    assert able.next() == problem
    assert len(sittings(able)) == 1


def test_nobody_takes_the_place_of_who_sits_there(able):
    able.watched()
    problem = able.next()

    with pytest.raises(NotAllowedError) as refused:
        able.begin(watcher=Watcher(able.desk.person_id, 1))
    assert refused.value.reason.params == {"watcher": "Fred"}
    assert able.next() == problem


def sittings(run):
    with run.desk.database.read() as session:
        return session.query(ProofSitting).order_by(ProofSitting.id).all()


def test_an_answer_that_nobody_watches_is_not_taken_and_its_question_comes_again_with_new_numbers(able):
    able.watched()
    problem = able.next()
    right = able.desk.right(problem)
    able.desk.now += SITTING_LASTS

    late = able.desk.answer(problem, right)

    assert (late.outcome, late.verdict) == ("unattended", None)
    assert able.view().counted == 0
    assert able.view().left_today == 8
    assert able.view().days == 0
    able.watched()
    again = able.next()
    assert again != problem
    assert able.desk.problem(again).family_id == able.desk.problem(problem).family_id
    assert able.desk.problem(again).numbers != able.desk.problem(problem).numbers


def test_giving_up_while_nobody_watches_is_not_taken_either(able):
    able.watched()
    problem = able.next()
    able.leave()

    assert able.desk.show_steps(problem).outcome == "closed"
    assert able.view().counted == 0


def test_a_question_left_open_keeps_no_help_from_anybody(able):
    able.watched()
    other = able.desk.issue(family_id="offset-shrink")
    able.next()
    able.leave()

    assert able.desk.show_steps(other).closed


def test_a_sitting_ends_by_itself_after_an_hour(able):
    able.watched()
    able.desk.now += SITTING_LASTS - timedelta(minutes=1)
    assert able.view().state is ProofState.RUNNING
    able.desk.after(minutes=1)

    assert able.view().state is ProofState.UNATTENDED


def test_a_run_that_nobody_watches_is_made_no_watched_one(able):
    able.begin()
    able.answer()

    with pytest.raises(NotAllowedError) as refused:
        able.watched()
    assert refused.value.reason.id == "proof.unwatched-on-its-way"
    able.stop()
    able.desk.after(minutes=1)
    for _ in range(6):
        able.desk.practise("right", family_id="offset-shrink")
    able.watched()
    assert able.view().in_sight


def test_a_watched_run_is_found_ready_as_one_that_was_watched(able):
    able.watched()
    decided(able)

    assert able.view().state is ProofState.READY
    assert able.view().watched


def test_the_lighter_line_takes_fewer_points_and_does_not_stand_for_the_strict_one(able):
    able.begin(line=Line.LIGHT)
    assert (able.view().line, able.view().ready_at) == (Line.LIGHT, 9)
    decided(able)

    assert able.last().line == "light"
    assert able.view().state is not ProofState.READY
    assert able.view(line=Line.LIGHT).state is ProofState.READY


def test_every_family_of_the_skill_has_its_turn_in_a_run(library):
    families = askable(library, SKILL)
    for nth in range(20):
        asked = []
        for _ in range(2 * len(families)):
            asked.append(next_family(families, asked, f"run-{nth}").id)

        assert set(asked[: len(families)]) == {family.id for family in families}
        assert len(set(asked[:FEWEST_FAMILIES])) == FEWEST_FAMILIES


def test_a_number_rounded_too_far_is_asked_once_more_and_only_the_second_try_counts(able):
    able.begin()
    problem = able.next()
    while (rounded := rounded_too_far(able.desk.problem(problem))) is None:
        able.desk.answer(problem, able.desk.right(problem))
        problem = able.next()
    counted = able.view().counted
    first = able.desk.answer(problem, rounded)

    assert (first.verdict, first.closed) == ("rounded-too-far", False)
    assert able.view().counted == counted
    assert able.desk.answer(problem, "1 in").closed
    assert able.view().counted == counted + 1


def rounded_too_far(problem):
    """The answer in whole inches, where the family takes that for rounded too far."""
    text = f"{problem.keys[0].value:.0f}"
    return text if check(problem, text).kind.value == "rounded-too-far" else None


def test_what_was_closed_in_doubt_counts_again_where_the_key_stands(able):
    desk, table = able.desk, FamilyDifficulty
    able.begin()
    asked = able.next()
    family = desk.library.families[desk.show(asked).family_id]
    rules = family.rules_hash
    raise_alarm(able, family.id)
    desk.answer(asked, desk.right(asked))
    assert able.last().counted == 0

    with desk.database.write() as session:
        lock_holders(session, rules)
        session.execute(update(table).where(table.rules_hash == rules).values(alarmed_at=None))
        said = {"family_id": family.id, "sequence": 1, "remedy": "stands", "accepts": "", "reason": "Right."}
        ruling = KeyRuling(rules_hash=rules, ruled_at=desk.now, ruled_by_id=desk.person_id, **said)
        session.add(ruling)
        session.flush()
        assert put_through(session, desk.library, ruling, by_id=desk.person_id, now=desk.now) == []
    assert able.last().counted == 1
    with desk.database.read() as session:
        assert differences(session, desk.person_id) == []
