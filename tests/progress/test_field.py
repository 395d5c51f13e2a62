"""What the job showed takes "ready" away from a skill until a run that begins after it."""

from __future__ import annotations

from datetime import timedelta
from zoneinfo import ZoneInfo

import pytest
from sqlalchemy import update

from trainer.progress.field import adverse_findings_of_people, findings_about
from trainer.progress.proof import ProofState, view_proof
from trainer.progress.proof_run import abandon, begin
from trainer.records.models import FieldFinding, Group, Organisation, Person, ProofRun

ZONE = ZoneInfo("America/Chicago")
SKILL = "bends.offset"
FAMILIES = ("offset-spacing", "offset-shrink", "offset-first-mark", "offset-second-mark")


class Site:
    """A person whose skill was found ready, and a foreman who reports."""

    def __init__(self, desk):
        self.desk = desk
        for _day in range(6):
            for family in FAMILIES:
                desk.practise("right", family_id=family)
            desk.after(days=1)
        with desk.database.write() as session:
            shop = Organisation(name="Corner shop", kind="shop", created_at=desk.now)
            foreman = Person(sign_in_name="fred", display_name="Fred", created_at=desk.now)
            session.add_all([shop, foreman])
            session.flush()
            crew = Group(organisation_id=shop.id, kind="crew", name="Crew", created_at=desk.now)
            session.add(crew)
            session.flush()
            self.crew, self.foreman = crew.id, foreman.id

    def run(self, *, began, outcome="ready", watched=False):
        """A run that was decided."""
        with self.desk.database.write() as session:
            ended = began + timedelta(hours=1)
            session.add(
                ProofRun(
                    person_id=self.desk.person_id,
                    skill=SKILL,
                    line="strict",
                    ready_at=15.0,
                    difficulties={},
                    started_at=began,
                    ended_at=ended,
                    outcome=outcome,
                    watched_by_id=self.foreman if watched else None,
                )
            )

    def find(self, kind="dog-leg", **more):
        with self.desk.database.write() as session:
            row = FieldFinding(
                person_id=self.desk.person_id,
                group_id=self.crew,
                skill=SKILL,
                kind=kind,
                note="Two offsets lean.",
                reported_by_id=self.foreman,
                reported_at=self.desk.now,
                **more,
            )
            session.add(row)

    def view(self, **asked):
        desk = self.desk
        with desk.database.read() as session:
            return view_proof(session, desk.library, desk.person_id, SKILL, now=desk.now, zone=ZONE, **asked)

    def adverse(self):
        with self.desk.database.read() as session:
            return adverse_findings_of_people(session, [self.desk.person_id])


@pytest.fixture
def site(any_desk):
    made = Site(any_desk)
    made.run(began=any_desk.now - timedelta(hours=3))
    assert made.view().state is ProofState.READY
    return made


def test_trouble_on_the_job_has_the_skill_shown_again_and_says_why(site):
    site.find()

    view = site.view()
    assert view.state is ProofState.OPEN
    assert view.due
    assert view.ready_since is not None
    assert view.finding.why.id == "field.why.dog-leg"
    assert view.finding.why.params == {"note": "Two offsets lean", "by": "Fred"}


def test_the_run_that_follows_refreshes_and_asks_six_points(site):
    site.find()
    site.desk.after(minutes=5)
    desk = site.desk
    with desk.database.write() as session:
        begin(session, desk.library, desk.person_id, SKILL, now=desk.now, zone=ZONE)

    run = desk.rows(ProofRun)[-1]
    assert run.refreshes
    assert run.ready_at == 6.0
    with desk.database.write() as session:
        abandon(session, desk.person_id, SKILL, desk.now)
    assert site.view().finding is not None


@pytest.mark.parametrize("kind", ["failed-inspection", "scrapped", "other"])
def test_each_kind_of_trouble_does(site, kind):
    site.find(kind)

    assert site.view().state is not ProofState.READY


def test_good_work_moves_nothing(site):
    site.find("good-work")

    view = site.view()
    assert (view.state, view.due, view.finding) == (ProofState.READY, False, None)


def test_a_run_begun_after_it_and_found_ready_clears_it(site):
    site.find()
    site.run(began=site.desk.now + timedelta(minutes=1))
    site.desk.after(hours=3)

    assert site.view().state is ProofState.READY
    with site.desk.database.read() as session:
        (found,) = findings_about(session, site.desk.person_id)
    assert found.shown_again_at is not None
    assert found.effect.id == "field.effect.shown-again"


def test_a_run_begun_before_it_or_that_failed_does_not(site):
    site.find()
    site.run(began=site.desk.now - timedelta(minutes=30))
    site.run(began=site.desk.now + timedelta(minutes=1), outcome="not-yet")
    site.desk.after(hours=3)

    assert site.view().due
    assert list(site.adverse()) == [(site.desk.person_id, SKILL)]


def test_an_unwatched_run_does_not_answer_it_where_watched_ones_are_asked(site):
    site.run(began=site.desk.now - timedelta(hours=1, minutes=30), watched=True)
    site.find()
    site.run(began=site.desk.now + timedelta(minutes=1))
    site.desk.after(hours=3)

    view = site.view(watched=True)
    assert (view.state, view.due, view.finding.kind) == (ProofState.OPEN, True, "dog-leg")
    site.run(began=site.desk.now - timedelta(hours=1), watched=True)
    assert site.view(watched=True).state is ProofState.READY


def test_withdrawn_it_holds_nothing_up(site):
    site.find()
    with site.desk.database.write() as session:
        session.execute(update(FieldFinding).values(withdrawn_at=site.desk.now, withdrawn_reason="Another run."))

    assert site.view().state is ProofState.READY
    assert site.adverse() == {}
