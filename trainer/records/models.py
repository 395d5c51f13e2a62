"""
The tables, typed. Nothing above `records`, `accounts`, `library`, `progress` and `groups` knows them.

Times are UTC (`UtcDateTime`). Keys inside are integers; addresses and codes carry a random `public_id`.
Rows of answers and gradings are only ever added. Rules that the program keeps are kept by the database too:
every constraint has a name, and `tests/records/test_constraints.py` has the database refuse each breach.
"""

from __future__ import annotations

from datetime import datetime
from typing import Any

from sqlalchemy import (
    JSON,
    BigInteger,
    Boolean,
    CheckConstraint,
    Float,
    ForeignKey,
    Index,
    Integer,
    MetaData,
    String,
    Text,
    UniqueConstraint,
    text,
)
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column

from trainer.records.types import UtcDateTime, new_public_id

__all__ = [
    "Answer",
    "AssignedFamily",
    "AssignedWork",
    "AuditLine",
    "Base",
    "ContentVersion",
    "FamilyDifficulty",
    "Grading",
    "Group",
    "LessonReading",
    "Membership",
    "MistakeHistory",
    "Organisation",
    "Person",
    "Problem",
    "Share",
    "SignInAttempt",
    "SignInSession",
    "Site",
    "SkillState",
]

BigKey = BigInteger().with_variant(Integer, "sqlite")
"""An integer key: 64 bits on PostgreSQL; on SQLite the rowid, which is 64 bits wide whatever its name."""


def one_of(column: str, *words: str) -> str:
    """SQL that holds a column to a closed list of words."""
    return f"{column} IN ({', '.join(repr(word) for word in words)})"


class Base(DeclarativeBase):
    """Base of all tables; names every constraint that isn't named by hand."""

    metadata = MetaData(
        naming_convention={
            "ix": "ix_%(table_name)s_%(column_0_N_name)s",
            "uq": "uq_%(table_name)s_%(column_0_N_name)s",
            "ck": "ck_%(table_name)s_%(constraint_name)s",
            "fk": "fk_%(table_name)s_%(column_0_N_name)s",
            "pk": "pk_%(table_name)s",
        }
    )

    id: Mapped[int] = mapped_column(BigKey, primary_key=True)


class Site(Base):
    """The one row that describes this site."""

    __tablename__ = "site"
    __table_args__ = (
        CheckConstraint("id = 1", name="only_one"),
        CheckConstraint(one_of("edition", "2017", "2020", "2023"), name="edition"),
    )

    edition: Mapped[str] = mapped_column(String(4), default="2023")
    is_demo: Mapped[bool] = mapped_column(Boolean(create_constraint=False), default=False)
    created_at: Mapped[datetime] = mapped_column(UtcDateTime)


class Organisation(Base):
    """A school or a shop."""

    __tablename__ = "organisation"
    __table_args__ = (
        CheckConstraint(one_of("kind", "school", "shop"), name="kind"),
        CheckConstraint("length(name) BETWEEN 1 AND 120", name="name_length"),
        CheckConstraint(one_of("basis", "sharp-corner", "handbook", "arc"), name="basis"),
        UniqueConstraint("public_id"),
    )

    public_id: Mapped[str] = mapped_column(String(22), default=new_public_id)
    name: Mapped[str] = mapped_column(String(120))
    kind: Mapped[str] = mapped_column(String(8))
    time_zone: Mapped[str] = mapped_column(String(64), default="UTC")
    basis: Mapped[str] = mapped_column(String(16), default="handbook")
    created_at: Mapped[datetime] = mapped_column(UtcDateTime)


class Person(Base):
    """Someone who signs in. Deleting strips the identity and keeps the row."""

    __tablename__ = "person"
    __table_args__ = (
        UniqueConstraint("public_id"),
        UniqueConstraint("sign_in_name"),
        CheckConstraint("sign_in_name = lower(sign_in_name)", name="sign_in_name_lower"),
        CheckConstraint("length(sign_in_name) BETWEEN 3 AND 40", name="sign_in_name_length"),
        CheckConstraint("length(display_name) BETWEEN 1 AND 80", name="display_name_length"),
    )

    public_id: Mapped[str] = mapped_column(String(22), default=new_public_id)
    sign_in_name: Mapped[str] = mapped_column(String(40))
    display_name: Mapped[str] = mapped_column(String(80))
    password_hash: Mapped[str | None] = mapped_column(String(255))
    must_change_password: Mapped[bool] = mapped_column(Boolean(create_constraint=False), default=False)
    is_site_administrator: Mapped[bool] = mapped_column(Boolean(create_constraint=False), default=False)
    created_at: Mapped[datetime] = mapped_column(UtcDateTime)
    deleted_at: Mapped[datetime | None] = mapped_column(UtcDateTime)
    #: Counts this person's issued problems; with the person it gives each problem its seed.
    problems_issued: Mapped[int] = mapped_column(Integer, default=0)
    #: Counts this person's graded answers; orders the replay.
    answers_given: Mapped[int] = mapped_column(Integer, default=0)


