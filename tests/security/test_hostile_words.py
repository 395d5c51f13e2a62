"""
Hostile words in every lesson, question file and rule of a place, and in whatever people typed: each page comes out harmless.

The site is one whose content somebody spoilt, and into whose records hostile words came past all readers. Nobody's page
may hold a tag or an attribute that its templates do not write, lead to where no link leads, or fetch from elsewhere; a
paper is set and shows the words as they are.
"""

from __future__ import annotations

import re
from html.parser import HTMLParser
from io import BytesIO
from urllib.parse import urlsplit

import pytest
from pypdf import PdfReader

#: Elements that pages have no use for, wherever they would come from.
NEVER = {
    "base",
    "embed",
    "foreignobject",
    "frame",
    "iframe",
    "object",
    "style",
    "zq9",
    "animate",
    "set",
    "audio",
    "video",
}
ADDRESSES = {"href", "src", "action", "formaction", "poster", "srcset", "xlink:href", "data"}


class Harm(HTMLParser):
    """What a page holds that it should not; `seen` has the hostile words that stand in it as words."""

    def __init__(self, text):
        super().__init__(convert_charrefs=True)
        self.found, self.seen, self._open = [], set(), ""
        self.feed(text)
        self.close()

    def handle_starttag(self, tag, attrs):
        self._open = tag
        given = dict(attrs)
        if tag in NEVER or (tag == "script" and not given.get("src")):
            self.found.append(f"<{tag}>")
        for name, value in attrs:
            if name.startswith("on") or name in {"style", "srcdoc"}:
                self.found.append(f'<{tag} {name}="{value}">')
            if name in ADDRESSES and leads_out(value or "") and not (tag == "a" and is_told(value, given)):
                self.found.append(f'<{tag} {name}="{value}">')

    handle_startendtag = handle_starttag

    def handle_data(self, data):
        self.seen |= {mark for mark in ("<zq8", "<zq9") if mark in data}
        if self._open in {"script", "style"} and "zq" in data:
            self.found.append(f"in <{self._open}>: {data[:60]}")

    def handle_endtag(self, _tag):
        self._open = ""

    def handle_comment(self, data):
        if "zq" in data:
            self.found.append(f"<!--{data[:60]}")


def leads_out(address):
    """As a browser reads it: without controls before it and without tabs and ends of lines in it."""
    plain = re.sub(r"[\t\r\n]", "", address.lstrip("".join(map(chr, range(33))))).replace("\\", "/")
    parts = urlsplit(plain)
    return bool(parts.scheme or parts.netloc) and not plain.startswith("http://localhost/")


def is_told(address, given):
    """A link that names https, as a source of a lesson may, and tells the other site nothing."""
    return address.startswith("https://") and "noopener" in (given.get("rel") or "") and "zq" not in address


@pytest.fixture(scope="module")
def pages(spoilt_site, parts):
    """Every page of the site that is there without a form, once, as somebody sees it who may."""
    found = {}
    for rule in sorted(spoilt_site.app.url_map.iter_rules(), key=str):
        if "GET" not in rule.methods or rule.endpoint in {"look.components", "health.readyz", "metrics.metrics"}:
            continue
        path = parts.address(rule, spoilt_site.ids["own"])
        for who in ("learner", "instructor", "owner", "administrator"):
            answer = spoilt_site.visit(who, "GET", path)
            if answer.outcome == "in" and answer.status == 200:
                found[rule.endpoint] = answer
                break
    return found


def test_no_page_holds_anything_that_acts(pages, parts):
    wrong = []
    for endpoint, answer in pages.items():
        if not answer.headers["Content-Type"].startswith("text/html"):
            continue
        wrong += [f"{endpoint}: {one}" for one in Harm(answer.text).found]
        for words in (parts.spoiling.SHORT, parts.spoiling.TYPED_WORDS):
            wrong += [f"{endpoint}: {one}" for one in parts.hostile.came_back(answer.text, words.strip())]

    assert not wrong, "\n".join(wrong)


def test_hints_steps_and_mistakes_of_a_problem_are_words_too(spoilt_site, parts):
    """What a page says only once somebody has asked for it, or was wrong."""
    path = f"/problems/{spoilt_site.ids['own']['problem_id']}"
    with spoilt_site.undone():
        answers = [spoilt_site.ask("learner", "POST", f"{path}/hint", {"nth": "1"}).status]
        key = re.search(r'name="answer_key" value="([^"]+)"', spoilt_site.ask("learner", "GET", path).text)[1]
        answers.append(spoilt_site.ask("learner", "POST", path, {"answer": "1 in", "answer_key": key}).status)
        answers.append(spoilt_site.ask("learner", "POST", f"{path}/steps").status)
        page = spoilt_site.ask("learner", "GET", path).text

    assert max(answers) < 400, answers
    assert page.count("&lt;zq8") > 3
    assert Harm(page).found == []
    assert not [*parts.hostile.came_back(page, parts.spoiling.SHORT.strip())]


def test_the_words_do_stand_on_the_pages_as_words(pages):
    """Else the test above would look at nothing."""
    seen = {endpoint: Harm(answer.text).seen for endpoint, answer in pages.items()}

    assert {endpoint for endpoint, marks in seen.items() if "<zq8" in marks} >= {
        *("learn.lesson", "learn.lessons", "learn.problem", "learn.practice"),
        *("teach.sample", "teach.room", "teach.choose", "teach.claim", "local_rules.chosen"),
    }
    assert {endpoint for endpoint, marks in seen.items() if "<zq9" in marks} >= {
        *("teach.group", "teach.roster", "teach.findings", "teach.claim", "hours.log", "hours.crew", "jobs.board"),
        *("crew.staff", "sharing.held", "devices.listed", "bench.listed", "hands_on.to_sign", "learn.work_one"),
    }


def test_papers_are_set_with_the_words_as_words(pages):
    """The typesetter has a language of its own, which nothing that somebody wrote reaches."""
    papers = {endpoint: answer.sent for endpoint, answer in pages.items() if answer.sent.startswith(b"%PDF")}
    read = {endpoint: words_of(sent) for endpoint, sent in papers.items()}

    assert "<zq8" in read["learn.lesson_on_paper"]
    assert '#panic("zq")$zq$@zq' in read["learn.lesson_on_paper"]
    assert {endpoint for endpoint, text in read.items() if "<zq9" in text} >= {
        "teach.join_sheet",
        "hands_on.cards_on_paper",
    }


def words_of(pdf):
    """What a paper says, without space and with plain quotes; the reader finds places to break in it that nobody set."""
    text = "".join(page.extract_text() for page in PdfReader(BytesIO(pdf)).pages)
    return re.sub(r"[\s\u200b]", "", text).replace("“", '"').replace("”", '"')


def test_what_harms_is_found():
    for harm in (
        "<p onclick=zq()>", '<a href="javascript:zq()">', "<svg><foreignObject>", "<script>zq()</script>",
        '<a href="/&#9;/zq.example">', "<!-- zq -->", '<img src="//zq.example/a">', '<svg><use xlink:href="data:x"/></svg>',
        '<a href="https://zq.example">', "<style>a{}</style>", '<p style="zq">',
    ):  # fmt: skip
        assert Harm(harm).found, harm
    assert Harm('<p title="<zq9>">&lt;zq9 onzq=1&gt;<a href="/lessons/a#b">x</a>').found == []
