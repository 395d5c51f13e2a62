"""
Fixtures for tests in a real browser: headless Chromium at the width of a phone and of a desk, light and dark.

`screen` runs a test four times; `phone` and `desk` once. Whatever page a test opens or is led to by `open`, `press` and
`send` is looked at: axe finds nothing, nothing is wider than the screen, no target on a phone is too small for a thumb,
nothing was refused by the content security policy, nothing failed to load.

The site is the demo site with a week of its people's practice, a fresh copy for each test, served on a loopback address.
"""

from __future__ import annotations

import re
import shutil
import threading
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, sync_playwright
from werkzeug.serving import make_server

from trainer.config import Settings
from trainer.demo import build_demo_site
from trainer.records.engine import Database
from trainer.web.app import build
from trainer.web.transactions import keep_records, utc_now

CHROMIUM = Path("/usr/bin/chromium")
ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
    "--disable-quic",
    # A container has little shared memory, and a page that finds none left stands still.
    "--disable-dev-shm-usage",
]
SIZES = {"phone": {"width": 390, "height": 844}, "desk": {"width": 1280, "height": 900}}
#: Rules of the standard that pages promise to keep.
RULES = {
    "runOnly": {"type": "tag", "values": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]}
}
#: Side of a square that a thumb hits [CSS px].
THUMB = 44
#: Targets that are smaller than a thumb; a link inside a line of text is as high as its line, and a box to tick is
#: hit anywhere on its row.
TOO_SMALL = """(thumb) => [...document.querySelectorAll('a, button, input, select, textarea, summary')]
    .filter(one => one.type !== 'hidden' && one.checkVisibility() && getComputedStyle(one).display !== 'inline')
    .map(one => one.closest('label') ?? one)
    .filter(one => { const box = one.getBoundingClientRect(); return box.right > 0 && box.bottom > 0; })
    .map(one => [one.outerHTML.slice(0, 120), one.getBoundingClientRect()])
    .filter(([, box]) => box.height < thumb || box.width < thumb)
    .map(([text, box]) => `${text}: ${Math.round(box.width)} x ${Math.round(box.height)}`)"""


def pytest_collection_modifyitems(items):
    for item in items:
        if Path(__file__).parent in item.path.parents:
            item.add_marker("browser")


#: What differs each time a page is sent: form tokens.
CHANGING = re.compile(r'(?<=name="csrf_token" value=")[^"]+')
LOOKED_AT: set[tuple] = set()


@dataclass
class Screen:
    """One window, and what went wrong in it."""

    page: Page
    base: str
    size: str
    scheme: str
    faults: list[str] = field(default_factory=list)

    def __post_init__(self):
        self.page.on("console", lambda said: self._note(said.text, expected=said.type not in {"error", "warning"}))
        self.page.on("pageerror", lambda error: self._note(str(error)))
        self.page.on("requestfailed", self._note_lost)

    def _note(self, text, *, expected=False):
        # A page that is refused on purpose is no fault of the page.
        if not expected and "Failed to load resource: the server responded with a status of 4" not in text:
            self.faults.append(text)

    def _note_lost(self, request):
        # What was under way when the page was left is given up by the browser itself.
        self._note(f"{request.url} {request.failure}", expected=request.failure == "net::ERR_ABORTED")

    def open(self, path):
        """Go to a page of the site, and look at it."""
        self.page.goto(self.base + path)
        self.look()

    def press(self, name):
        """Press the button or follow the link with these words, and look at where it leads."""
        found = self.page.get_by_role("button", name=name, exact=True)
        target = found if found.count() else self.page.get_by_role("link", name=name, exact=True)
        with self.page.expect_navigation():
            target.first.click()
        self.look()

    def fill(self, **fields):
        """Type into fields by their names."""
        for name, text in fields.items():
            self.page.fill(f"[name={name}]", text)

    def sign_in(self, person):
        """Sign in as one of the demo site's people; where that leads is looked at, the page of signing in isn't."""
        self.page.goto(self.base + "/sign-in")
        self.fill(sign_in_name=person.sign_in_name, password=person.password)
        self.page.locator("main").get_by_role("button", name="Sign in").click()
        self.page.wait_for_url(lambda url: "/sign-in" not in url)
        self.look()

    @property
    def heading(self):
        return self.page.locator("h1").inner_text()

    @property
    def path(self):
        return self.page.url.removeprefix(self.base)

    def look(self):
        """Hold the page that shows to what is promised of every page."""
        where = f"{self.path} on a {self.size}"
        assert not self.faults, f"{where}: {self.faults}"
        # The same page in the same window was looked at before: it takes half a second each time.
        shown = (self.size, self.scheme, self.path, CHANGING.sub("", self.page.content()))
        if shown in LOOKED_AT:
            return
        LOOKED_AT.add(shown)
        found = Axe().run(self.page, options=RULES)
        assert not found.response["violations"], f"{where}:\n{found.generate_report()}"
        wide = self.page.evaluate("document.scrollingElement.scrollWidth - document.documentElement.clientWidth")
        assert wide <= 0, f"{where} is {wide} px wider than the screen"
        if self.size == "phone":
            small = self.page.evaluate(TOO_SMALL, THUMB)
            assert not small, f"{where} has targets too small for a thumb:\n" + "\n".join(small)


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    if not CHROMIUM.exists():
        pytest.skip(f"needs {CHROMIUM}: apt-get install chromium")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=str(CHROMIUM), args=ARGUMENTS)
        yield browser
        browser.close()


@pytest.fixture(scope="session")
def _demo(tmp_path_factory):
    """The demo site, made once: its folder and whom one can sign in as."""
    folder = tmp_path_factory.mktemp("demo")
    people = build_demo_site(_settings(folder), weeks=1)
    return folder, {person.role: person for person in people}


def _settings(folder):
    return Settings(
        instance=folder,
        database=f"sqlite:///{folder / 'site.db'}",
        development=True,
        secure_cookies=False,
        log_level="error",
    )


@pytest.fixture(scope="session")
def _served(_demo) -> Iterator[tuple]:
    app = build(_settings(_demo[0]))
    server = make_server("127.0.0.1", 0, app, threaded=True)
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    yield app, f"http://127.0.0.1:{server.server_port}"
    server.shutdown()
    thread.join()
    server.server_close()


@pytest.fixture
def site(_served, _demo, tmp_path) -> Iterator[str]:
    """The address of the site, its records as they were at the start."""
    app, address = _served
    file = tmp_path / "site.db"
    shutil.copyfile(_demo[0] / "site.db", file)
    opened = Database(f"sqlite:///{file}")
    keep_records(app, opened, utc_now)
    yield address
    opened.close()


@pytest.fixture
def people(_demo):
    """Whom one can sign in as, by role: apprentice, instructor, foreman, owner."""
    return _demo[1]


@pytest.fixture
def screens(chromium, site):
    """Makes screens."""
    opened = []

    def make(size, scheme="light", *, script=True):
        context = chromium.new_context(
            viewport=SIZES[size], color_scheme=scheme, has_touch=size == "phone", java_script_enabled=script
        )
        context.set_default_timeout(10_000)
        opened.append(context)
        return Screen(context.new_page(), site, size, scheme)

    yield make
    for context in opened:
        context.close()


@pytest.fixture(params=["phone-light", "phone-dark", "desk-light", "desk-dark"])
def screen(request, screens) -> Screen:
    """A screen, once in each size and theme."""
    return screens(*request.param.split("-"))


@pytest.fixture
def phone(screens) -> Screen:
    return screens("phone")


@pytest.fixture
def desk(screens) -> Screen:
    return screens("desk")