class SignInSession(Base):
    """One signed-in browser. The cookie holds a random token, this row its SHA-256."""

    __tablename__ = "sign_in_session"
    __table_args__ = (
        UniqueConstraint("token_hash"),
        Index("ix_sign_in_session_person_id", "person_id"),
    )

    token_hash: Mapped[str] = mapped_column(String(64))
    person_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id", ondelete="CASCADE"))
    created_at: Mapped[datetime] = mapped_column(UtcDateTime)
    last_seen_at: Mapped[datetime] = mapped_column(UtcDateTime)
    expires_at: Mapped[datetime] = mapped_column(UtcDateTime)
    revoked_at: Mapped[datetime | None] = mapped_column(UtcDateTime)
    device: Mapped[str] = mapped_column(String(120), default="")


class SignInAttempt(Base):
    """How often sign-in or joining failed for one subject (a name, an address, both) in one stretch of time."""

    __tablename__ = "sign_in_attempt"
    __table_args__ = (
        UniqueConstraint("subject", "window_start"),
        CheckConstraint("failures >= 0", name="failures_not_negative"),
    )

    subject: Mapped[str] = mapped_column(String(80))
    window_start: Mapped[datetime] = mapped_column(UtcDateTime)
    failures: Mapped[int] = mapped_column(Integer, default=0)


class Group(Base):
    """A class of a school or a crew of a shop."""

    __tablename__ = "study_group"
    __table_args__ = (
        UniqueConstraint("public_id"),
        UniqueConstraint("join_code"),
        CheckConstraint(one_of("kind", "class", "crew"), name="kind"),
        CheckConstraint("length(name) BETWEEN 1 AND 120", name="name_length"),
        Index("ix_study_group_organisation_id", "organisation_id"),
    )

    public_id: Mapped[str] = mapped_column(String(22), default=new_public_id)
    organisation_id: Mapped[int] = mapped_column(BigKey, ForeignKey("organisation.id"))
    kind: Mapped[str] = mapped_column(String(8))
    name: Mapped[str] = mapped_column(String(120))
    #: None while joining is closed.
    join_code: Mapped[str | None] = mapped_column(String(12))
    created_at: Mapped[datetime] = mapped_column(UtcDateTime)
    archived_at: Mapped[datetime | None] = mapped_column(UtcDateTime)


class Membership(Base):
    """
    A person's role in a group, or in a whole organisation (`group_id` None), for a time.

    An owner's membership is of the organisation. An instructor or foreman has one of the organisation, which lets
    him make groups, and one of each group that he leads.
    """

    __tablename__ = "membership"
    __table_args__ = (
        CheckConstraint(one_of("role", "learner", "instructor", "foreman", "owner"), name="role"),
        CheckConstraint("role <> 'learner' OR group_id IS NOT NULL", name="learner_has_group"),
        CheckConstraint("role <> 'owner' OR group_id IS NULL", name="owner_of_organisation"),
        CheckConstraint("ended_at IS NULL OR ended_at >= started_at", name="ends_after_start"),
        Index("ix_membership_person_id", "person_id"),
        Index("ix_membership_group_id", "group_id"),
        Index("ix_membership_organisation_id", "organisation_id"),
        Index(
            "uq_membership_open_in_group",
            "person_id",
            "group_id",
            "role",
            unique=True,
            sqlite_where=text("ended_at IS NULL AND group_id IS NOT NULL"),
            postgresql_where=text("ended_at IS NULL AND group_id IS NOT NULL"),
        ),
    )

    person_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))
    organisation_id: Mapped[int] = mapped_column(BigKey, ForeignKey("organisation.id"))
    group_id: Mapped[int | None] = mapped_column(BigKey, ForeignKey("study_group.id"))
    role: Mapped[str] = mapped_column(String(12))
    started_at: Mapped[datetime] = mapped_column(UtcDateTime)
    ended_at: Mapped[datetime | None] = mapped_column(UtcDateTime)


