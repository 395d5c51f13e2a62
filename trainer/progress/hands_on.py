"""
Hands-on checks as they stand: what was set, what each judge measured and signed, and whether it counts.

A check counts when it is signed, every judge who signed it passed it, and it is not withdrawn. Who signed it while named
keeps it valid: a naming that ends later, or a licence that runs out later, is shown beside the signature and takes
nothing back. Only a withdrawal with its reason does.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from datetime import date, datetime

from msgspec import Struct
from sqlalchemy import ColumnElement, and_, select
from sqlalchemy.orm import Session, aliased

from trainer.problems.hands_on import Judgement, Reading, Sheet, agreement, judge
from trainer.progress.photos import Photo, photos_of_checks
from trainer.records.models import CheckSigning, CheckWithdrawal, Group, HandsOnCheck, Organisation, Person, Signer

__all__ = ["Check", "Signing", "Withdrawal", "checks_where", "own_checks", "signed_checks_of_people", "tally"]


class Signing(Struct, frozen=True):
    """
    One judge's signature.

    Args:
        judge: 1, or 2 for the second judge.
        signed_by_id: Key of the person who signed.
        signed_by: Name; stripped once that person is deleted.
        signed_at: When, in UTC.
        licence: The licence or registration under which it was signed.
        expires_on: The last day of that licence.
        naming_ended_at: When the owner ended the naming; None while the person still is named for the kind.
        measured: What was measured, by id of the value.
        steps: Whether each step was done so, by id.
        judgement: What came of it.
        note: What the judge added.
    """

    judge: int
    signed_by_id: int
    signed_by: str
    signed_at: datetime
    licence: str
    expires_on: date
    naming_ended_at: datetime | None
    measured: Mapping[str, Reading]
    steps: Mapping[str, bool]
    judgement: Judgement
    note: str


class Withdrawal(Struct, frozen=True):
    """That a signed check counts no longer: why, by whom and when."""

    reason: str
    by: str
    at: datetime


class Check(Struct, frozen=True):
    """
    One check.

    Args:
        public_id: The check in addresses.
        person_id: Key of the learner.
        person: Public id of the learner.
        display_name: The learner's name.
        group: Name of the class or crew.
        time_zone: Of the organisation.
        sheet: What was set.
        issued_at: When, in UTC.
        dropped_at: When it was put aside unsigned; else None.
        signings: Signatures, the first judge's first.
        withdrawal: Why it counts no longer; else None.
        photos: Its photographs, the first one first.
    """

    public_id: str
    person_id: int
    person: str
    display_name: str
    group: str
    time_zone: str
    sheet: Sheet
    issued_at: datetime
    dropped_at: datetime | None
    signings: tuple[Signing, ...]
    withdrawal: Withdrawal | None
    photos: tuple[Photo, ...] = ()

    @property
    def state(self) -> str:
        """One of "open", "dropped", "withdrawn", "passed", "not-passed" and "disagreed"."""
        if self.withdrawal:
            return "withdrawn"
        if not self.signings:
            return "dropped" if self.dropped_at else "open"
        verdicts = {one.judgement.passed for one in self.signings}
        return "disagreed" if len(verdicts) > 1 else "passed" if verdicts == {True} else "not-passed"

    @property
    def agreed(self) -> tuple[int, int] | None:
        """On how many points two judges say the same, and how many there are; None with one judge."""
        if len(self.signings) < 2:
            return None
        return agreement(self.sheet, *(one.judgement for one in self.signings))


def own_checks(session: Session, person_id: int) -> list[Check]:
    """All checks of a person that were not put aside, the newest first."""
    return checks_where(session, HandsOnCheck.person_id == person_id, HandsOnCheck.dropped_at.is_(None))


def checks_where(session: Session, *conditions: ColumnElement[bool], most: int = 500) -> list[Check]:
    """The checks that meet the conditions, the newest first; three queries however many there are."""
    withdrew = aliased(Person)
    query = (
        select(HandsOnCheck, Person, Group.name, Organisation.time_zone, CheckWithdrawal, withdrew.display_name)
        .join(Person, Person.id == HandsOnCheck.person_id)
        .join(Group, Group.id == HandsOnCheck.group_id)
        .join(Organisation, Organisation.id == HandsOnCheck.organisation_id)
        .outerjoin(CheckWithdrawal, CheckWithdrawal.check_id == HandsOnCheck.id)
        .outerjoin(withdrew, withdrew.id == CheckWithdrawal.withdrawn_by_id)
        .where(*conditions)
        .order_by(HandsOnCheck.issued_at.desc(), HandsOnCheck.id.desc())
        .limit(most)
    )
    rows = session.execute(query).all()
    sheets = {row.id: Sheet.from_json(row.sheet) for row, *_ in rows}
    signings = _signings(session, sheets)
    photos = photos_of_checks(session, sheets)
    return [
        Check(
            row.public_id,
            row.person_id,
            person.public_id,
            person.display_name,
            group,
            zone,
            sheets[row.id],
            row.issued_at,
            row.dropped_at,
            tuple(signings.get(row.id, ())),
            Withdrawal(withdrawal.reason, by, withdrawal.withdrawn_at) if withdrawal else None,
            photos.get(row.id, ()),
        )
        for row, person, group, zone, withdrawal, by in rows
    ]


def signed_checks_of_people(
    session: Session, people: Collection[int], *, organisation_id: int | None = None
) -> dict[tuple[int, str, str], datetime]:
    """
    When each person last passed each kind of check in each trade size: (person's key, kind, trade size) to the time of the
    first judge's signature. One query however many people there are.

    The caller has made sure that these people's readiness is open to whom it is shown.

    Args:
        session: A session.
        people: Keys of the people.
        organisation_id: Only what people signed whom this organisation's owner has named; None for every organisation.
    """
    query = (
        select(
            HandsOnCheck.id,
            HandsOnCheck.person_id,
            HandsOnCheck.kind,
            HandsOnCheck.trade_size,
            CheckSigning.signed_at,
            CheckSigning.judge,
            CheckSigning.passed,
        )
        .join(CheckSigning, CheckSigning.check_id == HandsOnCheck.id)
        .outerjoin(CheckWithdrawal, CheckWithdrawal.check_id == HandsOnCheck.id)
        .where(HandsOnCheck.person_id.in_(people), CheckWithdrawal.id.is_(None))
        .order_by(CheckSigning.signed_at)
    )
    if organisation_id is not None:
        query = query.where(HandsOnCheck.organisation_id == organisation_id)
    rows = session.execute(query).all()
    failed = {check for check, *_, passed in rows if not passed}
    return {
        (person, kind, size): at
        for check, person, kind, size, at, judge_, _ in rows
        if check not in failed and judge_ == 1
    }


def _signings(session: Session, sheets: Mapping[int, Sheet]) -> dict[int, list[Signing]]:
    still = aliased(Signer)
    named = and_(
        still.organisation_id == Signer.organisation_id,
        still.person_id == Signer.person_id,
        still.kind == Signer.kind,
        still.ended_at.is_(None),
    )
    query = (
        select(CheckSigning, Person.display_name, Signer, still.id)
        .join(Signer, Signer.id == CheckSigning.signer_id)
        .join(Person, Person.id == CheckSigning.signed_by_id)
        .outerjoin(still, named)
        .where(CheckSigning.check_id.in_(sheets))
        .order_by(CheckSigning.check_id, CheckSigning.judge)
    )
    found: dict[int, list[Signing]] = {}
    for row, name, signer, open_naming in session.execute(query) if sheets else ():
        ended = None if open_naming is not None else signer.ended_at
        found.setdefault(row.check_id, []).append(_signing(row, name, signer, ended, sheets[row.check_id]))
    return found


def _signing(row: CheckSigning, name: str, signer: Signer, ended: datetime | None, sheet: Sheet) -> Signing:
    measured = {id_: Reading(**one) for id_, one in row.measured.items()}
    judged = judge(sheet, measured, row.steps)
    # What was signed stands, whatever the rule of passing is today.
    as_signed = Judgement(row.passed, judged.out_of_limit, judged.not_done, judged.critical)
    return Signing(
        row.judge,
        row.signed_by_id,
        name,
        row.signed_at,
        signer.licence,
        signer.expires_on,
        ended,
        measured,
        row.steps,
        as_signed,
        row.note,
    )


def tally(checks: Sequence[Check]) -> list[tuple[str, str, int, int]]:
    """
    Misses by kind: title of the kind, what was missed, in how many checks of how many signed ones; the most frequent first.

    The first judge's word counts; withdrawn checks are left out.
    """
    signed = [one for one in checks if one.signings and not one.withdrawal]
    of: dict[str, int] = {}
    missed: dict[tuple[str, str], int] = {}
    for one in signed:
        of[one.sheet.title] = of.get(one.sheet.title, 0) + 1
        said = {part.id: part.label for part in one.sheet.measured} | {part.id: part.say for part in one.sheet.steps}
        for miss in one.signings[0].judgement.misses:
            missed[one.sheet.title, said[miss]] = missed.get((one.sheet.title, said[miss]), 0) + 1
    rows = [(title, what, count, of[title]) for (title, what), count in missed.items()]
    return sorted(rows, key=lambda row: (row[0], -row[2], row[1]))
