"""
What is held about a person: each table that points at people is either told and given to the person, or stands in a list
with the reason; after an account is deleted no row tells whose it was.
"""

from __future__ import annotations

import csv
import re
from io import StringIO

import pytest
from sqlalchemy import String, Text, select

from trainer.accounts.people import delete_person
from trainer.records.models import Base, Person

#: Where a person finds what a column holds about him: an address of something to take along, or of a page.
GIVEN = {
    "problem.person_id": "/record/out/answers.csv",
    "key_claim.person_id": "/record/out/keys-called-wrong.csv",
    "hands_on_check.person_id": "/record/out/checks.csv",
    "field_finding.person_id": "/record/out/findings.csv",
    "registration.person_id": "/record/out/registrations.csv",
    "audit_line.subject_id": "/record/out/noted.csv",
    "job_hours.person_id": "/hours.csv",
    "attendance.person_id": "/hours.csv",
    "lesson_reading.person_id": "/hours.csv",
    "skill_state.person_id": "/record/out/skills.csv",
    "mistake_history.person_id": "/record/out/skills.csv",
    "proof_run.person_id": "/record/out/proof-runs.csv",
    "placement_run.person_id": "/record/out/placement-runs.csv",
    "work_extension.person_id": "/record/out/more-time.csv",
    "result_mark.person_id": "/record/out/points-by-hand.csv",
    "membership.person_id": "/account/held",
    "share.person_id": "/account/held",
    "calendar_feed.person_id": "/account/calendar",
    "sign_in_session.person_id": "/account/devices",
    "second_factor.person_id": "/account/second-factor",
    "recovery_code.person_id": "/account/second-factor",
}
#: What somebody did for or about others: part of their record, in which the name of who did it stands.
DID = {
    "audit_line.actor_id",
    "key_ruling.ruled_by_id",
    "problem_set.made_by_id",
    "proof_run.watched_by_id",
    "registration.entered_by_id",
    "shoe.measured_by_id",
    "signer.named_by_id",
    "assigned_work.given_by_id",
    "class_day.noted_by_id",
    "field_finding.reported_by_id",
    "hands_on_check.issued_by_id",
    "job_hours.decided_by_id",
    "membership.added_by_id",
    "proof_sitting.watcher_id",
    "attendance.noted_by_id",
    "check_photo.added_by_id",
    "check_signing.signed_by_id",
    "check_withdrawal.withdrawn_by_id",
    "finding_photo.added_by_id",
    "work_extension.given_by_id",
    "result_mark.set_by_id",
    "key_claim.answered_by_id",
    "grading.graded_by_id",
}
#: Neither told nor given by the program, each with its reason.
NOT_GIVEN = {
    "half_sign_in.person_id": "a sign-in that waits for its code: gone within minutes",
    "outside_account.person_id": "a page of the account shows it, on a site that has a sign-in elsewhere",
    "signer.person_id": "of the staff: the owner's page of signers shows it, and each check that was signed under it",
}
#: Whose rows the populated learner has: their file or page has to hold something.
FILLED = {
    "problem",
    "key_claim",
    "hands_on_check",
    "field_finding",
    "registration",
    "audit_line",
    "job_hours",
    "attendance",
}


def columns_about_people():
    return {
        f"{table.name}.{column.name}"
        for table in Base.metadata.sorted_tables
        for column in table.columns
        if any(foreign.column.table.name == "person" for foreign in column.foreign_keys) or column.name == "person_id"
    }


def test_every_table_that_points_at_people_is_given_to_them_or_says_why_not():
    # Answers hang on problems by a key of two columns, and so do a few others.
    assert columns_about_people() - {"answer.person_id"} == {*GIVEN, *DID, *NOT_GIVEN}


@pytest.mark.parametrize("address", sorted(set(GIVEN.values())))
def test_a_learner_opens_what_is_named_and_finds_something(site, address):
    answer = site.visit("learner", "GET", address)

    assert answer.status == 200
    holders = {column.partition(".")[0] for column, where in GIVEN.items() if where == address}
    if address.endswith(".csv") and holders & FILLED:
        assert len(list(csv.reader(StringIO(answer.sent.decode("utf-8-sig"))))) > 1


def test_nobody_else_is_in_what_a_learner_takes_along(site):
    others = ("Sibling Person", "Far Learner Person", "Left Person")
    for address in sorted(set(GIVEN.values())):
        text = site.visit("learner", "GET", address).text

        assert not [name for name in others if name in text], address


def test_a_deleted_account_leaves_no_row_that_tells_whose_it_was(site):
    tell = ["Learner Person", "Apprentice, 815", "Stub-ups", "Two offsets lean", "The sine goes below", "A browser"]
    with site.undone(), site.app.extensions["trainer.database"].write() as session:
        learner, others = site.made.people["learner"], [site.made.people[who] for who in ("sibling", "far-learner")]
        for person in (learner, *others):
            assert tell_tales(session, tell)
            delete_person(session, person, site.clock.now)
        # What the rest of the staff's browsers are called is theirs.
        gone = tell_tales(session, tell[:-1])
        assert not gone, gone
        assert session.get(Person, learner).sign_in_name is None
        assert not session.scalars(
            select(Base.metadata.tables["sign_in_session"].c.id).where(
                Base.metadata.tables["sign_in_session"].c.person_id == learner
            )
        ).all()


def tell_tales(session, words):
    """Where one of these words stands in the whole database."""
    found = []
    for table in Base.metadata.sorted_tables:
        texts = [column for column in table.columns if isinstance(column.type, String | Text)]
        for row in session.execute(select(*texts)) if texts else ():
            found += [(table.name, word) for word in words for text in row if word in str(text or "")]
    return found


def test_no_page_fetches_anything_from_elsewhere(site, parts):
    fetched = re.compile(
        r"<(?:script|link|img|iframe|source|video|audio|object|embed)\b[^>]*?(?:src|href|data)=\"([^\"]*)\""
    )
    seen, others = 0, []
    for rule in site.app.url_map.iter_rules():
        path = parts.address(rule, site.ids["own"])
        if "GET" in rule.methods and not path.endswith(".pdf"):
            who = "learner" if rule.endpoint.startswith(("learn.", "bench.")) else "owner"
            found = fetched.findall(site.visit(who, "GET", path).text)
            seen += len(found)
            others += [(rule.endpoint, one) for one in found if not re.match(r"/(?!/)|data:", one)]

    assert seen > 150
    assert not others
