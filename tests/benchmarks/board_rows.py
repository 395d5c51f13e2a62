"""A shop of any size, written with bulk inserts: people, where they stand, proof runs, checks signed, job types; and answers."""

from __future__ import annotations

from datetime import timedelta

from sqlalchemy import func, insert, select, text

from trainer.records import models

__all__ = ["add_answers", "add_shop"]

SKILLS_OF_JOB, CHECKS_OF_JOB = 5, 2
KINDS = (("offset", "1/2"), ("offset", "3/4"), ("stub-up", "1/2"), ("stub-up", "3/4"))


def add_shop(session, *, people, skills, jobs, now):
    """
    A shop with an owner and one crew, everybody in it found ready here and there, some of it long ago.

    Args:
        session: A write session on an empty, migrated database.
        people: How many learn in the crew.
        skills: Ids of skills in which each of them has a state, a proof run and now and then a finding.
        jobs: How many job types there are.
        now: This moment.

    Returns:
        Key of the owner, public ids of the shop and of the crew.
    """
    start = now - timedelta(days=200)
    owner = _row(session, models.Person, sign_in_name="owner", display_name="Owner", created_at=start)
    shop = _row(session, models.Organisation, name="Shop", kind="shop", time_zone="America/Chicago", created_at=start)
    crew = _row(session, models.Group, organisation_id=shop.id, kind="crew", name="Crew", created_at=start)
    belongs = {"organisation_id": shop.id, "started_at": start}
    _row(session, models.Membership, person_id=owner.id, role="owner", **belongs)
    _many(
        session,
        models.Person,
        [
            {
                "public_id": f"p{nth:021}",
                "sign_in_name": f"person-{nth}",
                "display_name": f"Person {nth:04}",
                "created_at": start,
            }
            for nth in range(people)
        ],
    )
    keys = session.scalars(select(models.Person.id).where(models.Person.id > owner.id).order_by(models.Person.id)).all()
    learns = belongs | {"group_id": crew.id, "role": "learner"}
    _many(session, models.Membership, [{"person_id": key} | learns for key in keys])
    shares = {"group_id": crew.id, "what": "readiness", "started_at": start}
    _many(session, models.Share, [{"person_id": key} | shares for key in keys])
    _standings(session, keys, skills, owner.id, now)
    _checks(session, keys, shop.id, crew.id, owner.id, now)
    _jobs(session, shop.id, skills, jobs, start)
    return owner.id, shop.public_id, crew.public_id


def add_answers(session, *, people, each, skill, family_id, version_id, now):
    """Problems, answers and gradings of so many people who answered so many each, by SQL alone; what is drawn is left empty."""
    first = session.scalars(select(func.coalesce(func.max(models.Person.id), 0))).one()
    _many(
        session,
        models.Person,
        [
            {
                "public_id": f"a{nth:021}",
                "sign_in_name": f"answers-{nth}",
                "display_name": f"Answers {nth}",
                "created_at": now,
            }
            for nth in range(people)
        ],
    )
    begun = session.scalars(select(func.coalesce(func.max(models.Problem.id), 0))).one()
    given = session.scalars(select(func.coalesce(func.max(models.Answer.id), 0))).one()
    values = {
        "total": people * each, "people": people, "first": first, "begun": begun, "given": given, "skill": skill,
        "family": family_id, "version": version_id, "at": f"{now:%Y-%m-%d %H:%M:%S.%f}",
    }  # fmt: skip
    for statement in _ANSWERS:
        session.execute(text(_COUNT + statement), values)


_COUNT = "WITH RECURSIVE n(i) AS (SELECT 0 UNION ALL SELECT i + 1 FROM n WHERE i + 1 < :total) "
_ANSWERS = (
    (
        "INSERT INTO problem (id, public_id, code, person_id, context, content_version_id, family_id, skill, seed, edition, "
        "basis, drawn, issued_at, closed_at, hints_shown, steps_shown) SELECT :begun + i + 1, printf('q%021d', i), "
        "printf('Q%010d', i), :first + 1 + i % :people, 'practice', :version, :family, :skill, i, '2023', '', '{}', :at, :at, "
        "0, 0 FROM n"
    ),
    (
        "INSERT INTO answer (id, problem_id, person_id, answer_key, sequence, attempt, typed, hints_seen, steps_seen, "
        "answered_at, difficulty, chance_before, weight, start_level, days, lucky, constants_version) SELECT :given + i + 1, "
        ":begun + i + 1, :first + 1 + i % :people, printf('00000000-0000-4000-8000-%012d', i), 1 + i / :people, 1, '20', 0, 0, "
        ":at, 0.0, 0.7, 0.7, 0.3, 0.0, 0.02, 1 FROM n"
    ),
    (
        "INSERT INTO grading (answer_id, sequence, verdict, mistakes, basis, graded_at) SELECT :given + i + 1, 1, 'right', '[]', "
        "'', :at FROM n"
    ),
)


