"""What the job showed: who may report it and withdraw it, who reads it, and what is noted."""

from __future__ import annotations

import pytest
from sqlalchemy import select

from trainer.accounts.access import NotAllowedError, NotFoundError
from trainer.accounts.audit import lines_about
from trainer.accounts.people import DELETED_NAME, delete_person
from trainer.calc.message import InputError
from trainer.groups.findings import finding_to_withdraw, findings_page, report, withdraw
from trainer.groups.membership import leave, set_sharing
from trainer.progress.field import FindingKind, adverse_findings_of_people, findings_about
from trainer.records.models import FieldFinding

LENA = "public-lena".ljust(22, "x")
LEO = "public-leo".ljust(22, "x")


@pytest.fixture
def in_crew(any_town):
    any_town.join(any_town.crew, "lena", "leo")
    return any_town


def reported(town, who="fred", about=LENA, group=None, **wanted):
    wanted = {"skill": "bends.offset", "kind": "dog-leg", "note": "Two offsets lean.", "now": town.now} | wanted
    return town.with_library(who, report, group or town.crew, about, **wanted)


def about(town, name="lena", **more):
    with town.database.read() as session:
        return findings_about(session, town.ids[name], **more)


def adverse(town):
    with town.database.read() as session:
        return adverse_findings_of_people(session, list(town.ids.values()))


def test_a_foreman_reports_and_the_learner_reads_it_all(in_crew):
    reported(in_crew, note="  Two offsets   lean. ")

    (found,) = about(in_crew)
    assert (found.kind, found.skill, found.note) == (FindingKind.DOG_LEG, "bends.offset", "Two offsets lean.")
    assert (found.reported_by, found.group, found.reported_at) == ("Fred", "Garage crew", in_crew.now)
    assert found.stands
    assert found.effect.id == "field.effect.stands"
    with in_crew.database.read() as session:
        assert "finding.reported" in [line.what for line in lines_about(session, in_crew.ids["lena"])]


def test_the_owner_of_the_shop_may_report_too(in_crew):
    reported(in_crew, who="otto")

    assert about(in_crew)[0].reported_by == "Otto"


def test_others_may_not(in_crew):
    with pytest.raises(NotAllowedError):
        reported(in_crew, who="leo")
    for stranger in ("ines", "stranger", "ada"):
        with pytest.raises(NotFoundError):
            reported(in_crew, who=stranger)
    assert about(in_crew) == []


def test_nobody_reports_about_himself(in_crew):
    in_crew.join(in_crew.crew, "otto")

    with pytest.raises(NotAllowedError) as refused:
        reported(in_crew, who="otto", about="public-otto".ljust(22, "x"))
    assert refused.value.reason.id == "field.oneself"


def test_about_who_has_left_nothing_more_is_reported_and_what_was_stays(in_crew):
    reported(in_crew)
    in_crew.do("lena", leave, in_crew.crew, in_crew.now)

    with pytest.raises(NotAllowedError):
        reported(in_crew)
    assert len(in_crew.do("fred", findings_page, in_crew.crew, LENA, in_crew.now).findings) == 1


@pytest.mark.parametrize(
    ("field", "given"),
    [
        ("kind", "bad-luck"),
        ("kind", ""),
        ("skill", "bends.magic"),
        ("note", "  "),
        ("note", "x" * 301),
        ("note", "a\u200bb"),
    ],
)
def test_what_cannot_be_taken_is_refused_with_its_field(in_crew, field, given):
    with pytest.raises(InputError) as refused:
        reported(in_crew, **{field: given})

    assert refused.value.field == field
    assert about(in_crew) == []


def test_only_trouble_that_stands_counts_and_the_latest_is_given(in_crew):
    reported(in_crew, kind="good-work", skill="supports.straps")
    reported(in_crew)
    in_crew.after(days=1)
    reported(in_crew, kind="scrapped", note="Four pieces.")
    reported(in_crew, about=LEO, skill="supports.straps")

    found = adverse(in_crew)
    assert {key: one.kind.value for key, one in found.items()} == {
        (in_crew.ids["lena"], "bends.offset"): "scrapped",
        (in_crew.ids["leo"], "supports.straps"): "dog-leg",
    }


def test_who_reported_withdraws_with_a_reason_that_the_learner_reads(in_crew):
    finding = reported(in_crew)
    in_crew.after(hours=1)
    in_crew.do("fred", withdraw, in_crew.crew, finding, reason="It was another run.", now=in_crew.now)

    (found,) = about(in_crew)
    assert (found.withdrawn_at, found.withdrawn_reason) == (in_crew.now, "It was another run.")
    assert not found.stands
    assert found.effect.id == "field.effect.withdrawn"
    assert adverse(in_crew) == {}
    with in_crew.database.read() as session:
        assert "finding.withdrawn" in [line.what for line in lines_about(session, in_crew.ids["lena"])]
    with pytest.raises(NotAllowedError):
        in_crew.do("fred", withdraw, in_crew.crew, finding, reason="Once more.", now=in_crew.now)


def test_nobody_else_withdraws_it_and_none_without_a_reason(in_crew):
    finding = reported(in_crew)

    with pytest.raises(NotAllowedError):
        in_crew.do("otto", withdraw, in_crew.crew, finding, reason="I say so.", now=in_crew.now)
    with pytest.raises(NotAllowedError):
        in_crew.do("otto", finding_to_withdraw, in_crew.crew, LENA, finding)
    with pytest.raises(NotFoundError):
        in_crew.do("ines", withdraw, in_crew.class_, finding, reason="Not of this class.", now=in_crew.now)
    with pytest.raises(InputError):
        in_crew.do("fred", withdraw, in_crew.crew, finding, reason=" ", now=in_crew.now)
    assert about(in_crew)[0].stands


def test_leaders_of_another_group_read_it_with_readiness_only(in_crew):
    in_crew.join(in_crew.class_, "lena")
    reported(in_crew)

    assert in_crew.do("ines", findings_page, in_crew.class_, LENA, in_crew.now).findings == ()
    in_crew.do("lena", set_sharing, in_crew.class_, "readiness", in_crew.now, shared=True)
    seen = in_crew.do("ines", findings_page, in_crew.class_, LENA, in_crew.now).findings
    assert [one.reported_by for one in seen] == ["Fred"]
    with in_crew.database.read() as session:
        noted = [line.what for line in lines_about(session, in_crew.ids["lena"])]
    assert {"looked.assigned", "looked.readiness"} <= set(noted)


def test_deleting_the_account_takes_the_line_that_may_hold_a_name(in_crew):
    reported(in_crew, note="Lena bent these.")
    withdrawn = reported(in_crew, note="Lena bent these too.")
    in_crew.do("fred", withdraw, in_crew.crew, withdrawn, reason="Leo did, not Lena.", now=in_crew.now)
    with in_crew.database.write() as session:
        delete_person(session, in_crew.ids["lena"], in_crew.now)

    with in_crew.database.read() as session:
        assert set(session.scalars(select(FieldFinding.note))) == {DELETED_NAME}
        assert set(session.scalars(select(FieldFinding.withdrawn_reason))) == {None, DELETED_NAME}