class Share(Base):
    """What a person lets the leaders of a group see, for a time."""

    __tablename__ = "share"
    __table_args__ = (
        CheckConstraint(one_of("what", "assigned", "readiness", "practice"), name="what"),
        CheckConstraint("ended_at IS NULL OR ended_at >= started_at", name="ends_after_start"),
        Index("ix_share_group_id", "group_id"),
        Index(
            "uq_share_open",
            "person_id",
            "group_id",
            "what",
            unique=True,
            sqlite_where=text("ended_at IS NULL"),
            postgresql_where=text("ended_at IS NULL"),
        ),
    )

    person_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))
    group_id: Mapped[int] = mapped_column(BigKey, ForeignKey("study_group.id"))
    what: Mapped[str] = mapped_column(String(12))
    started_at: Mapped[datetime] = mapped_column(UtcDateTime)
    ended_at: Mapped[datetime | None] = mapped_column(UtcDateTime)


class ContentVersion(Base):
    """A problem family or lesson as it stood when it was first used. `rules_hash` carries statistics, `words_hash` not."""

    __tablename__ = "content_version"
    __table_args__ = (
        UniqueConstraint("kind", "rules_hash", "words_hash"),
        CheckConstraint(one_of("kind", "family", "lesson"), name="kind"),
        Index("ix_content_version_content_id", "content_id"),
    )

    kind: Mapped[str] = mapped_column(String(8))
    content_id: Mapped[str] = mapped_column(String(80))
    organisation_id: Mapped[int | None] = mapped_column(BigKey, ForeignKey("organisation.id"))
    rules_hash: Mapped[str] = mapped_column(String(64))
    words_hash: Mapped[str] = mapped_column(String(64))
    body: Mapped[str] = mapped_column(Text)
    first_used_at: Mapped[datetime] = mapped_column(UtcDateTime)


class AssignedWork(Base):
    """A list of problem families given to a group, with a date."""

    __tablename__ = "assigned_work"
    __table_args__ = (
        UniqueConstraint("public_id"),
        CheckConstraint(one_of("kind", "room", "home", "paper"), name="kind"),
        CheckConstraint("length(title) BETWEEN 1 AND 120", name="title_length"),
        Index("ix_assigned_work_group_id", "group_id"),
    )

    public_id: Mapped[str] = mapped_column(String(22), default=new_public_id)
    group_id: Mapped[int] = mapped_column(BigKey, ForeignKey("study_group.id"))
    given_by_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))
    kind: Mapped[str] = mapped_column(String(8), default="home")
    title: Mapped[str] = mapped_column(String(120))
    edition: Mapped[str] = mapped_column(String(4))
    due_at: Mapped[datetime] = mapped_column(UtcDateTime)
    created_at: Mapped[datetime] = mapped_column(UtcDateTime)
    withdrawn_at: Mapped[datetime | None] = mapped_column(UtcDateTime)


class AssignedFamily(Base):
    """One line of assigned work: a family, pinned to the version it had when it was given."""

    __tablename__ = "assigned_family"
    __table_args__ = (
        UniqueConstraint("assigned_work_id", "position"),
        CheckConstraint("position >= 1", name="position_from_one"),
    )

    assigned_work_id: Mapped[int] = mapped_column(BigKey, ForeignKey("assigned_work.id"))
    position: Mapped[int] = mapped_column(Integer)
    content_version_id: Mapped[int] = mapped_column(BigKey, ForeignKey("content_version.id"))


