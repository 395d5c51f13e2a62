"""
The database itself refuses what the rules forbid.

The tests walk the models: a new constraint without a breach here fails. Each breach changes one of the example rows.
"""

from __future__ import annotations

import shutil
from datetime import datetime

import pytest
from sqlalchemy import CheckConstraint, ForeignKeyConstraint, UniqueConstraint, insert, null
from sqlalchemy.exc import DataError, IntegrityError

from trainer.records.engine import Database
from trainer.records.migrate import revisions
from trainer.records.models import Base

EARLY = "2020-01-01T00:00:00+00:00"
TABLES = Base.metadata.tables

#: What makes a second row of each table differ from the first wherever rows must differ.
OTHER = {
    "site": {},
    "site_key": {},
    "organisation": {"public_id": "other"},
    "person": {"public_id": "other", "sign_in_name": "other.name"},
    "sign_in_session": {"public_id": "other", "token_hash": "ff"},
    "calendar_feed": {"token_hash": "ff"},
    "second_factor": {"person_id": 2},
    "recovery_code": {"tag": "zzzz"},
    "half_sign_in": {"token_hash": "ff"},
    "outside_account": {"subject": "other"},
    "throttle": {"subject": "ff"},
    "study_group": {"public_id": "other", "join_code": "OTHER234"},
    "membership": {"person_id": 2},
    "share": {"what": "practice"},
    "content_version": {"rules_hash": "ff", "words_hash": "ff"},
    "assigned_work": {"public_id": "other", "form_key": "other"},
    "assigned_family": {"position": 2},
    "problem": {"public_id": "other", "code": "OTHER234"},
    "answer": {"answer_key": "other", "sequence": 2, "attempt": 2},
    "grading": {"sequence": 2},
    "skill_state": {"skill": "other"},
    "family_difficulty": {"rules_hash": "ff"},
    "question_count": {"rules_hash": "ff"},
    "mistake_history": {"mistake_id": "other"},
    "lesson_reading": {"lesson_id": "other"},
    "audit_line": {},
    "shoe": {"public_id": "other", "name": "other"},
    "proof_run": {"public_id": "other", "skill": "other"},
    "proof_sitting": {"run_id": 2},
    "placement_run": {"person_id": 2},
    "signer": {"public_id": "other", "kind": "other"},
    "hands_on_check": {"public_id": "other"},
    "check_signing": {"check_id": 2, "judge": 1, "signed_by_id": 1},
    "check_withdrawal": {"check_id": 2},
    "registration": {"public_id": "other"},
    "job_type": {"public_id": "other", "name": "other"},
    "job_type_skill": {"skill": "other"},
    "job_type_check": {"trade_size": "2"},
    "field_finding": {"public_id": "other"},
    "finding_photo": {"public_id": "other"},
    "check_photo": {"public_id": "other"},
    "job_hours": {"public_id": "other"},
    "class_day": {"public_id": "other"},
    "attendance": {"person_id": 2},
    "work_process": {"key": "other"},
    "key_claim": {"public_id": "other", "problem_id": 2},
    "key_ruling": {"sequence": 2},
    "result_mark": {"sequence": 3},
    "problem_set": {"public_id": "other", "make_key": "other"},
    "problem_set_line": {"position": 2, "family_id": "other"},
    "work_extension": {},
}

