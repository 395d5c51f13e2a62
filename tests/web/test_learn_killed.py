"""The server is killed between and during answers: what it acknowledged is on record, what was open is still open."""

from __future__ import annotations

import os
import re
import signal
import socket
import subprocess
import sys
import threading
import time
from html import unescape
from http.cookiejar import Cookie, CookieJar
from pathlib import Path
from random import Random
from urllib.error import HTTPError, URLError
from urllib.parse import urlencode
from urllib.request import HTTPCookieProcessor, HTTPRedirectHandler, build_opener

import pytest
from sqlalchemy import select

from trainer.accounts.passwords import CHEAP_PASSWORDS
from trainer.accounts.people import create_person
from trainer.accounts.sessions import open_session
from trainer.records.engine import Database
from trainer.records.migrate import upgrade
from trainer.records.models import Answer, Problem
from trainer.web.transactions import utc_now

TRAINER = Path(sys.executable).with_name("trainer")
ROUNDS = 4
BROKEN = (URLError, ConnectionError, TimeoutError, OSError)


class StayHere(HTTPRedirectHandler):
    """A redirect is the acknowledgement; it isn't followed."""

    def redirect_request(self, *_):
        return None


class Site:
    """A site of its own under the real server, one browser that is signed in, and what was acknowledged to it."""

    def __init__(self, folder):
        self.folder = folder
        self.database = Database(f"sqlite:///{folder / 'trainer.sqlite'}")
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port = free.getsockname()[1]
        self.jar = CookieJar()
        self.opener = build_opener(HTTPCookieProcessor(self.jar), StayHere)
        self.acknowledged = []
        self.server = None

    def start(self):
        environ = {name: value for name, value in os.environ.items() if not name.startswith("TRAINER_")}
        environ |= {"TRAINER_INSTANCE": str(self.folder), "TRAINER_SECURE_COOKIES": "no"}
        with (self.folder / "log").open("ab") as log:
            command = [TRAINER, "serve", "--port", str(self.port)]
            self.server = subprocess.Popen(command, env=environ, stdout=log, stderr=log, start_new_session=True)
        until = time.monotonic() + 60
        while time.monotonic() < until:
            try:
                return self.get("/healthz")
            except BROKEN:
                time.sleep(0.1)
        pytest.fail((self.folder / "log").read_text())

    def kill(self):
        """All of it at once, as when the power goes."""
        os.killpg(self.server.pid, signal.SIGKILL)
        self.server.wait()

    def sign_in(self):
        with self.database.write() as session:
            person = create_person(
                session,
                sign_in_name="pat",
                display_name="Pat",
                password="three words apart",
                now=utc_now(),
                passwords=CHEAP_PASSWORDS,
            )
            session.flush()
            token, _ = open_session(session, person.id, "a test", utc_now())
        rest = {"port": None, "port_specified": False, "domain_specified": False, "domain_initial_dot": False}
        rest |= {"path_specified": True, "secure": False, "expires": None, "discard": False, "rest": {}}
        self.jar.set_cookie(
            Cookie(0, "trainer-reader", token, domain="127.0.0.1", path="/", comment=None, comment_url=None, **rest)
        )

    def get(self, path):
        status, _, text = self.ask(path)
        assert status == 200, f"{path} answered {status}"
        return text

    def post(self, path, fields):
        """Where the site sends the browser on to."""
        status, location, text = self.ask(path, urlencode(fields).encode())
        assert status == 303, f"{path} answered {status}: {text[:500]}"
        return location

    def ask(self, path, body=None):
        """Status, where to, and text; one of BROKEN when no answer came."""
        try:
            with self.opener.open(f"http://127.0.0.1:{self.port}{path}", body, timeout=30) as answer:
                return answer.status, None, answer.read().decode()
        except HTTPError as answer:
            return answer.code, answer.headers["Location"], answer.read().decode()

    def answer(self, problem, typed):
        page = self.get(problem)
        self.post(problem, {**fields_of(page), "answer": typed})
        self.acknowledged.append(typed)

    def on_record(self):
        with self.database.read() as session:
            return session.scalars(select(Answer.typed).order_by(Answer.sequence)).all()


def fields_of(page):
    return {
        name: unescape(re.search(f'name="{name}" value="([^"]+)"', page)[1]) for name in ("csrf_token", "answer_key")
    }


def question_of(page):
    return re.search(r'<div class="job__question.*?</div>\s*</div>', page, re.DOTALL)[0]


@pytest.fixture
def site(tmp_path):
    upgrade(f"sqlite:///{tmp_path / 'trainer.sqlite'}")
    made = Site(tmp_path)
    made.sign_in()
    made.start()
    yield made
    made.kill()
    made.database.close()


@pytest.fixture
def problem(site):
    """The address of a problem that was issued; no answer to it is a hundred feet long."""
    token = unescape(re.search('name="csrf_token" value="([^"]+)"', site.get("/practice"))[1])
    return site.post("/practice", {"csrf_token": token, "family": "offset-spacing"})


def answer_until_killed(site, problem, nth, pause):
    """One answer for sure, then more until the server dies: before the next is sent, while it is judged or committed."""
    site.answer(problem, f"100 ft {nth} in")
    killer = threading.Timer(pause, site.kill)
    killer.start()
    for k in range(101, 10_000):
        try:
            site.answer(problem, f"{k} ft {nth} in")
        except BROKEN:
            return killer.join()
    pytest.fail("the server was not killed")


def test_no_answer_that_was_acknowledged_is_lost_and_the_open_problem_stays_as_it_was(site, problem):
    question = question_of(site.get(problem))
    moments = Random(7)
    for nth in range(1, ROUNDS + 1):
        answer_until_killed(site, problem, nth, moments.uniform(0, 0.4))
        site.start()

        kept = site.on_record()
        assert [typed for typed in kept if typed in site.acknowledged] == site.acknowledged
        # One in each round may have been committed when the line broke before its acknowledgement.
        assert len(kept) <= len(site.acknowledged) + nth
        assert question_of(site.get(problem)) == question
        with site.database.read() as session:
            assert session.scalars(select(Problem.closed_at)).one() is None

    site.answer(problem, "99 ft")
    assert site.on_record()[-1] == "99 ft"


def test_a_form_that_was_sent_when_the_server_died_can_be_sent_again_and_counts_once(site, problem):
    form = fields_of(site.get(problem)) | {"answer": "99 ft"}
    assert site.post(problem, form) == problem
    site.kill()
    with pytest.raises(BROKEN):
        site.post(problem, form)
    site.start()

    assert site.post(problem, form) == problem
    assert site.on_record() == ["99 ft"]
