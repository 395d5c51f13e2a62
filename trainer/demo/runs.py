"""Proof runs over several days by the clock that is passed in, and a placement run."""

from __future__ import annotations

from datetime import datetime, timedelta
from functools import partial

from msgspec import Struct
from sqlalchemy import select

from trainer.accounts.access import NotFoundError
from trainer.demo.cast import Extra, invented_id
from trainer.demo.moments import Moment, Scene
from trainer.demo.parts import Shows
from trainer.demo.pretend import Pretend
from trainer.demo.weeks import give_answer, work_on
from trainer.groups.asked import Asked, asked_for
from trainer.progress.issue import issue
from trainer.progress.placement_run import begin_placement, end_placement, next_placement_question
from trainer.progress.proof import MOST_A_DAY, ProofState, view_proof
from trainer.progress.proof_run import begin, next_question
from trainer.progress.watching import Watcher
from trainer.records.models import ProofRun

__all__ = ["placed", "shown"]

LEAST_PRACTICE, MOST_PRACTICE = 6, 16
EVENING = 23
SURE = Pretend(6.0)
"""How an evening on one skill alone is answered."""

PLACED_BY = 12
"""Questions of the placement run before it is ended."""


def shown(scene: Scene, extra: Extra, person_id: int, watcher: Watcher | None) -> list[Moment]:
    """An evening of practice for each proof run, and the evenings after it on which the run goes on."""
    found = []
    for number, one in enumerate(extra.part.shows):
        run, nth = _Run(scene, extra, person_id, one, watcher if one.watched else None), 2000 + 10 * number
        found.append(Moment(scene.on(one.days_ago, EVENING, 5 * number), person_id, nth, run.prepare))
        for day in range(1, one.days + 1):
            evening = scene.on(one.days_ago - day, EVENING, 5 * number)
            found.append(Moment(evening, person_id, nth + day, run.go_on))
    return found


def placed(scene: Scene, extra: Extra, person_id: int) -> list[Moment]:
    """A placement run on the evening after somebody came."""
    at = scene.on(extra.part.joined_days_ago - 1, EVENING)
    return [Moment(at, person_id, 3000, partial(_place, scene, extra, person_id))]


def _place(scene: Scene, extra: Extra, person_id: int, at: datetime) -> None:
    begin_placement(scene.session, person_id, at)
    for _ in range(PLACED_BY):
        question = next_placement_question(scene.session, scene.library, person_id, now=at, edition=scene.edition)
        if question is None:
            return
        at = _decide(scene, extra.part.pretend, person_id, question, at)
    end_placement(scene.session, scene.library, person_id, at + timedelta(minutes=1))


def _decide(scene: Scene, pretend: Pretend, person_id: int, question: str, at: datetime) -> datetime:
    """Answer a question of a run until it is closed: a wrong unit is asked once more."""
    closed = False
    while not closed:
        at, result = give_answer(scene, pretend, person_id, question, at)
        closed = result.closed
    return at


class _Run(Struct, frozen=True):
    """One proof run of one person."""

    scene: Scene
    extra: Extra
    person_id: int
    shows: Shows
    watcher: Watcher | None

    def prepare(self, at: datetime) -> None:
        """Practise the skill until the run is open on the next evening too, when some of it has faded."""
        scene = self.scene
        for done in range(MOST_PRACTICE):
            if done >= LEAST_PRACTICE and self._state(at + timedelta(days=1)) is not ProofState.CLOSED:
                return
            problem = issue(
                scene.session, scene.library, self.person_id, skill=self.shows.skill, now=at, edition=scene.edition
            )
            at = work_on(scene, SURE, self.person_id, problem, at)

    def go_on(self, at: datetime) -> None:
        """Begin the run, sit beside it again, or go on with it, as far as a day lets."""
        scene, state = self.scene, self._state(at)
        if state in {ProofState.OPEN, ProofState.UNATTENDED}:
            self._begin(at)
        elif state is not ProofState.RUNNING:
            return
        pretend, skill = Pretend(self.shows.ability), self.shows.skill
        for _ in range(MOST_A_DAY):
            try:
                question = next_question(
                    scene.session, scene.library, self.person_id, skill, now=at, zone=scene.zone, edition=scene.edition
                )
            except NotFoundError:
                return  # decided
            if question is None:
                return  # nobody watches any more
            at = _decide(scene, pretend, self.person_id, question, at)

    def _asked(self) -> Asked:
        """What the job types of the person's shop ask: on which line, and for how long a run counts."""
        return asked_for(self.scene.session, self.person_id, self.shows.skill)

    def _begin(self, at: datetime) -> None:
        scene, skill, asked = self.scene, self.shows.skill, self._asked()
        run = begin(
            scene.session,
            scene.library,
            self.person_id,
            skill,
            now=at,
            zone=scene.zone,
            line=asked.line,
            valid=asked.valid,
            watcher=self.watcher,
        )
        # A run asks in an order that hangs on its name: a name of our own makes it ask the same each time.
        row = scene.session.scalars(select(ProofRun).where(ProofRun.public_id == run)).one()
        row.public_id = invented_id(f"{self.extra.sign_in_name} {self.shows.skill}")

    def _state(self, at: datetime) -> ProofState:
        asked = self._asked()
        return view_proof(
            self.scene.session,
            self.scene.library,
            self.person_id,
            self.shows.skill,
            now=at,
            zone=self.scene.zone,
            line=asked.line,
            valid=asked.valid,
            watched=self.watcher is not None,
        ).state
