"""The second factor: setting it up, signing in with it, losing it."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta

import pytest
from pyotp import TOTP
from sqlalchemy import select

from trainer.accounts.actor import actor_for
from trainer.accounts.audit import lines_about
from trainer.accounts.codes import new_paper_codes
from trainer.accounts.half import CodeDue
from trainer.accounts.passwords import CHEAP_PASSWORDS
from trainer.accounts.people import delete_person, reset_password
from trainer.accounts.second_factor import (
    Confirmed,
    begin,
    begun,
    clear,
    confirm,
    factor_of,
    renew_paper_codes,
    turn_off,
)
from trainer.accounts.sessions import sign_out
from trainer.accounts.sign_in import Proved, Refused, SignedIn, finish_sign_in, prove
from trainer.records.models import HalfSignIn, RecoveryCode, SecondFactor

KEY = "the key of this site, which is long enough"
HALF_MINUTE = timedelta(seconds=30)


class Kim:
    """Somebody with an app, in a database; `now` moves on with each code that the app shows."""

    def __init__(self, database, now, make_person, try_to_sign_in):
        self.database, self.now, self._try = database, now, try_to_sign_in
        with database.write() as session:
            self.id = make_person(session).id
        self.app = None
        self.paper = ()

    def do(self, use_case, *arguments, **named):
        with self.database.write() as session:
            return use_case(session, *arguments, **named)

    def sees(self, use_case, *arguments, **named):
        with self.database.read() as session:
            return use_case(session, *arguments, **named)

    def sets_up(self, keep_token=None):
        self.do(begin, self.id, self.now, key=KEY)
        self.app = TOTP(self.sees(begun, self.id, self.now, key=KEY).secret)
        self.paper, kept = new_paper_codes(CHEAP_PASSWORDS)
        more = {"key": KEY, "paper": kept, "keep_token": keep_token}
        return self.do(confirm, self.id, self.next_code(), self.now, **more)

    def next_code(self):
        self.now += HALF_MINUTE
        return self.app.at(self.now)

    def types_password(self, **others):
        return self.do(self._try, now=self.now, **others)

    def types_code(self, due, code, **others):
        values = {"device": "a phone", "now": self.now, "key": KEY, "passwords": CHEAP_PASSWORDS}
        return self.do(finish_sign_in, due.token, code, **values | others)

    def notes(self):
        return [line.what for line in self.sees(lines_about, self.id)]

    def is_in(self, token):
        return self.sees(actor_for, token, self.now) is not None


@pytest.fixture
def kim(any_database, now, make_person, try_to_sign_in):
    return Kim(any_database, now, make_person, try_to_sign_in)


@pytest.fixture
def kim_with_app(kim):
    assert kim.sets_up() == Confirmed()
    return kim


def test_without_it_the_password_alone_signs_in(kim):
    assert isinstance(kim.types_password(), SignedIn)


def test_with_it_the_password_opens_nothing_and_the_code_signs_in(kim_with_app):
    due = kim_with_app.types_password()

    assert isinstance(due, CodeDue)
    assert not kim_with_app.is_in(due.token)
    signed_in = kim_with_app.types_code(due, kim_with_app.next_code())
    assert isinstance(signed_in, SignedIn)
    assert signed_in.token != due.token
    assert kim_with_app.is_in(signed_in.token)
    assert kim_with_app.sees(actor_for, signed_in.token, kim_with_app.now).has_second_factor


def test_a_wrong_password_asks_for_no_code(kim_with_app):
    assert isinstance(kim_with_app.types_password(password="something else"), Refused)


def test_the_code_of_the_set_up_signs_nobody_in(kim):
    kim.sets_up()
    used = kim.app.at(kim.now)

    assert isinstance(kim.types_code(kim.types_password(), used), Refused)


def test_a_code_counts_once_also_within_its_time(kim_with_app):
    first, second = kim_with_app.types_password(), kim_with_app.types_password()
    code = kim_with_app.next_code()

    assert isinstance(kim_with_app.types_code(first, code), SignedIn)
    assert isinstance(kim_with_app.types_code(second, code), Refused)


def test_a_half_sign_in_works_once(kim_with_app):
    due = kim_with_app.types_password()
    kim_with_app.types_code(due, kim_with_app.next_code())

    assert kim_with_app.types_code(due, kim_with_app.next_code()) is None


def test_a_half_sign_in_is_over_after_ten_minutes(kim_with_app):
    due = kim_with_app.types_password()
    kim_with_app.now += timedelta(minutes=10)

    assert kim_with_app.types_code(due, kim_with_app.next_code()) is None


@pytest.mark.parametrize("odd", ["", "x", "\x00", "\ud800", "x" * 100_000])
def test_an_odd_token_of_a_half_sign_in_is_nobodys(kim_with_app, odd):
    assert kim_with_app.types_code(CodeDue(odd, kim_with_app.now), kim_with_app.next_code()) is None


def test_the_session_that_the_browser_held_ends_with_the_code_and_not_before(kim_with_app):
    held = kim_with_app.types_code(kim_with_app.types_password(), kim_with_app.next_code()).token
    due = kim_with_app.types_password(old_token=held)
    assert kim_with_app.is_in(held)

    kim_with_app.types_code(due, kim_with_app.next_code(), old_token=held)

    assert not kim_with_app.is_in(held)


def test_guessing_codes_is_slowed_whichever_sign_in_they_come_from_and_the_person_reads_of_it(kim_with_app):
    tries = [kim_with_app.types_code(kim_with_app.types_password(), "000000") for _ in range(6)]

    assert [one.wait for one in tries] == [timedelta(0)] * 5 + [timedelta(minutes=15)]
    due = kim_with_app.types_password()
    assert kim_with_app.types_code(due, kim_with_app.next_code()).wait
    assert kim_with_app.notes().count("second-factor.guessed") == 1
    kim_with_app.now += timedelta(minutes=16)
    assert isinstance(kim_with_app.types_code(kim_with_app.types_password(), kim_with_app.next_code()), SignedIn)


def test_a_code_on_paper_stands_in_once_and_is_noted(kim_with_app):
    first, second = kim_with_app.types_password(), kim_with_app.types_password()

    assert isinstance(kim_with_app.types_code(first, kim_with_app.paper[3].upper().replace("-", " ")), SignedIn)
    assert isinstance(kim_with_app.types_code(second, kim_with_app.paper[3]), Refused)
    assert kim_with_app.sees(factor_of, kim_with_app.id, key=KEY).codes_left == 9
    assert "second-factor.paper" in kim_with_app.notes()


def test_a_code_on_paper_with_another_end_is_wrong(kim_with_app):
    right = kim_with_app.paper[0]
    wrong = right[:-1] + ("a" if right[-1] != "a" else "b")

    assert isinstance(kim_with_app.types_code(kim_with_app.types_password(), wrong), Refused)
    assert isinstance(kim_with_app.types_code(kim_with_app.types_password(), right), SignedIn)


def test_new_codes_on_paper_replace_the_old_ones_for_a_code(kim_with_app):
    old, (new, kept) = kim_with_app.paper, new_paper_codes(CHEAP_PASSWORDS)
    more = {"key": KEY, "passwords": CHEAP_PASSWORDS, "paper": kept}

    assert isinstance(kim_with_app.do(renew_paper_codes, kim_with_app.id, "000000", kim_with_app.now, **more), Refused)
    code = kim_with_app.next_code()
    assert kim_with_app.do(renew_paper_codes, kim_with_app.id, code, kim_with_app.now, **more) == Confirmed()

    assert isinstance(kim_with_app.types_code(kim_with_app.types_password(), old[0]), Refused)
    assert isinstance(kim_with_app.types_code(kim_with_app.types_password(), new[0]), SignedIn)


def test_setting_up_ends_the_other_sessions(kim):
    here, there = kim.types_password().token, kim.types_password().token
    kim.sets_up(keep_token=here)

    assert kim.is_in(here)
    assert not kim.is_in(there)


def test_a_wrong_first_code_sets_nothing_up(kim):
    kim.do(begin, kim.id, kim.now, key=KEY)
    refused = kim.do(confirm, kim.id, "000000", kim.now, key=KEY, paper=(), keep_token=None)

    assert isinstance(refused, Refused)
    assert kim.sees(factor_of, kim.id, key=KEY) is None
    assert isinstance(kim.types_password(), SignedIn)


def test_a_set_up_waits_an_hour_and_a_new_one_draws_another_secret(kim):
    kim.do(begin, kim.id, kim.now, key=KEY)
    first = kim.sees(begun, kim.id, kim.now, key=KEY).secret
    kim.do(begin, kim.id, kim.now, key=KEY)

    assert kim.sees(begun, kim.id, kim.now, key=KEY).secret != first
    late = kim.now + timedelta(hours=1)
    assert kim.sees(begun, kim.id, late, key=KEY) is None
    assert kim.do(confirm, kim.id, "000000", late, key=KEY, paper=(), keep_token=None) is None


def test_one_in_force_is_not_begun_anew_nor_shown(kim_with_app):
    kim_with_app.do(begin, kim_with_app.id, kim_with_app.now, key=KEY)

    assert kim_with_app.sees(begun, kim_with_app.id, kim_with_app.now, key=KEY) is None
    assert isinstance(kim_with_app.types_password(), CodeDue)


def test_turning_it_off_takes_a_code_and_ends_the_other_sessions(kim_with_app):
    here = kim_with_app.types_code(kim_with_app.types_password(), kim_with_app.next_code()).token
    there = kim_with_app.types_code(kim_with_app.types_password(), kim_with_app.next_code()).token
    more = {"key": KEY, "passwords": CHEAP_PASSWORDS, "keep_token": here}

    assert isinstance(kim_with_app.do(turn_off, kim_with_app.id, "000000", kim_with_app.now, **more), Refused)
    code = kim_with_app.next_code()
    assert kim_with_app.do(turn_off, kim_with_app.id, code, kim_with_app.now, **more) == Confirmed()

    assert (kim_with_app.is_in(here), kim_with_app.is_in(there)) == (True, False)
    assert isinstance(kim_with_app.types_password(), SignedIn)


def test_a_new_password_from_somebody_else_does_not_get_around_it(kim_with_app):
    once = kim_with_app.do(reset_password, kim_with_app.id, kim_with_app.now, passwords=CHEAP_PASSWORDS)

    assert isinstance(kim_with_app.types_password(password=once), CodeDue)


def test_a_new_password_ends_what_waited_for_a_code(kim_with_app):
    due = kim_with_app.types_password()
    kim_with_app.do(reset_password, kim_with_app.id, kim_with_app.now, passwords=CHEAP_PASSWORDS)

    assert kim_with_app.types_code(due, kim_with_app.next_code()) is None


def test_who_lost_phone_and_paper_has_it_cleared_which_ends_all_sessions_and_is_noted(kim_with_app):
    here = kim_with_app.types_code(kim_with_app.types_password(), kim_with_app.next_code()).token

    assert kim_with_app.do(clear, kim_with_app.id, kim_with_app.now)
    assert not kim_with_app.do(clear, kim_with_app.id, kim_with_app.now)

    assert not kim_with_app.is_in(here)
    assert isinstance(kim_with_app.types_password(), SignedIn)
    assert kim_with_app.notes().count("second-factor.cleared") == 1


def test_under_another_key_the_app_is_wrong_and_says_why_and_paper_still_works(kim_with_app):
    other = "another key of this site, as long as it"
    refused = kim_with_app.types_code(kim_with_app.types_password(), kim_with_app.next_code(), key=other)

    assert refused.reason.id == "accounts.code-of-old-key"
    assert kim_with_app.sees(factor_of, kim_with_app.id, key=other).key_changed
    signed_in = kim_with_app.types_code(kim_with_app.types_password(), kim_with_app.paper[0], key=other)
    assert isinstance(signed_in, SignedIn)


def test_neither_secret_nor_codes_are_in_the_tables(kim_with_app):
    secrets = {kim_with_app.app.secret, *kim_with_app.paper, *(one.replace("-", "") for one in kim_with_app.paper)}
    with kim_with_app.database.read() as session:
        rows = [*session.scalars(select(SecondFactor)), *session.scalars(select(RecoveryCode))]
        held = {str(value) for row in rows for value in vars(row).values()}

    assert len(rows) == 11
    assert not secrets & held


def test_deleting_the_person_takes_all_of_it(kim_with_app):
    kim_with_app.types_password()
    kim_with_app.do(delete_person, kim_with_app.id, kim_with_app.now)

    with kim_with_app.database.read() as session:
        left = [session.scalars(select(table)).all() for table in (SecondFactor, RecoveryCode, HalfSignIn)]
    assert left == [[], [], []]


def test_showing_anew_who_one_is_takes_the_password_and_another_token(kim):
    token = kim.types_password().token
    kim.now += timedelta(hours=2)
    more = {"token": token, "passwords": CHEAP_PASSWORDS}

    assert isinstance(kim.do(prove, kim.id, "something else", kim.now, **more), Refused)
    assert kim.sees(actor_for, token, kim.now).proved_at == kim.now - timedelta(hours=2)
    proved = kim.do(prove, kim.id, "four plain words here", kim.now, **more)

    assert isinstance(proved, Proved)
    assert not kim.is_in(token)
    assert kim.sees(actor_for, proved.token, kim.now).proved_at == kim.now
    assert proved.expires_at == kim.now - timedelta(hours=2) + timedelta(days=60)


def test_showing_who_one_is_does_not_revive_a_session_that_has_ended(kim):
    token = kim.types_password().token
    kim.do(sign_out, token, kim.now)

    refused = kim.do(prove, kim.id, "four plain words here", kim.now, token=token, passwords=CHEAP_PASSWORDS)

    assert refused.reason.id == "accounts.signed-out-meanwhile"
    assert not kim.is_in(token)


def test_guessing_the_password_at_a_signed_in_browser_is_slowed(kim):
    more = {"token": kim.types_password().token, "passwords": CHEAP_PASSWORDS}

    tries = [kim.do(prove, kim.id, "something else", kim.now, **more) for _ in range(7)]

    assert [bool(one.wait) for one in tries] == [False] * 6 + [True]


def test_a_code_that_is_sent_twice_at_the_same_moment_counts_once(kim_with_app):
    dues = [kim_with_app.types_password() for _ in range(4)]
    code = kim_with_app.next_code()

    with ThreadPoolExecutor(len(dues)) as pool:
        outcomes = [*pool.map(lambda due: kim_with_app.types_code(due, code), dues)]

    assert sorted(type(one).__name__ for one in outcomes) == ["Refused"] * 3 + ["SignedIn"]
