"""
Watching a proof run: who leads the group opens a sitting beside a member, and ends it.

The member answers on a phone or computer of his own; who sits beside him signs that nobody helps. It is noted for the
member to read, and kept with the run. It needs readiness shared, since a run shows where somebody stands.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime

from msgspec import Struct
from sqlalchemy.orm import Session

from trainer.accounts.access import LearnerRef, NotAllowedError, NotFoundError, learner_seen_by
from trainer.accounts.actor import Actor, actor_of_person
from trainer.accounts.audit import note
from trainer.accounts.sharing import Shared, shared_with
from trainer.calc.message import Message
from trainer.groups.asked import NOTHING_ASKED, Asked, asked_for, asked_of
from trainer.groups.board import LOOKED
from trainer.groups.looks import note_looks
from trainer.library.shelf import Library
from trainer.progress.needs import RunLine, SkillStanding
from trainer.progress.opening import too_few, waiting_for
from trainer.progress.proof_rows import runs_of
from trainer.progress.proof_run import begin
from trainer.progress.readiness_rows import standings_of_people
from trainer.progress.states import states_of
from trainer.progress.watching import BesideLine, Watcher, leave, sittings_on_way
from trainer.records.locks import lock_person

__all__ = ["SkillToWatch", "Watching", "end_watch", "watch", "watching"]


class SkillToWatch(Struct, frozen=True):
    """
    A skill at whose run somebody could sit.

    Args:
        skill: Its id.
        title: Its title.
        asked: What the job types ask of it.
        run: The run on its way; None without one.
        beside: Who sits beside the person now; None where nobody does.
        waiting: What keeps a watched run from being asked now, each in a sentence; empty where nothing does.
        shown: When a watched run found it ready last; None where none did, or what it showed is due again.
    """

    skill: str
    title: str
    asked: Asked
    run: RunLine | None
    beside: BesideLine | None
    waiting: tuple[Message, ...]
    shown: datetime | None

    @property
    def can_begin(self) -> bool:
        """Whether a sitting can be opened now, as far as this page knows: how many count today is looked at then."""
        return not self.waiting and self.beside is None and (self.run is not None or self.shown is None)


class Watching(Struct, frozen=True):
    """A member, and the skills that he has begun or that job types ask for, those that are asked for first."""

    learner: LearnerRef
    skills: tuple[SkillToWatch, ...]


def watching(
    session: Session, library: Library, actor: Actor, group_public_id: str, person_public_id: str, *, now: datetime
) -> Watching:
    """
    At which runs of a member one could sit, and where somebody does.

    Args:
        session: A write session: that he looked is noted.
        library: The content.
        actor: Who asks.
        group_public_id: The group.
        person_public_id: The member.
        now: This moment.

    Raises:
        NotFoundError: When the group is not his to know of, or the person never learned in it.
        NotAllowedError: When he does not lead it, or the member does not share readiness.
    """
    learner = learner_seen_by(session, actor, group_public_id, person_public_id, Shared.READINESS)
    note_looks(session, actor, learner.group.id, [learner.person_id], what=LOOKED, now=now)
    asked = asked_of(session, learner.person_id, library.skills)
    begun = states_of(session, learner.person_id)
    skills = [skill for skill in library.skills if skill in asked or skill in begun]
    standings = standings_of_people(session, library, [learner.person_id], skills)[learner.person_id]
    there = sittings_on_way(session, [learner.person_id], now)
    lines = [
        _skill(library, skill, standings[skill], asked.get(skill, NOTHING_ASKED), there=there, now=now)
        for skill in skills
    ]
    return Watching(learner, tuple(sorted(lines, key=lambda line: not line.asked.jobs)))


def watch(
    session: Session,
    library: Library,
    actor: Actor,
    group_public_id: str,
    person_public_id: str,
    *,
    skill: str,
    now: datetime,
) -> None:
    """
    Open a sitting beside a member: a new watched run, or the next sitting of the one on its way.

    Args:
        session: A write session.
        library: The content.
        actor: Who sits there, and has signed that he does and sees to it that nobody helps.
        group_public_id: The group.
        person_public_id: The member.
        skill: The skill.
        now: This moment.

    Raises:
        NotFoundError: As `watching`, or when there is no such skill.
        NotAllowedError: As `watching`; when it is his own run; or when the run cannot be opened now: the reason says why.
    """
    learner = learner_seen_by(session, actor, group_public_id, person_public_id, Shared.READINESS)
    if learner.person_id == actor.person_id:
        raise NotAllowedError(Message("proof.not-own"))
    if skill not in library.skills:
        raise NotFoundError
    asked = asked_for(session, learner.person_id, skill)
    begin(
        session,
        library,
        learner.person_id,
        skill,
        now=now,
        zone=actor_of_person(session, learner.person_id).zone,
        line=asked.line,
        valid=asked.valid,
        watcher=Watcher(actor.person_id, learner.group.id),
    )
    who = {"actor_id": actor.person_id, "subject_id": learner.person_id, "group_id": learner.group.id}
    note(session, what="proof.watched", now=now, detail={"skill": library.skills[skill].title}, **who)


def end_watch(
    session: Session, actor: Actor, group_public_id: str, person_public_id: str, *, skill: str, now: datetime
) -> bool:
    """
    Leave: the run takes no more answers until somebody sits there again. Nothing where nobody sits.

    It tells nothing of the member, and so needs no readiness shared: he may have closed it during the sitting.

    Returns:
        Whether readiness is shared still, and so whether the one who leaves may look at the member's runs.

    Raises:
        NotFoundError: As `watching`, or when the person learns in the group no longer.
        NotAllowedError: When he does not lead the group.
    """
    learner = learner_seen_by(session, actor, group_public_id, person_public_id, Shared.ASSIGNED)
    if not learner.is_member:
        raise NotFoundError
    lock_person(session, learner.person_id)
    for run in runs_of(session, learner.person_id, skill):
        if run.ended_at is None and run.watched_by_id is not None:
            leave(session, run.id, now)
    return Shared.READINESS in shared_with(session, learner.person_id, learner.group.id)


def _skill(
    library: Library,
    skill: str,
    standing: SkillStanding,
    asked: Asked,
    *,
    there: Mapping[str, BesideLine],
    now: datetime,
) -> SkillToWatch:
    run = next((run for run in reversed(standing.runs) if not run.outcome), None)
    found = next((run for run in reversed(standing.runs) if run.shows(asked.line, watched=True)), None)
    return SkillToWatch(
        skill=skill,
        title=library.skills[skill].title,
        asked=asked,
        run=run,
        beside=there.get(run.run) if run else None,
        waiting=tuple(_waiting(standing, run, now)),
        shown=found.ended_at if found and standing.holds(found, now, valid=asked.valid) else None,
    )


def _waiting(standing: SkillStanding, run: RunLine | None, now: datetime) -> list[Message]:
    if run is not None:
        return too_few(standing.families) if run.watched else [Message("proof.unwatched-on-its-way")]
    return waiting_for(
        standing.state,
        families=standing.families,
        mistakes=standing.mistakes,
        practised=standing.practised,
        now=now,
    )