#: Rows that each check must refuse, as changes to a row that it takes.
BREACHES = {
    "ck_site_only_one": [{}],
    "ck_site_edition": [{"edition": "2011"}, {"edition": ""}],
    "ck_site_key_only_one": [{}],
    "ck_site_key_digest_length": [{"id": 1, "digest": "short"}],
    "ck_organisation_kind": [{"kind": "club"}],
    "ck_organisation_name_length": [{"name": ""}, {"name": "x" * 121}],
    "ck_organisation_basis": [{"basis": "guess"}],
    "ck_person_sign_in_name_lower": [{"sign_in_name": "Kim.Park"}],
    "ck_person_sign_in_name_length": [{"sign_in_name": "ab"}, {"sign_in_name": "a" * 41}],
    "ck_person_display_name_length": [{"display_name": ""}, {"display_name": "x" * 81}],
    "ck_person_named_until_deleted": [
        {"sign_in_name": None},
        {"deleted_at": "2026-11-01T00:00:00+00:00", "password_hash": None},
    ],
    "ck_person_deleted_cannot_sign_in": [
        {"deleted_at": "2026-11-01T00:00:00+00:00", "sign_in_name": None},
        {
            "deleted_at": "2026-11-01T00:00:00+00:00",
            "sign_in_name": None,
            "password_hash": None,
            "is_site_administrator": True,
        },
    ],
    "ck_person_problems_issued_not_negative": [{"problems_issued": -1}],
    "ck_person_answers_given_not_negative": [{"answers_given": -1}],
    "ck_person_rebuilt_not_negative": [{"rebuilt": -1}],
    "ck_sign_in_session_expires_after_creation": [{"expires_at": EARLY}],
    "ck_calendar_feed_ends_after_making": [{"ended_at": EARLY}],
    "ck_second_factor_confirmed_after_begin": [{"confirmed_at": EARLY}],
    "ck_second_factor_confirmed_by_a_code": [{"confirmed_at": None}, {"last_step": None}],
    "ck_recovery_code_tag_length": [{"tag": "abc"}],
    "ck_recovery_code_used_after_making": [{"used_at": EARLY}],
    "ck_half_sign_in_expires_after_creation": [{"expires_at": EARLY}],
    "ck_outside_account_issuer_length": [{"issuer": ""}, {"issuer": "x" * 256}],
    "ck_outside_account_subject_length": [{"subject": ""}, {"subject": "x" * 256}],
    "ck_throttle_level_not_negative": [{"level": -0.5}],
    "ck_throttle_expires_after_update": [{"expires_at": EARLY}],
    "ck_study_group_kind": [{"kind": "club"}],
    "ck_study_group_name_length": [{"name": ""}, {"name": "x" * 121}],
    "ck_study_group_sample_cannot_be_joined": [{"is_sample": True}],
    "ck_study_group_archived_cannot_be_joined": [{"archived_at": "2026-11-01T00:00:00+00:00"}],
    "ck_membership_told_when_added": [{"told_at": "2026-11-01T00:00:00+00:00"}],
    "ck_membership_roster_name_length": [{"roster_name": ""}, {"roster_name": "x" * 81}],
    "ck_membership_roster_number_length": [{"roster_number": ""}, {"roster_number": "x" * 41}],
    "ck_membership_role": [{"role": "guest"}],
    "ck_membership_learner_has_group": [{"group_id": None}],
    "ck_membership_owner_of_organisation": [{"role": "owner"}],
    "ck_membership_ends_after_start": [{"ended_at": EARLY}],
    "ck_share_what": [{"what": "everything"}],
    "ck_share_ends_after_start": [{"ended_at": EARLY}],
    "ck_content_version_kind": [{"kind": "video"}],
    "ck_assigned_work_kind": [{"kind": "roof"}],
    "ck_assigned_work_title_length": [{"title": ""}, {"title": "x" * 121}],
    "ck_assigned_work_only_a_room_opens": [{"opened_at": "2026-11-01T00:00:00+00:00"}],
    "ck_assigned_work_shared_seed_not_negative": [{"shared_seed": -1}],
    "ck_assigned_family_position_from_one": [{"position": 0}],
    "ck_problem_set_name_length": [{"name": ""}, {"name": "x" * 121}],
    "ck_problem_set_changed_after_making": [{"changed_at": EARLY}],
    "ck_problem_set_put_away_after_making": [{"put_away_at": EARLY}],
    "ck_problem_set_line_position_from_one": [{"position": 0}],
    "ck_problem_set_line_asked_range": [{"asked": 0}, {"asked": 11}],
    "ck_work_extension_reason_length": [{"reason": ""}, {"reason": "x" * 201}],
    "ck_work_extension_ends_after_giving": [{"ends_at": EARLY}],
    "ck_problem_context": [{"context": "dream", "assigned_family_id": None}],
    "ck_problem_assigned_has_family": [{"assigned_family_id": None}, {"context": "practice"}],
    "ck_problem_edition": [{"edition": "2011"}],
    "ck_problem_hints_not_negative": [{"hints_shown": -1}],
    "ck_problem_run_is_proof": [{"proof_run_id": 1}],
    "ck_problem_run_is_placement": [{"placement_run_id": 1}],
    "ck_placement_run_ends_with_picture": [{"picture": {}}, {"ended_at": "2026-11-01T00:00:00+00:00"}],
    "ck_placement_run_ends_after_start": [{"ended_at": EARLY, "picture": {}}],
    "ck_proof_run_line": [{"line": "soft"}],
    "ck_proof_run_outcome": [{"outcome": "maybe", "ended_at": "2026-11-01T00:00:00+00:00"}],
    "ck_proof_run_ends_with_outcome": [{"outcome": "ready"}, {"ended_at": "2026-11-01T00:00:00+00:00"}],
    "ck_proof_run_ends_after_start": [{"ended_at": EARLY, "outcome": "ready"}],
    "ck_proof_run_ready_at_positive": [{"ready_at": 0.0}],
    "ck_proof_run_counted_not_negative": [{"counted": -1}],
    "ck_proof_sitting_ends_after_opening": [{"ends_at": EARLY}],
    "ck_proof_sitting_ended_after_opening": [{"ended_at": EARLY}],
    "ck_job_type_name_length": [{"name": ""}, {"name": "x" * 121}],
    "ck_job_type_supervision_length": [{"supervision": ""}, {"supervision": "x" * 401}],
    "ck_job_type_valid_days_positive": [{"valid_days": 0}],
    "ck_job_type_registration": [{"registration": "diploma"}, {"registration": ""}],
    "ck_job_type_skill_line": [{"line": "soft"}],
    "ck_answer_attempt_from_one": [{"attempt": 0}],
    "ck_answer_weight_range": [{"weight": -0.1}, {"weight": 1.1}],
    "ck_answer_days_not_negative": [{"days": -0.1}],
    "ck_answer_typed_length": [{"typed": "1" * 401}],
    "ck_grading_verdict": [{"verdict": "nearly"}],
    "ck_grading_sequence_from_one": [{"sequence": 0}],
    "ck_skill_state_variance_positive": [{"variance": 0.0}],
    "ck_skill_state_holding_positive": [{"holding_days": 0.0}],
    "ck_skill_state_counted_not_negative": [{"counted": -1}],
    "ck_skill_state_lapsed_by_last": [{"lapsed_at": "2026-12-01T12:00:00+00:00"}],
    "ck_question_count_what": [{"what": "other"}],
    "ck_question_count_no_more_hits_than_counted": [{"hits": 10}, {"hits": -1}],
    "ck_family_difficulty_difficulty_range": [{"difficulty": -3.1}, {"difficulty": 3.1}],
    "ck_mistake_history_six_bits": [{"bits": -1}, {"bits": 64}],
    "ck_mistake_history_seen_up_to_six": [{"seen": -1}, {"seen": 7}],
    "ck_shoe_name_length": [{"name": ""}, {"name": "x" * 61}],
    "ck_shoe_trade_size": [{"trade_size": "5"}, {"trade_size": ""}],
    "ck_shoe_take_up_positive": [{"take_up": 0.0}],
    "ck_shoe_outside_gain_positive": [{"outside_gain": 0.0}],
    "ck_shoe_radius_positive": [{"radius": -0.5}],
    "ck_shoe_back_mark_positive": [{"back_mark": 0.0}],
    "ck_shoe_ends_after_measuring": [{"ended_at": EARLY}],
    "ck_signer_licence_length": [{"licence": ""}, {"licence": "x" * 121}],
    "ck_signer_ends_after_naming": [{"ended_at": EARLY}],
    "ck_hands_on_check_dropped_after_issue": [{"dropped_at": EARLY}],
    "ck_check_signing_judge": [{"judge": 0}, {"judge": 3}],
    "ck_check_signing_note_length": [{"note": "x" * 401}],
    "ck_check_withdrawal_reason_length": [{"reason": ""}, {"reason": "x" * 401}],
    "ck_registration_what": [{"what": "diploma"}],
    "ck_registration_words_length": [{"words": ""}, {"words": "x" * 121}],
    "ck_registration_ends_after_entry": [{"ended_at": EARLY}],
    "ck_field_finding_kind": [{"kind": "bad-luck"}],
    "ck_field_finding_note_length": [{"note": ""}, {"note": "x" * 301}],
    "ck_field_finding_reported_by_another": [{"reported_by_id": 1}],
    "ck_field_finding_withdrawn_with_reason": [
        {"withdrawn_reason": "another man's pipe"},
        {"withdrawn_at": "2026-11-01T00:00:00+00:00"},
    ],
    "ck_field_finding_withdrawn_after_report": [{"withdrawn_at": EARLY, "withdrawn_reason": "another man's pipe"}],
    "ck_field_finding_withdrawn_reason_length": [
        {"withdrawn_at": "2026-11-01T00:00:00+00:00", "withdrawn_reason": ""},
        {"withdrawn_at": "2026-11-01T00:00:00+00:00", "withdrawn_reason": "x" * 301},
    ],
    "ck_finding_photo_image_length": [{"image": b""}, {"image": b"x" * 2_000_001}],
    "ck_finding_photo_width_range": [{"width": 0}, {"width": 1601}],
    "ck_finding_photo_height_range": [{"height": 0}, {"height": 1601}],
    "ck_finding_photo_shows_length": [{"shows": ""}, {"shows": "x" * 201}],
    "ck_check_photo_image_length": [{"image": b""}, {"image": b"x" * 2_000_001}],
    "ck_check_photo_width_range": [{"width": 0}, {"width": 1601}],
    "ck_check_photo_height_range": [{"height": 0}, {"height": 1601}],
    "ck_check_photo_shows_length": [{"shows": ""}, {"shows": "x" * 201}],
    "ck_work_process_key_length": [{"key": ""}, {"key": "x" * 41}],
    "ck_work_process_title_length": [{"title": ""}, {"title": "x" * 81}],
    "ck_work_process_required_hours_range": [{"required_hours": 0}, {"required_hours": 20_001}],
    "ck_work_process_position_from_one": [{"position": 0}],
    "ck_job_hours_quarters_range": [{"quarters": 0}, {"quarters": 97}],
    "ck_job_hours_note_length": [{"note": "x" * 201}],
    "ck_job_hours_decision": [{"decision": "maybe"}],
    "ck_job_hours_decided_at_with_decision": [{"decided_at": None}],
    "ck_job_hours_decided_by_with_decision": [{"decided_by_id": None}],
    "ck_job_hours_decided_by_another": [{"decided_by_id": 1}],
    "ck_job_hours_sent_back_with_reason": [{"decision": "sent-back"}],
    "ck_job_hours_reason_length": [{"reason": ""}, {"reason": "x" * 201}],
    "ck_job_hours_taken_back_after_entry": [{"taken_back_at": EARLY}],
    "ck_class_day_topic_length": [{"topic": ""}, {"topic": "x" * 121}],
    "ck_class_day_quarters_range": [{"quarters": 0}, {"quarters": 97}],
    "ck_key_claim_own_answer_length": [{"own_answer": ""}, {"own_answer": "x" * 201}],
    "ck_key_claim_why_length": [{"why": ""}, {"why": "x" * 601}],
    "ck_key_claim_outcome": [{"outcome": "maybe"}],
    "ck_key_claim_answered_with_outcome": [{"outcome": None}, {"answered_at": None}],
    "ck_key_claim_reply_length": [{"reply": "x" * 601}],
    "ck_key_ruling_sequence_from_one": [{"sequence": 0}],
    "ck_key_ruling_remedy": [{"remedy": "maybe", "accepts": ""}],
    "ck_key_ruling_also_accepts": [{"accepts": ""}, {"remedy": "credit"}],
    "ck_key_ruling_accepts_length": [{"accepts": "x" * 401}],
    "ck_key_ruling_reason_length": [{"reason": ""}, {"reason": "x" * 401}],
    "ck_result_mark_sequence_from_one": [{"sequence": 0}],
    "ck_result_mark_how": [{"how": "maybe"}],
    "ck_result_mark_points_unless_taken_back": [{"how": "taken-back"}, {"points": None}],
    "ck_result_mark_points_range": [{"points": -0.5}, {"points": 1.5}],
    "ck_result_mark_reason_length": [{"reason": ""}, {"reason": "x" * 301}],
}