class Problem(Base):
    """One issued problem: with its content version and numbers it can be shown and graded again for ever."""

    __tablename__ = "problem"
    __table_args__ = (
        UniqueConstraint("public_id"),
        UniqueConstraint("code"),
        CheckConstraint(
            one_of("context", "practice", "lesson", "proof", "assigned", "placement", "paper"), name="context"
        ),
        CheckConstraint("(context = 'assigned') = (assigned_family_id IS NOT NULL)", name="assigned_has_family"),
        CheckConstraint(one_of("edition", "2017", "2020", "2023"), name="edition"),
        CheckConstraint("hints_shown >= 0", name="hints_not_negative"),
        Index("ix_problem_person_id_closed_at", "person_id", "closed_at"),
        Index("ix_problem_assigned_family_id_person_id", "assigned_family_id", "person_id"),
    )

    public_id: Mapped[str] = mapped_column(String(22), default=new_public_id)
    #: Short code for people: on the page, on paper.
    code: Mapped[str] = mapped_column(String(12))
    person_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))
    context: Mapped[str] = mapped_column(String(10))
    lesson_id: Mapped[str | None] = mapped_column(String(80))
    assigned_family_id: Mapped[int | None] = mapped_column(BigKey, ForeignKey("assigned_family.id"))
    content_version_id: Mapped[int] = mapped_column(BigKey, ForeignKey("content_version.id"))
    family_id: Mapped[str] = mapped_column(String(80))
    skill: Mapped[str] = mapped_column(String(40))
    seed: Mapped[int] = mapped_column(BigInteger)
    edition: Mapped[str] = mapped_column(String(4))
    basis: Mapped[str] = mapped_column(String(40), default="")
    #: Drawn numbers, accepted keys, mistake values, order of options: `problems.store` and `problems.restore`.
    drawn: Mapped[dict[str, Any]] = mapped_column(JSON)
    #: Why the chooser took it, as a message id with parameters, for the page.
    why: Mapped[dict[str, Any] | None] = mapped_column(JSON)
    issued_at: Mapped[datetime] = mapped_column(UtcDateTime)
    closed_at: Mapped[datetime | None] = mapped_column(UtcDateTime)
    hints_shown: Mapped[int] = mapped_column(Integer, default=0)
    steps_shown: Mapped[bool] = mapped_column(Boolean(create_constraint=False), default=False)


class Answer(Base):
    """One answer as typed, and what the skill update used. Only ever added."""

    __tablename__ = "answer"
    __table_args__ = (
        UniqueConstraint("person_id", "answer_key"),
        UniqueConstraint("person_id", "sequence"),
        UniqueConstraint("problem_id", "attempt"),
        CheckConstraint("attempt >= 1", name="attempt_from_one"),
        CheckConstraint("weight >= 0 AND weight <= 1", name="weight_range"),
        CheckConstraint("days >= 0", name="days_not_negative"),
        CheckConstraint("length(typed) <= 400", name="typed_length"),
    )

    problem_id: Mapped[int] = mapped_column(BigKey, ForeignKey("problem.id"))
    person_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))
    #: UUID from the form: the same form sent twice is one answer.
    answer_key: Mapped[str] = mapped_column(String(36))
    #: Which answer of this person, over all problems.
    sequence: Mapped[int] = mapped_column(Integer)
    #: Which try at this problem.
    attempt: Mapped[int] = mapped_column(Integer)
    typed: Mapped[str] = mapped_column(String(400))
    value_read: Mapped[Any | None] = mapped_column(JSON)
    hints_seen: Mapped[int] = mapped_column(Integer, default=0)
    steps_seen: Mapped[bool] = mapped_column(Boolean(create_constraint=False), default=False)
    answered_at: Mapped[datetime] = mapped_column(UtcDateTime)
    #: What the update of the skill used, so that a replay finds the same bits.
    difficulty: Mapped[float] = mapped_column(Float(53))
    chance_before: Mapped[float] = mapped_column(Float(53))
    weight: Mapped[float] = mapped_column(Float(53))
    start_level: Mapped[float] = mapped_column(Float(53))
    days: Mapped[float] = mapped_column(Float(53))
    lucky: Mapped[float] = mapped_column(Float(53))
    constants_version: Mapped[int] = mapped_column(Integer)


class Grading(Base):
    """A judgement of an answer. Only ever added; the latest counts."""

    __tablename__ = "grading"
    __table_args__ = (
        UniqueConstraint("answer_id", "sequence"),
        CheckConstraint(
            one_of("verdict", "right", "rounded-too-far", "known-mistake", "wrong-unit", "wrong", "gave-up"),
            name="verdict",
        ),
        CheckConstraint("sequence >= 1", name="sequence_from_one"),
    )

    answer_id: Mapped[int] = mapped_column(BigKey, ForeignKey("answer.id"))
    sequence: Mapped[int] = mapped_column(Integer, default=1)
    verdict: Mapped[str] = mapped_column(String(16))
    mistakes: Mapped[list[str]] = mapped_column(JSON)
    reason: Mapped[dict[str, Any] | None] = mapped_column(JSON)
    basis: Mapped[str] = mapped_column(String(16), default="")
    graded_at: Mapped[datetime] = mapped_column(UtcDateTime)
    #: Who graded by hand; None for the program.
    graded_by_id: Mapped[int | None] = mapped_column(BigKey, ForeignKey("person.id"))


