"""
Who gets at whose things: every route, every visitor, and for each id in its address one of the own place, of another
crew of the same shop, of another shop, one that has ended, and one that was never given out.

`objects.txt` holds the rules and says which one each route follows; a route without a line fails. GET and POST alike are
sent, a POST with the visitor's own form token. Where the rule says no, the answer is 403 or 404, for things of another
shop the same as for what does not exist, and no row changes but counts of guesses and notes who looked.

A run of the tests takes a share of the table, the same each time; all of it with TRAINER_TEST_WHOLE=yes.
"""

from __future__ import annotations

import os
from pathlib import Path
from zlib import crc32

import pytest

from trainer.web.visitors import Visitor

HERE = Path(__file__).parent
WHOLE = os.environ.get("TRAINER_TEST_WHOLE") == "yes"
pytestmark = [pytest.mark.timeout(0)] if WHOLE else []
WITHOUT_PAGE = {"HEAD", "OPTIONS"}
PLACES = ("own", "sibling", "other")
#: What a single id is exchanged for, while the rest of the address stays that of the own place.
EXCHANGED = ("sibling", "other", "ended", "former", "staff", "unknown")
#: Who is always tried at the own things, and with exchanged ids: those who have most rights.
ALWAYS = ("nobody", "learner", "instructor", "far-instructor")
STRONG = ("instructor", "owner", "learner", "foreman")


def read_rules():
    """
    Sets of visitors by rule and place; the rule of each route, and where it has exceptions.

    A rule is three lines, a route one: `GET teach.results leads work_id=ended:own`, which says that whoever gets at the
    own work gets at work that was taken back too.
    """
    rules, routes = {}, {}
    for line in (HERE / "objects.txt").read_text().splitlines():
        first, *rest = line.split() or ["#"]
        if first == "rule":
            name, place, *who = rest
            rules.setdefault(name, {})[place] = frozenset(who)
        elif first in {"GET", "POST"}:
            endpoint, rule, *exceptions = rest
            routes[first, endpoint] = rule, dict(one.split(":") for one in exceptions)
        else:
            assert first == "#", f"a line that is neither rule nor route: {line}"
    return rules, routes


RULES, ROUTES = read_rules()


def routes_of(app):
    return {
        (method, rule.endpoint): rule for rule in app.url_map.iter_rules() for method in rule.methods - WITHOUT_PAGE
    }


def addresses(rule, ids, words, address):
    """The addresses of a route by what stands in them: "own", "sibling", "other", or one exchanged id as "name=kind"."""
    names = sorted(rule.arguments - words.keys())
    own = ids["own"]
    yield "own", address(rule, own)
    for place in PLACES[1:] if names else ():
        yield place, address(rule, ids[place])
    for name in names:
        key = "sheet_code" if rule.endpoint == "learn.sheet" else name
        for kind in EXCHANGED:
            if key in ids[kind] and not (len(names) == 1 and kind in PLACES):
                yield f"{name}={kind}", address(rule, own | {key: ids[kind][key]})


def allowed(route, label):
    """Who gets in."""
    name, exceptions = ROUTES[route]
    if label in RULES[name]:
        return RULES[name][exceptions.get(label, label)]
    # An id that was exchanged opens nothing, unless the table says like whose.
    return RULES[name][exceptions[label]] if label in exceptions else frozenset()


def tried(route, label, visitors, may):
    """Whom this run tries: all of them, or a share."""
    if WHOLE:
        return [who for who in visitors if who != "nobody" or label == "own"]
    turn = crc32(f"{route}{label}".encode())
    if label == "own":
        others = [who for who in visitors if who not in ALWAYS]
        return [*ALWAYS, others[turn % len(others)]]
    strong = [who for who in STRONG if who in may] or STRONG
    return [strong[turn % len(strong)]] if turn % 2 or label in PLACES else []


def test_every_route_has_its_rule_and_every_rule_its_routes(site):
    assert set(routes_of(site.app)) == set(ROUTES)
    assert {name for name, _ in ROUTES.values()} == set(RULES)


def test_every_exception_is_about_an_address_that_there_is(site, parts):
    for route, rule in routes_of(site.app).items():
        labels = {label for label, _ in addresses(rule, site.ids, parts.words, parts.address)}

        assert set(ROUTES[route][1]) <= labels, route


@pytest.fixture(scope="module")
def unrendered(site, parts):
    """Who gets in is settled before a page is rendered: its words are left out, its queries are not."""
    for who in parts.visitors:
        site.cookies(who)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("flask.templating._render", lambda *_: "")
        yield


@pytest.mark.usefixtures("unrendered")
@pytest.mark.parametrize("method", ["GET", "POST"])
def test_nobody_gets_at_what_the_rules_do_not_give(site, parts, method):
    wrong, count = [], 0
    for route, rule in sorted(routes_of(site.app).items()):
        if route[0] != method:
            continue
        may = allowed(route, "own")
        # Where anybody may call, an address that opens nothing is not asked to sign in for.
        is_open = Visitor.ANYONE in site.app.view_functions[rule.endpoint].visitors
        for label, path in addresses(rule, site.ids, parts.words, parts.address):
            for who in tried(route, label, parts.visitors, may):
                answer, count = site.visit(who, method, path), count + 1
                wrong += [
                    f"{who} at {' '.join(route)}, {label}: {one}"
                    for one in faults(answer, route, label, who, is_open=is_open)
                ]

    assert not wrong, f"{len(wrong)} of {count}:\n" + "\n".join(wrong)


def faults(answer, route, label, who, *, is_open):
    gets_in = who in allowed(route, label)
    refusals = {"no", "sign-in"} if is_open and who == "nobody" else {"sign-in" if who == "nobody" else "no"}
    wanted = {"in"} if gets_in else refusals
    if answer.outcome not in wanted:
        yield f"{answer.outcome} ({answer.status}) instead of {' or '.join(sorted(wanted))}"
    if not gets_in and answer.changed:
        yield f"refused, and changed {sorted(answer.changed)}"
    # "Not yours" would tell that there is such a thing; only whose part is wrong altogether is told so at once.
    theirs = who in allowed(route, "own")
    if theirs and not gets_in and label.endswith(("other", "unknown")) and answer.status != 404:
        yield f"{answer.status} tells that there is such a thing"
