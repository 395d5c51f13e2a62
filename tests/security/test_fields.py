"""
What nobody means well with, in every field of every form: no error of the program, nothing of it unescaped in the
answer, and what was typed still in the form.

The forms come from the pages themselves, so that a new field is swept without a line here; a route that takes a form
which no page of the populated site shows stands in `UNSEEN` with the reason. A run of the tests sends some strings to
each field, the same ones each time; every string to every field with TRAINER_TEST_WHOLE=yes.
"""

from __future__ import annotations

import os
import re
from pathlib import Path
from zlib import crc32

import pytest

WHOLE = os.environ.get("TRAINER_TEST_WHOLE") == "yes"
pytestmark = [pytest.mark.timeout(0)] if WHOLE else []
#: Strings for each field of a run that is no whole one.
EACH = 2
#: Routes whose form no page of the populated site shows.
BUTTONS = "a button and its token, nothing is typed"
ELSEWHERE = "the site has no sign-in at another site; `tests/web/pages/test_outside.py`"
SECOND = "behind a password or code typed a moment ago; `tests/web/pages/test_second_factor.py`"
UNSEEN = {
    "account.code": SECOND,
    "linking.confirm": ELSEWHERE,
    "linking.end": ELSEWHERE,
    "outside.newcomer": ELSEWHERE,
    "second_factor.paper": SECOND,
    "second_factor.set_up": SECOND,
    "second_factor.turn_off": SECOND,
    "bench.keep": "behind a form of measures that fit one another; `tests/web/pages/bench/test_shoes.py`",
    "crew.dismiss_staff": BUTTONS,
    "hands_on.take_back": "of a check that is signed; its one field is read like the remark of `hands_on.sign_it`",
    "hours.open_again": BUTTONS,
    "learn.placement_end": BUTTONS,
    "learn.placement_next": BUTTONS,
    "learn.problem_hint": BUTTONS,
    "learn.problem_next": BUTTONS,
    "learn.proof_begin": BUTTONS,
    "learn.proof_next": BUTTONS,
    "learn.proof_stop": BUTTONS,
    "learn.send_problem_key": "of a question that is answered; `tests/web/pages/teach/test_keys.py`",
    "sharing.have_read": BUTTONS,
    "teach.open_group_again": BUTTONS,
    "teach.remove_sample": BUTTONS,
    "teach.room_end": BUTTONS,
    "teach.stop_watching": BUTTONS,
    "teach.watch_run": "of a skill whose run may begin; its one field is a word of a closed list",
}
#: Fields of one kind: one of them stands for all.
ALIKE = re.compile(r"(?<=[-:]).*|\d+")
#: Where what was typed is not shown again: passwords, and what a list of its own is made of.
NOT_SHOWN = {"password"}
QUERY = re.compile(r"request\.args\.(?:get|getlist)\(\s*[\"'](\w+)")


def swept(form):
    """The fields of a form to try, one of each kind, and buttons that carry a value."""
    seen = set()
    for one in form.fields:
        kind = ALIKE.sub("", one.name)
        if one.name != "csrf_token" and one.kind != "file" and (WHOLE or kind not in seen):
            seen.add(kind)
            yield one


def some(strings, where, each=1):
    """The strings for one place: all, or those whose turn it is."""
    if WHOLE:
        return strings
    turn = crc32(where.encode())
    return [strings[(turn + nth * 7) % len(strings)] for nth in range(each)]


def test_every_route_that_takes_a_form_is_swept(site, forms):
    posted = {rule.endpoint for rule in site.app.url_map.iter_rules() if "POST" in rule.methods}

    assert posted - {endpoint for endpoint, method in forms if method == "POST"} == set(UNSEEN)


