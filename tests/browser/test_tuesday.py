"""
An evening acted out: a class of 24 from a list, a set in the room, everybody answers at once, a wrong key is found and put
right, the sheets are printed, and the due dates are in a calendar.

The instructor works in a browser; the learners are phones that speak HTTP, all at the same time.
"""

from __future__ import annotations

import re
import shutil
import threading
from concurrent.futures import ThreadPoolExecutor
from csv import DictReader
from html import unescape
from http.cookiejar import CookieJar
from io import BytesIO, StringIO
from urllib.error import HTTPError
from urllib.parse import urlencode
from urllib.request import HTTPCookieProcessor, Request, build_opener

import icalendar
import pytest
from pypdf import PdfReader
from sqlalchemy import select
from werkzeug.serving import make_server

from trainer.config import Settings
from trainer.problems.shelf import content_root
from trainer.problems.trial import as_typed
from trainer.progress.replayed import differences
from trainer.progress.sitting import sit_down
from trainer.records.engine import Database
from trainer.records.models import Grading, Person, Problem
from trainer.web.app import build

PEOPLE = 24
NAMES = tuple(f"Learner{nth:02d} Example" for nth in range(1, PEOPLE + 1))
OWN_PASSWORD = "a saw and a reamer 7"
#: What each learner does at the first question; the rest are right.
SUBTRACTED, LEFT_OUT = range(9), range(9, 13)
MARK, SHRINK = "offset-far-mark", "offset-shrink"


@pytest.fixture(scope="session")
def _planted(tmp_path_factory):
    """The content, with one file that takes the distance between the marks for the shrink."""
    root = tmp_path_factory.mktemp("planted")
    for part in ("questions", "lessons"):
        shutil.copytree(content_root() / part, root / part)
    file = root / "questions" / "bends" / f"{SHRINK}.toml"
    text = file.read_text("utf-8").replace('answer = "shrink"', 'answer = "spacing"')
    text = text.replace('["spacing", "spacing_handbook"]', '["shrink", "shrink_handbook"]')
    file.write_text(text, "utf-8")
    return root


@pytest.fixture
def site(_demo, _planted, tmp_path):
    """The demo site with that content, on an address of its own."""
    shutil.copyfile(_demo[0] / "site.db", tmp_path / "site.db")
    settings = Settings(
        instance=_demo[0],
        database=f"sqlite:///{tmp_path / 'site.db'}",
        content=_planted,
        secure_cookies=False,
        log_level="error",
    )
    app = build(settings)
    # Two at a time, like the workers that `trainer serve` starts.
    workers, answer = threading.BoundedSemaphore(2), app.wsgi_app

    def in_turn(environ, start):
        with workers:
            return answer(environ, start)

    app.wsgi_app = in_turn
    server = make_server("127.0.0.1", 0, app, threaded=True)
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    yield f"http://127.0.0.1:{server.server_port}"
    server.shutdown()
    thread.join()
    server.server_close()


class Evening:
    """The site that is served, seen from behind."""

    def __init__(self, site, file, content):
        self.site = site
        self.library = content
        self.database = Database(f"sqlite:///{file}")

    def drawn(self, problem):
        """The problem with its numbers, and whose it is."""
        with self.database.read() as session:
            person = session.scalars(select(Problem.person_id).where(Problem.public_id == problem)).one()
            return sit_down(session, self.library, person, problem).problem

    def typed(self, problem, route):
        """The answer of a route as a careful person types it."""
        drawn = self.drawn(problem)
        values = {one.id: one.value for one in reversed(drawn.mistakes)} | {"right": drawn.keys[0].value}
        return as_typed(drawn, values[route])[0]