#: A pair of keys, each of which exists, that do not belong together.
MISMATCHES = {
    "fk_membership_group_id_organisation_id": {"organisation_id": 2},
    "fk_answer_problem_id_person_id": {"person_id": 2},
    "fk_key_claim_problem_id_person_id": {"person_id": 2},
    "fk_problem_placement_run_id_person_id": {
        "placement_run_id": 1,
        "context": "placement",
        "assigned_family_id": None,
        "person_id": 2,
    },
    "fk_problem_proof_run_id_person_id": {
        "proof_run_id": 1,
        "context": "proof",
        "assigned_family_id": None,
        "person_id": 2,
    },
}

#: What a problem of each kind of run is issued for.
RUNS = {"fk_problem_proof_run_id_person_id": "proof", "fk_problem_placement_run_id_person_id": "placement"}

#: Rows that one partial unique index refuses, as changes to two example rows.
PARTIAL = {
    "uq_membership_open_in_group": ({}, {}),
    "uq_membership_open_in_organisation": (
        {"role": "owner", "group_id": None},
        {"role": "owner", "group_id": None},
    ),
    "uq_share_open": ({"what": "practice"}, {"what": "practice"}),
    "uq_calendar_feed_open": ({"token_hash": "fe", "ended_at": None}, {"ended_at": None}),
    "uq_shoe_used_name": ({"public_id": "another"}, {}),
    "uq_proof_run_open": ({"public_id": "another"}, {}),
    "uq_proof_sitting_open": ({}, {}),
    "uq_placement_run_open": ({}, {}),
    "uq_signer_open": ({"public_id": "another"}, {}),
    "uq_job_type_used_name": ({"public_id": "another"}, {}),
}


