"""Forms as visitors find them on pages, and how a browser would send them."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from urllib.parse import urlsplit

import html5lib
from werkzeug.exceptions import HTTPException

HTML = html5lib.HTMLParser(namespaceHTMLElements=False)
#: On whose pages forms are looked for: those of the routes with these endpoints.
PAGES = {
    "nobody": "account.sign_in joining.enter joining.preview",
    "learner": """account.name account.password account.overview calendar.overview devices.listed bench.bend bench.slip
        hands_on.registrations hours.log sharing.held sharing.delete sharing.ask_to_leave learn.enter_sheet learn.lesson
        learn.placement learn.practice learn.problem learn.problem_key learn.proof learn.work_one second_factor.show_who second_factor.overview""",
    "instructor": """bench.listed bench.measure joining.preview hands_on.night hands_on.check_photos hours.crew
        hours.attendance hours.attendance_day teach.finding_photos teach.claim teach.group teach.copy teach.more_time
        teach.group_name teach.roster teach.groups teach.sheets teach.ask_for_password teach.ask_to_put_away
        teach.findings teach.room teach.sets teach.set_one teach.person_points teach.ask_to_withdraw teach.watching
        teach.ask_to_withdraw_finding teach.choose teach.set_new jobs.board jobs.job""",
    "owner": """crew.staff hands_on.signers hands_on.registrations_of hands_on.to_sign hours.processes hours.process
        jobs.listed jobs.edit jobs.new local_rules.chosen teach.set_name jobs.job_of_shop sign_in_rules.chosen""",
    "administrator": "site.new_organisation site.new_person site.new_password site.lost_phone teach.key",
}
#: What somebody types into a field that is empty on the page, by its name; into all others a word.
TYPED = {
    "sign_in_name": "neighbour",
    "display_name": "Kim Lee",
    "day": "2026-11-25",
    "due_on": "2026-11-28",
    "ends_on": "2026-12-20",
    "expires_on": "2027-06-30",
    "on": "2026-11-30",
    "hours": "2",
    "answer": "12 in",
    "own_answer": "12 in",
    "text": "Number, Name\n17, Kim Lee\n18, Sam Poe",
    "new_password": "four words quite apart",
    "once_more": "four words quite apart",
    "old_password": "three words apart",
    "depth": "6 in",
}
TYPES = {"text", "textarea", "date", "time", "number", "search", "password", "tel", "email"}


@dataclass(frozen=True)
class Field:
    """One field of a form, with what a browser would send of it untouched and what else it offers."""

    name: str
    kind: str
    value: str = ""
    offered: tuple[str, ...] = ()

    @property
    def is_typed(self):
        return self.kind in TYPES

    @property
    def filled(self):
        """What is sent by somebody who fills in what is empty."""
        if self.name.startswith("count-"):
            return self.value if self.value not in {"", "0"} else "1" if self.name == "count-offset-spacing" else ""
        if self.is_typed:
            return self.value or TYPED.get(self.name, "A word")
        return self.value or next((one for one in self.offered if one), "")


@dataclass(frozen=True)
class Form:
    """A form on somebody's page."""

    endpoint: str
    method: str
    action: str
    who: str
    fields: tuple[Field, ...] = field(default=())

    def pairs(self, **instead):
        """Names and values in their order, as filled in, with other values for some."""
        sent = [one for one in self.fields if one.kind not in {"file", "button"} and one.name != "csrf_token"]
        return [(one.name, instead.get(one.name, one.filled)) for one in sent]


def forms_on(text, adapter, who):
    """The forms of a page."""
    tree = HTML.parse(text)
    for form in tree.iter("form"):
        method = form.get("method", "get").upper()
        try:
            endpoint, _ = adapter.match(urlsplit(form.get("action", "")).path, method)
        except HTTPException:
            continue
        yield Form(endpoint, method, form.get("action"), who, tuple(_fields(tree, form)))


def _fields(tree, form):
    inside, boxes = {id(one) for one in form.iter()}, {}
    for one in tree.iter():
        name = one.get("name")
        if one.tag not in {"input", "select", "textarea", "button"} or not name:
            continue
        if not (id(one) in inside or (form.get("id") and one.get("form") == form.get("id"))):
            continue
        kind = one.get("type", "text") if one.tag == "input" else one.tag
        if kind in {"checkbox", "radio"}:
            boxes.setdefault((name, kind), []).append((one.get("value", "on"), "checked" in one.attrib))
        elif kind == "select":
            options = [(o.get("value", "".join(o.itertext())), "selected" in o.attrib) for o in one.iter("option")]
            chosen = next((value for value, is_chosen in options if is_chosen), "")
            yield Field(name, kind, chosen, tuple(value for value, _ in options))
        else:
            yield Field(name, kind, (one.text or "") if kind == "textarea" else one.get("value", ""))
    for (name, kind), of_name in boxes.items():
        chosen = next((value for value, is_chosen in of_name if is_chosen), "")
        yield Field(name, kind, chosen, tuple(value for value, _ in of_name))


def address(rule, ids):
    """The path of a route with these ids."""
    if rule.endpoint == "learn.sheet":
        ids = ids | {"code": ids["sheet_code"]}
    return re.sub(r"<(?:[^:>]+(?:\([^)]*\))?:)?(\w+)>", lambda found: ids[found[1]], rule.rule)


def forms_of(site, encoded):
    """Every form on these pages, on those behind a form that only asks, and on those that answer a form filled in."""
    adapter = site.app.url_map.bind("localhost")
    rules = {rule.endpoint: rule for rule in site.app.url_map.iter_rules() if "GET" in rule.methods}
    found = {}

    def look(answer, who):
        fresh = []
        if answer.text and answer.headers["Content-Type"].startswith("text/html"):
            for form in forms_on(answer.text, adapter, who):
                if (form.endpoint, form.method) not in found:
                    fresh.append(form)
                    found[form.endpoint, form.method] = form
        return fresh

    for who, endpoints in PAGES.items():
        for endpoint in endpoints.split():
            look(site.visit(who, "GET", address(rules[endpoint], site.ids["own"])), who)
    behind = list(found.values())
    while behind:
        form = behind.pop()
        behind += look(site.visit(form.who, form.method, form.action, encoded(form.pairs())), form.who)
    return found
