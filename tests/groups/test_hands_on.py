"""Hands-on checks: who may set and sign them, what becomes of signatures, and what other parts read of them."""

from __future__ import annotations

from datetime import timedelta

import pytest
from sqlalchemy import select

from trainer.accounts.access import NotAllowedError, NotFoundError
from trainer.accounts.audit import lines_about
from trainer.accounts.people import delete_person
from trainer.calc.message import InputError
from trainer.groups.bench_night import bench_night, sticks_for
from trainer.groups.hands_on import drop, set_checks
from trainer.groups.organisations import appoint, dismiss
from trainer.groups.registrations import end_own, enter_for_member, enter_own, of_member, own_registrations
from trainer.groups.signers import end_naming, name_signer, signers_of
from trainer.groups.signing import led_check, sign, withdraw
from trainer.problems.hands_on import KINDS, Reading
from trainer.progress.hands_on import own_checks, signed_checks_of_people
from trainer.records.append_only import AppendOnlyError
from trainer.records.models import CheckSigning, Registration, Signer

LICENCE = "Journeyman, Ohio, 4711"


class Benches:
    """The shop of a town with lena and leo in its crew, and fred named for offsets."""

    def __init__(self, town):
        self.town = town
        town.join(town.crew, "lena", "leo")
        self.name("fred", "offset")

    def name(self, who, *kinds, until="2027-06-30", licence=LICENCE, by="otto"):
        more = {"kinds": kinds, "licence": licence, "expires_on": until, "now": self.town.now}
        self.town.do(by, name_signer, self.town.shop, person=public(who), **more)

    def set(self, *people, kind="offset", size="1/2", by="fred"):
        ids = [public(one) for one in people or ("lena",)]
        more = {"people": ids, "kind": kind, "trade_size": size, "now": self.town.now}
        return self.town.do(by, set_checks, self.town.crew, **more)

    def led(self, check, by="fred"):
        return self.town.do(by, led_check, self.town.crew, check, self.town.now)

    def sign(self, check, by="fred", missed=(), off=(), **more):
        sheet = self.led(check, by).check.sheet
        measured = {
            one.id: Reading(f"{one.value} and more", one.value + 1) if one.id in off else Reading("", one.value)
            for one in sheet.measured
        }
        steps = {one.id: one.id not in missed for one in sheet.steps}
        return self.town.do(by, sign, self.town.crew, check, measured=measured, steps=steps, now=self.town.now, **more)

    def read(self, function, *arguments, **more):
        with self.town.database.read() as session:
            return function(session, *arguments, **more)

    def signed(self, **more):
        people = [self.town.ids[one] for one in ("lena", "leo")]
        return self.read(signed_checks_of_people, people, **more)

    def signers(self):
        return self.town.do("otto", signers_of, self.town.shop, self.town.now).named

    def noted(self, who):
        return [line.what for line in self.read(lines_about, self.town.ids[who])]


def public(name):
    return f"public-{name}".ljust(22, "x")


@pytest.fixture
def benches(town):
    return Benches(town)


@pytest.fixture
def any_benches(any_town):
    return Benches(any_town)


def test_a_check_goes_from_the_bench_to_what_readiness_reads(any_benches):
    benches = any_benches
    lena, leo = benches.set("lena", "leo", size="3/4")
    sheets = [benches.led(one).check.sheet for one in (lena, leo)]
    assert sheets[0].measured != sheets[1].measured

    assert benches.sign(lena, remark="  clean  work ").passed
    assert not benches.sign(leo, missed=["burrs"], off=["depth"]).passed

    assert benches.signed() == {(benches.town.ids["lena"], "offset", "3/4"): benches.town.now}
    (own,) = benches.read(own_checks, benches.town.ids["leo"])
    assert (own.state, own.signings[0].judgement.misses) == ("not-passed", ("burrs", "depth"))
    assert own.signings[0].measured["depth"].typed.endswith("and more")
    assert (own.signings[0].signed_by, own.signings[0].licence) == ("Fred", LICENCE)
    assert "check.signed" in benches.noted("leo")


def test_the_same_check_is_not_set_twice_while_it_is_open(benches):
    (check,) = benches.set("lena")

    assert benches.set("lena") == []
    benches.town.do("fred", drop, benches.town.crew, check, benches.town.now)
    assert len(benches.set("lena", "leo")) == 2
    assert [one.state for one in benches.read(own_checks, benches.town.ids["lena"])] == ["open"]