#: What a row of each table has besides the time when it has ended.
ENDS_WITH = {"proof_run": {"outcome": "ready"}, "placement_run": {"picture": {}}}


def of_kind(kind):
    return [(table, one) for table in TABLES.values() for one in table.constraints if isinstance(one, kind)]


CHECKS = {str(one.name): table for table, one in of_kind(CheckConstraint)}
UNIQUE = {str(one.name): (table, [column.name for column in one.columns]) for table, one in of_kind(UniqueConstraint)}
FOREIGN = {str(one.name): (table, list(one.column_keys)) for table, one in of_kind(ForeignKeyConstraint)}
NEEDED = [
    (table.name, column.name)
    for table in TABLES.values()
    for column in table.columns
    if not column.nullable and not column.primary_key
]


@pytest.fixture(scope="module", params=["sqlite", pytest.param("postgresql", marks=pytest.mark.postgres)])
def filled(request, sqlite_template, tmp_path_factory, add_example_rows):
    """An engine with the example rows in it, shared by the tests of this file, which leave nothing in it."""
    if request.param == "sqlite":
        file = tmp_path_factory.mktemp("filled") / "site.db"
        shutil.copyfile(sqlite_template, file)
        url = f"sqlite:///{file}"
    else:
        url = request.getfixturevalue("lasting_postgres_url")
    database = Database(url)
    with database.engine.begin() as connection:
        for revision in revisions():
            add_example_rows(connection, revision)
    yield database.engine
    database.close()


