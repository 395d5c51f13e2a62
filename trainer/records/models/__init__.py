"""
The tables, typed. Nothing above `records`, `accounts`, `library`, `progress` and `groups` knows them.

Times are UTC (`UtcDateTime`). Keys inside are integers; addresses and codes carry a random `public_id`.
Rows of answers, gradings and audit lines are only ever added. Rules that the program keeps are kept by the database
too: every constraint has a name, and `tests/records/test_constraints.py` has the database refuse each breach.
"""

from __future__ import annotations

from trainer.records.models.audit import AuditLine
from trainer.records.models.base import Base
from trainer.records.models.content import AssignedFamily, AssignedWork, ContentVersion
from trainer.records.models.field import FieldFinding
from trainer.records.models.groups import Group, Membership, Share
from trainer.records.models.hands_on import CheckSigning, CheckWithdrawal, HandsOnCheck, Registration, Signer
from trainer.records.models.hours import Attendance, ClassDay, JobHours, WorkProcess
from trainer.records.models.job_types import JobType, JobTypeCheck, JobTypeSkill
from trainer.records.models.keys import KeyClaim, KeyRuling, ResultMark
from trainer.records.models.people import CalendarFeed, Organisation, Person, SignInSession, Site, SiteKey, Throttle
from trainer.records.models.photos import CheckPhoto, FindingPhoto
from trainer.records.models.placement import PlacementRun
from trainer.records.models.problems import Answer, Grading, Problem
from trainer.records.models.proof import ProofRun, ProofSitting
from trainer.records.models.second_steps import HalfSignIn, OutsideAccount, RecoveryCode, SecondFactor
from trainer.records.models.sets import ProblemSet, ProblemSetLine, WorkExtension
from trainer.records.models.shoes import ShopShoe
from trainer.records.models.skills import FamilyDifficulty, LessonReading, MistakeHistory, QuestionCount, SkillState

__all__ = [
    "Answer",
    "AssignedFamily",
    "AssignedWork",
    "Attendance",
    "AuditLine",
    "Base",
    "CalendarFeed",
    "CheckPhoto",
    "CheckSigning",
    "CheckWithdrawal",
    "ClassDay",
    "ContentVersion",
    "FamilyDifficulty",
    "FieldFinding",
    "FindingPhoto",
    "Grading",
    "Group",
    "HalfSignIn",
    "HandsOnCheck",
    "JobHours",
    "JobType",
    "JobTypeCheck",
    "JobTypeSkill",
    "KeyClaim",
    "KeyRuling",
    "LessonReading",
    "Membership",
    "MistakeHistory",
    "Organisation",
    "OutsideAccount",
    "Person",
    "PlacementRun",
    "Problem",
    "ProblemSet",
    "ProblemSetLine",
    "ProofRun",
    "ProofSitting",
    "QuestionCount",
    "RecoveryCode",
    "Registration",
    "ResultMark",
    "SecondFactor",
    "Share",
    "ShopShoe",
    "SignInSession",
    "Signer",
    "Site",
    "SiteKey",
    "SkillState",
    "Throttle",
    "WorkExtension",
    "WorkProcess",
]