@pytest.mark.parametrize(
    ("field", "more"),
    [
        ("kind", {"kind": "juggling"}),
        ("trade_size", {"size": "5"}),
        ("trade_size", {"kind": "three-point-saddle", "size": "1"}),
    ],
)
def test_what_cannot_be_set_is_told_by_its_field(benches, field, more):
    with pytest.raises(InputError) as raised:
        benches.set("lena", **more)

    assert raised.value.field == field


def test_only_members_get_one(benches):
    with pytest.raises(InputError) as raised:
        benches.set("stranger")

    assert raised.value.field == "people"


@pytest.mark.parametrize(("who", "error"), [("lena", NotAllowedError), ("ines", NotFoundError), ("ada", NotFoundError)])
def test_nobody_else_sets_looks_or_signs(benches, who, error):
    (check,) = benches.set("lena")
    with pytest.raises(error):
        benches.set("leo", by=who)
    with pytest.raises(error):
        benches.led(check, by=who)
    with pytest.raises(error):
        benches.town.do(who, sign, benches.town.crew, check, measured={}, steps={}, now=benches.town.now)


def refused(benches, check, by="fred"):
    led = benches.led(check, by)
    assert not led.may_sign
    with pytest.raises(NotAllowedError) as raised:
        benches.sign(check, by)
    if led.why_not:
        assert raised.value.reason == led.why_not
    return raised.value.reason.id


def test_who_is_not_named_for_the_kind_signs_nothing(benches):
    (stub,) = benches.set("lena", kind="stub-up")
    (offset,) = benches.set("lena")

    assert refused(benches, stub) == "checks.not-named"
    assert refused(benches, offset, by="otto") == "checks.not-named"


def test_nobody_signs_his_own(benches):
    benches.town.do("otto", appoint, benches.town.shop, sign_in_name="lena", role="owner", now=benches.town.now)
    benches.name("lena", "offset")
    (check,) = benches.set("lena")

    assert refused(benches, check, by="lena") == "checks.not-own"


def test_the_licence_lets_sign_through_its_last_day(benches):
    last = benches.town.now.date() + timedelta(days=2)
    benches.name("fred", "offset", until=last.isoformat())
    (lena,), (leo,) = benches.set("lena"), benches.set("leo")

    benches.town.after(days=2)
    assert benches.sign(lena).passed
    benches.town.after(days=1)
    assert refused(benches, leo) == "checks.licence-over"
    assert benches.signed()


def test_what_was_signed_stays_when_the_naming_ends_and_says_so(benches):
    (lena,), (leo,) = benches.set("lena"), benches.set("leo")
    benches.sign(lena)
    benches.town.after(days=3)
    (named,) = benches.signers()
    benches.town.do("otto", end_naming, benches.town.shop, named.public_id, benches.town.now)

    assert benches.led(lena).check.signings[0].naming_ended_at == benches.town.now
    assert benches.led(lena).check.state == "passed"
    assert benches.signed()
    assert refused(benches, leo) == "checks.not-named"
    assert benches.noted("fred")[0] == "signer.ended"
    with pytest.raises(NotFoundError):
        benches.town.do("otto", end_naming, benches.town.shop, named.public_id, benches.town.now)


def test_a_renewed_licence_is_a_new_naming_and_old_signatures_keep_theirs(benches):
    (check,) = benches.set("lena")
    benches.sign(check)
    benches.town.after(days=1)
    benches.name("fred", "offset", "stub-up", licence="Journeyman, Ohio, 4712")

    (signing,) = benches.led(check).check.signings
    assert (signing.licence, signing.naming_ended_at) == (LICENCE, None)
    assert [(one.kind, one.holds) for one in benches.signers()] == [
        ("Offset", True),
        ("Stub-up", True),
        ("Offset", False),
    ]


def test_dismissing_ends_the_naming(benches):
    benches.town.do("otto", dismiss, benches.town.shop, public("fred"), benches.town.now)

    assert [one.ended_at for one in benches.signers()] == [benches.town.now]