@pytest.fixture
def connection(filled):
    """A connection whose transaction is rolled back."""
    with filled.connect() as opened, opened.begin() as transaction:
        yield opened
        transaction.rollback()


@pytest.fixture(scope="session")
def row(example_rows):
    """A row like the first example row of a table, yet different where rows must differ."""
    first = {table: rows[0] for revision in reversed(revisions()) for table, rows in example_rows(revision).items()}

    def like_the_first(table, changes=None):
        return {**first[table], "id": 99, **OTHER[table], **read(changes or {})}

    return like_the_first


def read(changes):
    return {
        key: datetime.fromisoformat(value) if key.endswith("_at") and value else value for key, value in changes.items()
    }


def refusal(connection, table, values):
    """What the database says when it refuses a row. (PostgreSQL finds a text too long before it looks at the checks.)"""
    with pytest.raises((IntegrityError, DataError)) as refused:
        connection.execute(insert(TABLES[table]).values(values))
    return str(refused.value.orig)


def accept(connection, table, values):
    connection.execute(insert(TABLES[table]).values(values))


@pytest.mark.parametrize("table", sorted(set(TABLES) - {"site", "site_key"}))
def test_a_row_that_keeps_the_rules_is_taken(connection, row, table):
    accept(connection, table, row(table))


def test_every_check_has_a_breach():
    assert sorted(BREACHES) == sorted(CHECKS)


@pytest.mark.parametrize(
    ("check", "changes"), [(check, changes) for check, breaches in BREACHES.items() for changes in breaches]
)
def test_the_database_refuses_the_breach_of_a_check(connection, row, check, changes):
    table = CHECKS[check].name

    said = refusal(connection, table, row(table, changes))

    assert check in said or (check.endswith("_length") and "value too long" in said)