class SkillState(Base):
    """Where a person stands on a skill: a fold over the gradings, kept so that one answer costs one update."""

    __tablename__ = "skill_state"
    __table_args__ = (
        UniqueConstraint("person_id", "skill"),
        CheckConstraint("variance > 0", name="variance_positive"),
        CheckConstraint("holding_days > 0", name="holding_positive"),
        CheckConstraint("counted >= 0", name="counted_not_negative"),
    )

    person_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))
    skill: Mapped[str] = mapped_column(String(40))
    level: Mapped[float] = mapped_column(Float(53))
    variance: Mapped[float] = mapped_column(Float(53))
    holding_days: Mapped[float] = mapped_column(Float(53))
    counted: Mapped[int] = mapped_column(Integer)
    last_at: Mapped[datetime | None] = mapped_column(UtcDateTime)
    #: For the chooser: `problems_issued` of the person when this skill had its last turn; its last three families.
    last_turn: Mapped[int] = mapped_column(Integer, default=0)
    recent_families: Mapped[list[str]] = mapped_column(JSON, default=list)


class FamilyDifficulty(Base):
    """Difficulty of a family's rules, learned from first tries; centred within the skill when it is read."""

    __tablename__ = "family_difficulty"
    __table_args__ = (
        UniqueConstraint("rules_hash"),
        CheckConstraint("difficulty BETWEEN -3 AND 3", name="difficulty_range"),
        Index("ix_family_difficulty_skill", "skill"),
    )

    rules_hash: Mapped[str] = mapped_column(String(64))
    family_id: Mapped[str] = mapped_column(String(80))
    skill: Mapped[str] = mapped_column(String(40))
    difficulty: Mapped[float] = mapped_column(Float(53), default=0.0)
    counted: Mapped[int] = mapped_column(Integer, default=0)


class MistakeHistory(Base):
    """A person's last six problems that could have shown a known mistake, as bits (newest lowest)."""

    __tablename__ = "mistake_history"
    __table_args__ = (
        UniqueConstraint("person_id", "family_id", "mistake_id"),
        CheckConstraint("bits BETWEEN 0 AND 63", name="six_bits"),
        CheckConstraint("seen BETWEEN 0 AND 6", name="seen_up_to_six"),
    )

    person_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))
    skill: Mapped[str] = mapped_column(String(40))
    family_id: Mapped[str] = mapped_column(String(80))
    mistake_id: Mapped[str] = mapped_column(String(80))
    bits: Mapped[int] = mapped_column(Integer, default=0)
    seen: Mapped[int] = mapped_column(Integer, default=0)
    #: Times of the last two problems answered right that could have shown it; both set on two days clears it.
    right_at: Mapped[datetime | None] = mapped_column(UtcDateTime)
    right_before_at: Mapped[datetime | None] = mapped_column(UtcDateTime)


class LessonReading(Base):
    """That a person has read a lesson to its end, and when last."""

    __tablename__ = "lesson_reading"
    __table_args__ = (UniqueConstraint("person_id", "lesson_id"),)

    person_id: Mapped[int] = mapped_column(BigKey, ForeignKey("person.id"))
    lesson_id: Mapped[str] = mapped_column(String(80))
    read_at: Mapped[datetime] = mapped_column(UtcDateTime)


class AuditLine(Base):
    """Who did what to whom, or looked at whose record, and when."""

    __tablename__ = "audit_line"
    __table_args__ = (Index("ix_audit_line_subject_id_at", "subject_id", "at"),)

    at: Mapped[datetime] = mapped_column(UtcDateTime)
    actor_id: Mapped[int | None] = mapped_column(BigKey, ForeignKey("person.id"))
    subject_id: Mapped[int | None] = mapped_column(BigKey, ForeignKey("person.id"))
    group_id: Mapped[int | None] = mapped_column(BigKey, ForeignKey("study_group.id"))
    what: Mapped[str] = mapped_column(String(60))
    detail: Mapped[dict[str, Any] | None] = mapped_column(JSON)