@pytest.mark.parametrize(
    ("field", "more"),
    [
        ("person", {"who": "lena"}),
        ("kinds", {"kinds": ()}),
        ("kinds", {"kinds": ("juggling",)}),
        ("licence", {"licence": "  "}),
        ("expires_on", {"until": "2026-09-06"}),
        ("expires_on", {"until": "next June"}),
        ("expires_on", {"until": "9999-12-31"}),
    ],
)
def test_a_naming_that_cannot_be_is_told_by_its_field(benches, field, more):
    kinds = more.pop("kinds", ("offset",))
    with pytest.raises(InputError) as raised:
        benches.name(more.pop("who", "fred"), *kinds, **more)

    assert raised.value.field == field


@pytest.mark.parametrize(("who", "error"), [("fred", NotAllowedError), ("stranger", NotFoundError)])
def test_only_the_owner_names(benches, who, error):
    with pytest.raises(error):
        benches.name("fred", "offset", by=who)
    with pytest.raises(error):
        benches.town.do(who, signers_of, benches.town.shop, benches.town.now)


def test_a_signed_check_is_never_changed(benches):
    (check,) = benches.set("lena")
    benches.sign(check)

    assert benches.sign(check, missed=["eyes"]).passed
    assert refused(benches, check, by="otto") == "checks.not-named"
    with pytest.raises(NotAllowedError):
        benches.town.do("fred", drop, benches.town.crew, check, benches.town.now)
    with pytest.raises(AppendOnlyError), benches.town.database.write() as session:
        session.scalars(select(CheckSigning)).one().passed = False


def test_a_withdrawal_has_its_reason_and_takes_the_check_out(benches):
    (check,) = benches.set("lena")
    benches.sign(check)
    assert not benches.town.do("otto", led_check, benches.town.crew, check, benches.town.now).check.withdrawal
    with pytest.raises(InputError) as raised:
        benches.town.do("fred", withdraw, benches.town.crew, check, reason=" ", now=benches.town.now)
    assert raised.value.field == "reason"

    for _ in range(2):
        benches.town.do("fred", withdraw, benches.town.crew, check, reason="Wrong piece.", now=benches.town.now)

    led = benches.led(check)
    assert (led.check.state, led.check.withdrawal.reason, led.may_withdraw) == ("withdrawn", "Wrong piece.", False)
    assert benches.signed() == {}
    assert benches.noted("lena").count("check.withdrawn") == 1
    assert len(benches.set("lena")) == 1


def test_who_neither_signed_nor_owns_withdraws_nothing(benches):
    benches.town.add("mona")
    benches.town.do("otto", appoint, benches.town.shop, sign_in_name="mona", role="owner", now=benches.town.now)
    benches.name("mona", "offset")
    (check,) = benches.set("lena")
    with pytest.raises(NotAllowedError):
        benches.town.do("fred", withdraw, benches.town.crew, check, reason="Wrong piece.", now=benches.town.now)
    benches.sign(check, by="mona")

    assert not benches.led(check, by="fred").may_withdraw
    assert benches.led(check, by="otto").may_withdraw


def test_a_second_judge_may_see_the_first_three_of_a_kind_and_both_must_pass_it(benches):
    benches.name("otto", "offset")
    checks = []
    for size in ("1/2", "3/4", "1", "1-1/4"):
        benches.town.after(minutes=10)
        checks += benches.set("lena", size=size)
        benches.sign(checks[-1])

    assert [benches.led(one, by="otto").may_sign for one in checks] == [True, True, True, False]
    assert refused(benches, checks[3], by="otto") == "checks.signed-already"
    benches.sign(checks[0], by="otto")
    benches.sign(checks[1], by="otto", missed=["burrs"])

    points = len(benches.led(checks[0]).check.sheet.measured) + len(benches.led(checks[0]).check.sheet.steps)
    assert benches.led(checks[0]).check.agreed == (points, points)
    assert (benches.led(checks[1]).check.state, benches.led(checks[1]).check.agreed) == (
        "disagreed",
        (points - 1, points),
    )
    assert sorted(size for _, _, size in benches.signed()) == ["1", "1-1/4", "1/2"]


def test_another_organisation_reads_only_what_its_own_people_signed(benches):
    (check,) = benches.set("lena")
    benches.sign(check)
    shop = benches.led(check).group.organisation.id

    assert benches.signed(organisation_id=shop)
    assert benches.signed(organisation_id=shop + 1) == {}