@pytest.mark.parametrize("unique", sorted(name for name, (_, columns) in UNIQUE.items() if "id" not in columns))
def test_the_database_refuses_a_second_row_of_the_same_name(connection, row, unique):
    table, columns = UNIQUE[unique]
    if table.name == "throttle":
        accept(connection, "throttle", row("throttle"))
        values = {**row("throttle"), "id": 100}
    else:
        first = {**row(table.name), "id": 98}
        accept(connection, table.name, first)
        values = {**fresh(row, table.name), "id": 99} | {column: first[column] for column in columns}
    said = refusal(connection, table.name, values)

    assert unique in said or f"{table.name}.{columns[0]}" in said


def fresh(row, table):
    """A third row that differs from the second too."""
    values = row(table)
    return values | {
        key: f"3-{values[key]}"[:22] if isinstance(values[key], str) else values[key] + 1
        for key in OTHER[table]
        if key not in {"person_id", "what"}
    }


def test_unique_constraints_with_the_key_in_them_serve_a_foreign_key():
    with_key = {(table.name, *columns) for table, columns in UNIQUE.values() if "id" in columns}
    served = {
        (one.referred_table.name, *(element.column.name for element in one.elements))
        for _, one in of_kind(ForeignKeyConstraint)
        if len(one.elements) > 1
    }

    assert with_key == served


def test_every_partial_unique_index_has_a_breach():
    partial = {index.name for table in TABLES.values() for index in table.indexes if index.unique}

    assert partial == set(PARTIAL)


@pytest.mark.parametrize("index", PARTIAL)
def test_the_database_refuses_what_a_partial_unique_index_forbids(connection, row, index):
    table = next(table.name for table in TABLES.values() for one in table.indexes if one.name == index)
    first, second = PARTIAL[index]
    accept(connection, table, {**row(table, first), "id": 98})
    said = refusal(connection, table, row(table, second))

    assert index in said or f"UNIQUE constraint failed: {table}." in said


@pytest.mark.parametrize("index", PARTIAL)
def test_a_partial_unique_index_forgets_what_has_ended(connection, row, index):
    table = next(table.name for table in TABLES.values() for one in table.indexes if one.name == index)
    first, second = PARTIAL[index]
    ended = {"ended_at": "2026-11-01T00:00:00+00:00", **ENDS_WITH.get(table, {})}
    accept(connection, table, {**row(table, first | ended), "id": 98})
    accept(connection, table, row(table, second))


@pytest.mark.parametrize("foreign", sorted(FOREIGN))
def test_the_database_refuses_a_row_that_points_nowhere(connection, row, foreign):
    table, columns = FOREIGN[foreign]
    values = row(table.name) | dict.fromkeys(columns, 999)
    if foreign == "fk_membership_organisation_id":
        values |= {"role": "owner", "group_id": None}
    if foreign in RUNS:
        own = row(table.name)["person_id"]
        values |= {"context": RUNS[foreign], "assigned_family_id": None, "person_id": own}
    said = refusal(connection, table.name, values)

    assert foreign in said or "FOREIGN KEY constraint failed" in said


def test_every_foreign_key_over_two_columns_has_a_mismatch():
    assert sorted(MISMATCHES) == sorted(name for name, (_, columns) in FOREIGN.items() if len(columns) > 1)


@pytest.mark.parametrize("foreign", MISMATCHES)
def test_the_database_refuses_keys_that_do_not_belong_together(connection, row, foreign):
    table, _ = FOREIGN[foreign]
    said = refusal(connection, table.name, row(table.name) | MISMATCHES[foreign])

    assert foreign in said or "FOREIGN KEY constraint failed" in said


@pytest.mark.parametrize(("table", "column"), NEEDED)
def test_the_database_refuses_a_row_without_a_needed_value(connection, row, table, column):
    said = refusal(connection, table, row(table) | {column: null()})

    assert column in said


def test_every_constraint_has_a_name():
    unnamed = [str(one) for table in TABLES.values() for one in table.constraints if not one.name]

    assert unnamed == []


def test_removing_a_person_takes_the_sessions_along_and_nothing_else():
    cascades = {str(one.name) for _, one in of_kind(ForeignKeyConstraint) if one.ondelete is not None}

    assert cascades == {"fk_sign_in_session_person_id"}