class Phone:
    """A learner's phone: it follows where it is led, and sends forms as they stand, filled in."""

    def __init__(self, evening, name):
        self.evening = evening
        self.name = name
        self.opener = build_opener(HTTPCookieProcessor(CookieJar()))
        self.page = self.path = ""

    def ask(self, path, fields=None):
        data = urlencode(fields).encode() if fields is not None else None
        try:
            answer = self.opener.open(Request(self.evening.site + path, data))  # noqa: S310 - the served site
        except HTTPError as error:
            raise AssertionError(f"{self.name}: {path} answered {error.code}") from error
        with answer:
            self.page, self.path = answer.read().decode(), answer.url.removeprefix(self.evening.site)
        return self

    def hidden(self, name):
        return unescape(re.search(f'name="{name}" value="([^"]*)"', self.page)[1])

    def send(self, path, **fields):
        return self.ask(path, {"csrf_token": self.hidden("csrf_token"), **fields})

    def come_in(self, sign_in_name, first_password):
        """In with a slip: a password of the own, and what the class will see."""
        self.ask("/sign-in").send(self.path, sign_in_name=sign_in_name, password=first_password)
        fields = {"old_password": first_password, "new_password": OWN_PASSWORD, "once_more": OWN_PASSWORD}
        self.send("/account/password", **fields)
        if "I have read it" in self.page:
            self.send("/account/told")
        return self.ask("/today")

    def answer(self, work, position, route):
        """Open a line of the work and answer it."""
        self.ask(f"/work/{work}").send(f"/work/{work}/{position}")
        problem = self.path.rpartition("/")[2].partition("?")[0]
        text = self.evening.typed(problem, route)
        self.send(self.path, answer_key=self.hidden("answer_key"), answer=text)
        return problem


@pytest.fixture
def evening(site, tmp_path, _planted):
    from trainer.library.shelf import Library  # noqa: PLC0415 - read only where the evening is acted out

    acted = Evening(site, tmp_path / "site.db", Library(_planted))
    yield acted
    acted.database.close()


def all_at_once(phones, do):
    with ThreadPoolExecutor(PEOPLE) as pool:
        return list(pool.map(do, phones, range(PEOPLE)))


def route_of(nth):
    return "shrink-subtracted" if nth in SUBTRACTED else "no-shrink" if nth in LEFT_OUT else "right"


def fetched(screen, path):
    """A file that the page leads to, as bytes."""
    answer = screen.page.context.request.get(screen.base + path)
    assert answer.status == 200, f"{path} answered {answer.status}"
    return answer.body()


def make_class(desk):
    """A class, and its people from the list of a spreadsheet; sign-in names and first passwords by name."""
    desk.open("/groups")
    desk.page.locator("summary", has_text="Make a class").click()
    desk.fill(name="Tuesday evening")
    desk.press("Make a class")
    group = desk.path.rpartition("/")[2]
    desk.open(f"/groups/{group}/roster")
    lines = ["Last name;First name;Room", *(";".join((*reversed(name.split()), "12")) for name in NAMES)]
    desk.fill(text="\n".join(lines))
    desk.press("See what each line does")
    desk.press(f"Put {PEOPLE} people in")
    rows = desk.page.locator("table tbody tr").all()
    cells = [[cell.strip() for cell in row.locator("th, td").all_inner_texts()] for row in rows]
    return group, {name: (sign_in, password) for name, sign_in, password in cells}


def give_in_the_room(desk, group):
    desk.open(f"/groups/{group}")
    desk.press("Give work")
    desk.page.locator("#skill-bends-offset summary").click()
    desk.page.select_option(f"#count-{MARK}", "1")
    desk.page.select_option(f"#count-{SHRINK}", "1")
    desk.press("Go on with these")
    desk.fill(title="Offsets, tonight")
    desk.page.check("[name=kind][value=room]")
    desk.press("Give this work")
    work = desk.path.split("/")[2]
    desk.press("Open it for everybody")
    return work


def put_right(desk, rules):
    """The key of the planted question: another answer is right too, and everything is graded again."""
    desk.open(f"/keys/of/{rules}")
    desk.page.check("[name=remedy][value=also]")
    desk.fill(accepts="shrink", reason="The file took the distance between the marks for the shrink.")
    desk.press("Show whose results change")
    listed = desk.page.locator("main").inner_text()
    desk.press("Do it, and note it")
    return listed


