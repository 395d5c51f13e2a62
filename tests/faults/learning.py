"""A learner's browser, no more than the wire: pages, forms with their tokens, answers, and what was acknowledged to it."""

from __future__ import annotations

import http.client
import re
import threading
import time
from dataclasses import dataclass, field
from html import unescape
from random import Random
from urllib.parse import urlencode

from served import BROKEN

__all__ = ["Browser", "Learner", "RefusedError", "under_load"]

SEE_OTHER, UNAVAILABLE = 303, 503
FIELD = r'name="{}" value="([^"]+)"'
#: Chance that somebody answers right, and that he waits a little before he tries again what had no answer.
RIGHT, PAUSE = 0.4, 0.03


class RefusedError(AssertionError):
    """The site answered with what no learner should meet."""


@dataclass
class Browser:
    """
    Cookies and a line to the site.

    Args:
        port: Where the site listens.
        token: Of the signed-in learner.
        patience: How long to try again what had no answer [s]; 0 to let it fail.
        broken: How often there was none.
        unavailable: How often the site said that it could not do it now.
        seconds: Of each request that was answered, as (path's kind, seconds).
    """

    port: int
    token: str
    patience: float = 60.0
    broken: int = 0
    unavailable: int = 0
    seconds: list = field(default_factory=list)
    cookies: dict = field(default_factory=dict)

    def __post_init__(self):
        self.cookies["trainer-reader"] = self.token

    def get(self, path, kind="page"):
        """The text of a page."""
        status, _, text = self.ask(path, kind=kind)
        if status != 200:
            raise RefusedError(f"GET {path} answered {status}: {text[-1500:]}")
        return text

    def post(self, path, fields, kind="form"):
        """Where the site sends the browser on to."""
        status, location, text = self.ask(path, urlencode(fields, doseq=True), kind=kind)
        if status != SEE_OTHER:
            raise RefusedError(f"POST {path} answered {status}: {text[-1500:]}")
        return location

    def ask(self, path, body=None, kind=""):
        """Status, where to, and text; tried again until there is an answer that holds."""
        until = time.monotonic() + self.patience
        while True:
            try:
                begun = time.perf_counter()
                status, location, text = self.once(path, body)
                self.seconds.append((kind, time.perf_counter() - begun))
                if status != UNAVAILABLE or not self.patience:
                    return status, location, text
                self.unavailable += 1
            except BROKEN:
                self.broken += 1
                if not self.patience:
                    raise
            if time.monotonic() > until:
                raise TimeoutError(f"{path} had no answer for {self.patience} s")
            time.sleep(PAUSE)

    def once(self, path, body=None):
        """One request; one of BROKEN when no whole answer came."""
        line = http.client.HTTPConnection("127.0.0.1", self.port, timeout=30)
        headers = {"Cookie": "; ".join(f"{name}={value}" for name, value in self.cookies.items())}
        if body is not None:
            headers["Content-Type"] = "application/x-www-form-urlencoded"
        try:
            line.request("GET" if body is None else "POST", path, body, headers)
            answer = line.getresponse()
            text = answer.read().decode()
        finally:
            line.close()
        for sent in answer.headers.get_all("Set-Cookie", ()):
            name, _, value = sent.partition(";")[0].partition("=")
            self.cookies[name] = value
        return answer.status, answer.headers["Location"], text


class Learner:
    """
    Somebody who works through what was given, line after line, again and again with new numbers.

    Args:
        school: The site's class.
        which: Which of its learners.
        port: Where the site listens.
        seed: Decides what is answered.
    """

    def __init__(self, school, which, port, seed):
        self.school, self.who = school, school.learners[which]
        self.browser = Browser(port, self.who.token)
        self.random = Random(f"{seed} {which}")
        self.lines, self.line = None, 0
        self.problem, self.question, self.page = None, "", ""
        self.acknowledged = {}

    def work_until(self, stop):
        """Answer until told to stop; what was sent is seen through."""
        while not stop.is_set():
            self.turn()

    def turn(self):
        """One answer, from the page with the question to its acknowledgement."""
        if self.problem is None:
            self.open_next()
        self.hand_in(self.form(), None)

    def form(self):
        """The question's page as a form; the question must be the one that it was before."""
        self.page = self.browser.get(self.problem)
        if self.question not in ("", question_of(self.page)):
            raise RefusedError(f"{self.problem} is another question than before")
        self.question = question_of(self.page)
        return form_of(self.page)

    def hand_in(self, form, typed):
        """Send an answer, note its acknowledgement, and look at what came of it; None for an answer of one's own choice."""
        typed = typed or self.chosen(self.page)
        if self.browser.post(self.problem, form | {"answer": typed}, kind="answer") != self.problem:
            raise RefusedError(f"an answer to {self.problem} was sent elsewhere")
        self.acknowledged[form["answer_key"]] = (self.problem.rpartition("/")[2], ", ".join(typed))
        if 'name="answer_key"' not in self.browser.get(self.problem):
            self.problem, self.question = None, ""

    def open_next(self):
        """The next line of the work, with new numbers where it was answered before."""
        page = self.browser.get(f"/work/{self.school.work}")
        self.lines = len(re.findall(rf'action="/work/{self.school.work}/\d+"', page))
        self.line = self.line % self.lines + 1
        fields = {"csrf_token": value_of(page, "csrf_token"), "new": "numbers"}
        self.problem = self.browser.post(f"/work/{self.school.work}/{self.line}", fields, kind="open")

    def chosen(self, page):
        """What is answered: the right thing now and then, else something that nobody finds right."""
        if self.random.random() < RIGHT:
            from school import right_answer  # noqa: PLC0415 - the wire alone, as a benchmark wants it, needs no program

            return right_answer(self.school.database, self.who.person_id, self.problem.rpartition("/")[2])
        options = re.findall(r'name="answer" value="([^"]+)"', page)
        if options:
            return [unescape(self.random.choice(options))]
        return [str(self.random.randrange(301, 999))]


def under_load(people, happens):
    """
    Let something happen while everybody answers; then each brings what he had begun to its end.

    Args:
        people: The learners.
        happens: Called once, while they are at work.
    """
    stop, failed = threading.Event(), []

    def work(learner):
        try:
            learner.work_until(stop)
        except BaseException as error:  # noqa: BLE001 - raised below, in the thread that asks.
            failed.append(error)

    at_work = [threading.Thread(target=work, args=(learner,)) for learner in people]
    for one in at_work:
        one.start()
    try:
        happens()
    finally:
        stop.set()
        for one in at_work:
            one.join()
    if failed:
        raise failed[0]


def form_of(page):
    """The token and the key of an answer's form."""
    return {name: value_of(page, name) for name in ("csrf_token", "answer_key")}


def question_of(page):
    """The question itself, with its numbers."""
    return re.search(r'<div class="job__question.*?</div>\s*</div>', page, re.DOTALL)[0]


def value_of(page, name):
    """The value of a hidden field."""
    found = re.search(FIELD.format(name), page)
    if found is None:
        raise RefusedError(f"the page has no {name}: {page[:2000]}")
    return unescape(found[1])