def _standings(session, keys, skills, watcher, now):
    states, runs = [], []
    for nth, key in enumerate(keys):
        for place, skill in enumerate(skills):
            pick = (7 * nth + 3 * place) % 10
            at = now - timedelta(days=[2, 9, 20, 31, 45, 58, 66, 74, 83, 95][pick], minutes=nth)
            state = {"level": 2.9 if pick else 1.2, "variance": 0.2, "holding_days": 90.0, "counted": 30, "last_at": at}
            states.append({"person_id": key, "skill": skill, "last_turn": 1, "recent_families": []} | state)
            outcome = "not-yet" if pick == 0 else "ready"
            runs.append(
                {"public_id": f"r{len(runs):021}", "person_id": key, "skill": skill, "line": "strict", "ready_at": 15.0,
                 "refreshes": False, "difficulties": {}, "points": 15.4, "counted": 20, "outcome": outcome,
                 "started_at": at - timedelta(days=1), "ended_at": at, "watched_by_id": watcher if pick % 2 else None}
            )  # fmt: skip
    _many(session, models.SkillState, states)
    _many(session, models.ProofRun, runs)
    reported = {"kind": "dog-leg", "note": "Two lean.", "reported_by_id": watcher, "reported_at": now}
    group = session.scalars(select(models.Group.id)).one()
    rows = [{"person_id": key, "skill": skills[0], "group_id": group} | reported for key in keys[::9]]
    _many(session, models.FieldFinding, rows)


def _checks(session, keys, shop, crew, owner, now):
    at = now - timedelta(days=30)
    named = {"organisation_id": shop, "person_id": owner, "licence": "1", "named_by_id": owner, "named_at": at}
    for kind in dict.fromkeys(kind for kind, _ in KINDS):
        _row(session, models.Signer, kind=kind, expires_on=(now + timedelta(days=99)).date(), **named)
    signer = session.scalars(select(models.Signer.id).order_by(models.Signer.id)).first()
    set_by = {"organisation_id": shop, "group_id": crew, "sheet": {}, "issued_by_id": owner, "issued_at": at}
    checks = [
        {"person_id": key, "kind": kind, "trade_size": size, "seed": nth} | set_by
        for nth, key in enumerate(keys)
        for place, (kind, size) in enumerate(KINDS)
        if (nth + place) % 3
    ]
    _many(session, models.HandsOnCheck, checks)
    signed = {"judge": 1, "signer_id": signer, "signed_by_id": owner, "signed_at": at, "measured": {}, "steps": {}}
    ids = session.scalars(select(models.HandsOnCheck.id)).all()
    _many(session, models.CheckSigning, [{"check_id": key, "passed": True, "note": ""} | signed for key in ids])


def _jobs(session, shop, skills, jobs, start):
    for nth in range(jobs):
        about = {"supervision": "Somebody licensed is there.", "valid_days": 365, "trade_sizes": ["1/2", "3/4"]}
        job = _row(
            session,
            models.JobType,
            organisation_id=shop,
            name=f"Job {nth:02}",
            watched=False,
            created_at=start,
            **about,
        )
        asked = [skills[(3 * nth + place) % len(skills)] for place in range(SKILLS_OF_JOB)]
        _many(session, models.JobTypeSkill, [{"job_type_id": job.id, "skill": one, "line": "strict"} for one in asked])
        kinds = [KINDS[(nth + place) % len(KINDS)] for place in range(CHECKS_OF_JOB)]
        rows = [{"job_type_id": job.id, "kind": kind, "trade_size": size} for kind, size in kinds]
        _many(session, models.JobTypeCheck, rows)


def _row(session, model, **values):
    row = model(**values)
    session.add(row)
    session.flush()
    return row


def _many(session, model, rows):
    if rows:
        session.execute(insert(model), rows)