def test_bench_night_counts_sticks_and_misses(benches):
    lena, leo = benches.set("lena", "leo", kind="cut-and-deburr")
    night = benches.town.do("fred", bench_night, benches.town.crew, benches.town.now)
    assert [name for _, name in night.members] == ["Lena", "Leo"]
    assert {one.public_id for one in night.open} == {lena, leo}
    assert [(one.trade_size, one.count) for one in night.sticks] == [("1/2", 1)]

    benches.name("fred", *KINDS)
    benches.sign(lena, missed=["burrs"])
    benches.sign(leo, missed=["burrs", "held"])
    night = benches.town.do("fred", bench_night, benches.town.crew, benches.town.now)
    assert (len(night.open), len(night.today), night.sticks) == (0, 2, ())
    assert [(count, of) for _, _, count, of in night.misses] == [(2, 2), (1, 2)]

    benches.town.after(days=1)
    night = benches.town.do("fred", bench_night, benches.town.crew, benches.town.now)
    assert (len(night.today), len(night.before)) == (0, 2)


def test_a_run_longer_than_a_stick_takes_whole_ones(benches):
    (check,) = benches.set("lena", kind="strap-a-run", size="1")
    (piece,) = benches.led(check).check.sheet.pieces

    (sticks,) = sticks_for([benches.led(check).check])

    assert sticks.count == -(-piece // 120)


def test_looking_is_noted(benches):
    (check,) = benches.set("lena")
    benches.led(check)

    assert benches.noted("lena").count("looked.check") == 1


def test_a_deleted_person_s_licences_are_stripped_and_signatures_stay(benches):
    (check,) = benches.set("lena")
    benches.sign(check)
    enter(benches, "fred")
    with benches.town.database.write() as session:
        delete_person(session, benches.town.ids["fred"], benches.town.now)

    (signing,) = benches.led(check, by="otto").check.signings
    assert (signing.signed_by, signing.licence) == ("–", "–")
    assert benches.signed()
    with benches.town.database.read() as session:
        assert {*session.scalars(select(Signer.licence)), *session.scalars(select(Registration.words))} == {"–"}


def test_what_was_typed_about_a_deleted_person_s_check_goes_too(benches):
    (check,) = benches.set("lena")
    benches.sign(check, remark="Lena hurried.")
    benches.town.do("fred", withdraw, benches.town.crew, check, reason="Leo bent it for Lena.", now=benches.town.now)
    with benches.town.database.write() as session:
        delete_person(session, benches.town.ids["lena"], benches.town.now)

    found = benches.led(check, by="otto").check
    assert (found.state, found.withdrawal.reason, found.signings[0].note) == ("withdrawn", "–", "")


def enter(benches, who, until="2027-01-31", **more):
    typed = {"what": "registration", "words": "Apprentice, Ohio, 815", "expires_on": until, "now": benches.town.now}
    benches.town.do(who, enter_own, **typed | more)


def test_a_registration_shows_when_it_ran_out_and_can_be_taken_away(benches):
    enter(benches, "lena")
    (line,) = benches.town.do("lena", own_registrations, benches.town.now)
    assert (line.words, line.over, line.entered_by) == ("Apprentice, Ohio, 815", False, "Lena")
    benches.town.after(days=400)
    (line,) = benches.town.do("lena", own_registrations, benches.town.now)
    assert line.over

    with pytest.raises(NotFoundError):
        benches.town.do("leo", end_own, line.public_id, benches.town.now)
    benches.town.do("lena", end_own, line.public_id, benches.town.now)
    assert benches.town.do("lena", own_registrations, benches.town.now) == ()


@pytest.mark.parametrize(
    ("field", "more"), [("what", {"what": "diploma"}), ("words", {"words": ""}), ("expires_on", {"until": "soon"})]
)
def test_a_registration_that_cannot_be_is_told_by_its_field(benches, field, more):
    with pytest.raises(InputError) as raised:
        enter(benches, "lena", **more)

    assert raised.value.field == field


def test_the_owner_enters_a_member_s_and_the_foreman_does_not(benches):
    typed = {"what": "licence", "words": "Journeyman, Ohio, 5", "expires_on": "2027-01-31", "now": benches.town.now}
    benches.town.do("otto", enter_for_member, benches.town.crew, public("lena"), **typed)

    _, lines = benches.town.do("otto", of_member, benches.town.crew, public("lena"), benches.town.now)
    assert [(one.words, one.entered_by) for one in lines] == [("Journeyman, Ohio, 5", "Otto")]
    assert benches.noted("lena")[0] == "registration.entered"
    with pytest.raises(NotAllowedError):
        benches.town.do("fred", of_member, benches.town.crew, public("lena"), benches.town.now)