def test_no_field_of_any_form_is_broken_by_what_is_typed(site, forms, parts):
    wrong, count = [], 0
    for (endpoint, method), form in sorted(forms.items()):
        for one in swept(form):
            for sent in some(parts.hostile.STRINGS, f"{endpoint}{method}{one.name}", EACH):
                body = parts.hostile.encoded(form.pairs(**{one.name: sent}))
                where, count = f"{method} {endpoint}, {one.name} = {sent[:40]!r}", count + 1
                wrong += [f"{where}: {said}" for said in faults(site, parts, form, one, sent, body)]

    assert not wrong, f"{len(wrong)} of {count}:\n" + "\n".join(wrong)


def faults(site, parts, form, one, sent, body):
    try:
        answer = site.visit(form.who, form.method, form.action, body)
    except Exception as error:  # noqa: BLE001 - whatever escapes would be a page that says "our side"
        yield f"{type(error).__name__}: {str(error)[:150]}"
        return
    if answer.status >= 500:
        yield f"answered {answer.status}"
    yield from parts.hostile.came_back(answer.text, sent)
    if "zq=1" in str(answer.headers.get("Set-Cookie")) or not is_here(answer.location):
        yield f"led to {answer.location!r}"
    shown = one.is_typed and one.kind not in NOT_SHOWN and parts.hostile.can_be_kept(sent)
    if answer.status == 422 and shown and not parts.hostile.is_kept(answer.text, sent):
        yield "what was typed is gone"


def is_here(location):
    return not location or (location.startswith("/") and not location.startswith("//") and "\\" not in location)


def test_no_name_of_a_thing_in_an_address_is_broken(site, parts):
    wrong = []
    for rule in sorted(site.app.url_map.iter_rules(), key=str):
        for name in sorted(rule.arguments):
            for sent in some(parts.hostile.PATHS, f"{rule}{name}"):
                path = parts.address(
                    rule, site.ids["own"] | {name: sent, **({"sheet_code": sent} if name == "code" else {})}
                )
                for method in sorted(rule.methods & {"GET", "POST"}):
                    where = f"{method} {rule.endpoint}, {name} = {sent[:40]!r}"
                    try:
                        answer = site.visit(chief_of(rule), method, path)
                    except Exception as error:  # noqa: BLE001 - as above
                        wrong.append(f"{where}: {error!r}"[:300])
                        continue
                    wrong += [f"{where}: {said}" for said in parts.hostile.came_back(answer.text, sent)]
                    wrong += [f"{where}: {answer.status}"] if answer.status >= 500 else []

    assert not wrong, "\n".join(wrong)


def chief_of(rule):
    return "learner" if rule.endpoint.partition(".")[0] in {"learn", "sharing", "account"} else "owner"


@pytest.fixture(scope="module")
def asked_names():
    """Every name that a page reads from what stands behind the question mark."""
    pages = Path(__file__).parents[2] / "trainer" / "web"
    return sorted({name for file in pages.rglob("*.py") for name in QUERY.findall(file.read_text())})


def test_nothing_behind_the_question_mark_breaks_a_page(site, parts, asked_names):
    assert "next" in asked_names
    wrong = []
    for rule in sorted(site.app.url_map.iter_rules(), key=str):
        if "GET" not in rule.methods or rule.endpoint in {"look.components", "health.readyz"}:
            continue
        path = parts.address(rule, site.ids["own"])
        for sent in some(parts.hostile.STRINGS, str(rule)):
            body = parts.hostile.encoded([(name, sent[:400]) for name in asked_names])
            where = f"{rule.endpoint}?... = {sent[:40]!r}"
            try:
                answer = site.visit(chief_of(rule), "GET", path, body)
            except Exception as error:  # noqa: BLE001 - as above
                wrong.append(f"{where}: {error!r}"[:300])
                continue
            wrong += [f"{where}: {said}" for said in parts.hostile.came_back(answer.text, sent)]
            wrong += [f"{where}: {answer.status}"] if answer.status >= 500 else []
            wrong += [] if is_here(answer.location) else [f"{where}: led to {answer.location!r}"]

    assert not wrong, "\n".join(wrong)