def results_file(desk, work):
    return fetched(desk, f"/given/{work}/out/csv").decode("utf-8-sig")


def follow(desk, words):
    """The link that begins with these words, whatever note stands below them in it."""
    with desk.page.expect_navigation():
        desk.page.locator("main a", has_text=words).first.click()
    desk.look()


def reported(desk, family):
    """What the question report says of a family, and what it says of it by itself."""
    desk.open("/questions")
    for folded in desk.page.locator("main summary").all():
        folded.click()
    follow(desk, family.title)
    return desk.page.locator("main").inner_text()


def in_calendar(desk, site):
    """The feed of the instructor, read by another parser than wrote it."""
    desk.open("/account/calendar")
    desk.press("Make the address")
    address = desk.page.locator(".code__address").inner_text()
    feed = icalendar.Calendar.from_ical(fetched(desk, address.removeprefix(site)))
    assert any("Offsets, tonight" in str(event["SUMMARY"]) for event in feed.walk("VEVENT"))


def test_a_tuesday_evening(desk, people, evening):
    desk.sign_in(people["instructor"])
    group, slips = make_class(desk)
    assert set(slips) == set(NAMES)
    phones = [Phone(evening, name) for name in NAMES]
    all_at_once(phones, lambda phone, nth: phone.come_in(*slips[NAMES[nth]]))

    # In the room: everybody answers at once, and the screen leads with what goes wrong.
    work = give_in_the_room(desk, group)
    answered = all_at_once(phones, lambda phone, nth: phone.answer(work, 1, route_of(nth)))
    desk.open(f"/given/{work}/room")
    said = desk.page.locator(".slip__words").all_inner_texts()
    assert said[:2] == [f"9 of {PEOPLE} subtracted the shrink.", f"4 of {PEOPLE} left the shrink out."]
    desk.open(f"/given/{work}/wall")
    assert not any(name in desk.page.content() for name in NAMES)

    # Results are right to the answer.
    rows = {row["Name"]: row for row in DictReader(StringIO(results_file(desk, work)))}
    for nth, name in enumerate(NAMES):
        assert float(rows[name]["Points"]) == (1 if route_of(nth) == "right" else 0), name
    assert len(set(answered)) == PEOPLE

    # The planted key: all who are right are told that they are wrong; the button and the report both find it.
    all_at_once(phones, lambda phone, _: phone.answer(work, 2, "spacing-for-shrink"))
    claim = re.search(r'href="(/problems/[^"]+/key)"', phones[0].page)[1]
    phones[0].ask(claim).send(claim, own_answer="the shrink", why="The key is the distance between the marks.")
    desk.open("/keys")
    follow(desk, evening.library.families[SHRINK].title)
    assert "The key is the distance between the marks." in desk.page.locator("main").inner_text()
    assert "Check the key" in reported(desk, evening.library.families[SHRINK])
    assert "Check the key" not in reported(desk, evening.library.families[MARK])

    # Put right once: whose result changes is said before, and everybody's is graded again.
    listed = put_right(desk, evening.library.families[SHRINK].rules_hash)
    assert all(name in listed for name in NAMES)
    rows = {row["Name"]: row for row in DictReader(StringIO(results_file(desk, work)))}
    assert all(float(rows[name]["Points"]) == 1 + (route_of(nth) == "right") for nth, name in enumerate(NAMES))
    with evening.database.read() as session:
        query = select(Person.id).where(Person.display_name.in_(NAMES))
        assert [line for one in session.scalars(query) for line in differences(session, one)] == []
        first = select(Grading.verdict).order_by(Grading.id.desc()).limit(1)
        assert session.scalars(first).one() == "right"

    # On paper, and in a calendar.
    desk.open(f"/given/{work}/sheets")
    papers = PdfReader(BytesIO(fetched(desk, f"/given/{work}/sheets.pdf"))).pages
    assert all(any(name in page.extract_text() for page in papers) for name in NAMES)
    in_calendar(desk, evening.site)
