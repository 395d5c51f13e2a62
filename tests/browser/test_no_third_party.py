"""
No page asks anything of any other site, whatever its scripts and styles do: a walk along the links of the site, as a
person of each kind, with an eye on every request that the browser makes.

`tests/security/test_privacy.py` reads the same of the HTML of every page.
"""

from __future__ import annotations

from urllib.parse import urlsplit

import pytest
from werkzeug.exceptions import HTTPException

ROLES = ("apprentice", "instructor", "foreman", "owner")
#: Of each person, one page for each route that a link reaches, up to so many.
MOST_PAGES = 12
LINKS = "links => links.filter(one => !one.hasAttribute('download')).map(one => one.getAttribute('href'))"


class Walk:
    """One person's way along the links, each route once."""

    def __init__(self, screen, adapter):
        self.screen, self.adapter = screen, adapter
        self.asked, self.opened = [], {}
        screen.page.context.on("request", lambda request: self.asked.append(request.url))

    def go(self, seen):
        """Open what the links lead to, routes that nobody has `seen` yet before the others."""
        found = {self.route("/"): "/"}
        while len(self.opened) < MOST_PAGES and (left := sorted(found.keys() - self.opened.keys())):
            route = next((one for one in left if one not in seen), left[0])
            self.opened[route] = found[route]
            self.screen.page.goto(self.screen.base + found[route])
            for href in self.screen.page.eval_on_selector_all("a[href]", LINKS):
                if href.startswith("/") and (led := self.route(href)):
                    found.setdefault(led, href)

    def route(self, href):
        """The route of a page; None where it is no page, as a paper or a table to take along."""
        path = urlsplit(href).path
        try:
            endpoint, _ = self.adapter.match(path, "GET")
        except HTTPException:
            return None
        is_page = "." not in path.rpartition("/")[2] and not endpoint.startswith(("static", "health"))
        return endpoint if is_page else None

    @property
    def elsewhere(self):
        return [url for url in self.asked if not url.startswith((f"{self.screen.base}/", "data:", "blob:"))]


@pytest.fixture
def adapter(_served):
    return _served[0].url_map.bind("localhost")


def test_no_page_asks_anything_of_another_site(screens, people, adapter):
    seen = set()
    for role in ROLES:
        screen = screens("desk")
        screen.sign_in(people[role])
        walk = Walk(screen, adapter)
        walk.go(seen)

        assert len(walk.opened) == MOST_PAGES, walk.opened
        assert walk.elsewhere == [], role
        assert any(url.endswith(".css") for url in walk.asked), role
        seen |= walk.opened.keys()
    assert len(seen) > 2 * MOST_PAGES


def test_a_page_that_did_would_be_seen(desk, adapter):
    walk = Walk(desk, adapter)
    desk.page.context.route("**/*", lambda route: route.abort())

    desk.page.set_content(
        '<img src="http://elsewhere.example/a.png"><style>@import "//elsewhere.example/a.css"</style>'
    )

    assert walk.elsewhere[:1] == ["http://elsewhere.example/a.png"]
