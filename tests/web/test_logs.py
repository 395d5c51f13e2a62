"""Log lines: JSON, with identifiers and nothing else about people."""

from __future__ import annotations

import json
import logging
import re
import sys

import pytest
from gunicorn.config import Config

from trainer.cli.server_log import ServerLog
from trainer.web.logs import JsonLines


@pytest.fixture
def lines(monkeypatch):
    """What is logged from now on, read."""
    handler = logging.getLogger("trainer").handlers[0]
    monkeypatch.setattr(logging.getLogger("trainer"), "level", logging.DEBUG)
    logging.getLogger("trainer").manager._clear_cache()
    written = []
    monkeypatch.setattr(handler, "emit", lambda record: written.append(json.loads(handler.format(record))))
    yield written
    logging.getLogger("trainer").manager._clear_cache()


def test_each_request_has_a_line(client, lines):
    page = client.get("/sign-in")

    line = lines[-1]
    assert (line["event"], line["method"], line["route"], line["status"]) == ("request", "GET", "/sign-in", 200)
    assert line["request"] == page.headers["X-Request-Id"]
    assert line["person"] is None
    assert line["ms"] > 0


def test_a_line_names_the_person_by_a_random_id_only(client_of, lines):
    client_of("learner").get("/account")

    assert re.fullmatch(r"[\w-]{22}", lines[-1]["person"])
    assert "Learner" not in json.dumps(lines)


def test_a_line_holds_no_join_code_no_password_and_no_address(client, lines, world):
    client.get(f"/join/{world.codes['class']}?q=secret")
    client.submit("/sign-in", {"sign_in_name": "learner", "password": "something else"})

    text = json.dumps(lines)
    assert world.codes["class"] not in text
    assert "something else" not in text
    assert "secret" not in text
    assert "127.0.0.1" not in text


def test_nothing_that_people_are_called_type_or_hold_gets_into_the_lines(client, client_of, world, given, lines):
    learner, newcomer = client_of("learner"), client_of("other-learner")
    problem = given.problem()
    held = [
        "three words apart",
        "not her password",
        "17 ft 3/16 in",
        "815-Ohio",
        "Pat Newcomer",
        "203.0.113.9",
        problem,
    ]

    client.submit("/sign-in", {"sign_in_name": "learner", "password": held[1]})
    client.submit("/sign-in", {"sign_in_name": "learner", "password": held[0]})
    learner.submit(f"/problems/{problem}", {"answer": held[2]})
    newcomer.submit(f"/join/{world.codes['class']}")
    client.get(f"/join/{world.codes['class']}?name={held[4]}", environ_base={"REMOTE_ADDR": held[5]})
    client.get("/calendar/a-token-that-a-phone-holds.ics")
    learner.get("/sheet/PK3M7Q")
    learner.submit("/account/name", {"display_name": held[4]})
    client.get("/sign-in?next=/join/a-secret-way", headers={"User-Agent": "Pat's phone", "Referer": "/join/elsewhere"})

    text = json.dumps(lines, ensure_ascii=False)
    assert {"/sign-in", "/problems/<problem_id>", "/join/<code>", "/calendar/<token>.ics", "/sheet/<code>"} <= {
        line["route"] for line in lines
    }
    held += [*world.codes.values(), "a-token-that-a-phone-holds", "PK3M7Q", "a-secret-way", "Pat's phone", "elsewhere"]
    held += ["Learner Person", '"learner"', newcomer.client.get_cookie("trainer-reader").value]
    assert [one for one in held if one in text] == []
    allowed = {"time", "level", "logger", "event", "request", "method", "route", "status", "ms", "person"}
    assert {name for line in lines for name in line} <= allowed


def test_a_request_keeps_the_number_that_a_trusted_proxy_gave_it(app, client, lines, monkeypatch):
    given = "9f2c61d0-77ab-4e1c-8a35-0b1de5a2c3f4"
    assert client.get("/sign-in", headers={"X-Request-Id": given}).headers["X-Request-Id"] != given

    monkeypatch.setitem(app.extensions, "trainer.believes_request_ids", True)
    page = client.get("/nowhere", headers={"X-Request-Id": given})

    assert page.headers["X-Request-Id"] == lines[-1]["request"] == given
    assert given in page.words


@pytest.mark.parametrize(
    "given", ["short", "Pat Newcomer 0123", "x" * 65 + "1", "0123456789ab<b>", "PatricksTelephone", ""]
)
def test_a_number_that_is_none_is_not_taken_from_a_proxy_either(app, client, lines, monkeypatch, given):
    monkeypatch.setitem(app.extensions, "trainer.believes_request_ids", True)

    page = client.get("/sign-in", headers={"X-Request-Id": given})

    assert re.fullmatch(r"[0-9a-f]{12}", page.headers["X-Request-Id"])
    assert page.headers["X-Request-Id"] == lines[-1]["request"]


def test_the_servers_own_lines_tell_no_address_and_nothing_that_was_sent():
    log = ServerLog(Config())
    (handler,) = log.error_log.handlers
    written = []
    handler.emit = lambda record: written.append(json.loads(handler.format(record))) if handler.filter(record) else None

    log.warning("Invalid request from ip=203.0.113.9: Invalid HTTP request line: '/join/AB12'")
    log.error("Error handling request %s %s", "GET", "/join/AB12")
    log.error("Worker (pid:%s) exited with code %s.", 7, 1)

    assert [line["event"] for line in written] == [
        "a request could not be read",
        "a request could not be answered",
        "Worker (pid:7) exited with code 1.",
    ]
    assert "AB12" not in json.dumps(written)
    assert "203.0.113.9" not in json.dumps(written)


def formatted(full_errors):
    try:
        int("typed by somebody")
    except ValueError:
        record = logging.LogRecord("trainer.web", logging.ERROR, __file__, 1, "error", None, sys.exc_info())
    return json.loads(JsonLines(full_errors=full_errors).format(record))


def test_an_error_is_named_with_its_places_and_without_its_message():
    line = formatted(full_errors=False)

    assert line["error"] == "builtins.ValueError"
    assert line["places"][-1].endswith("formatted")
    assert "typed by somebody" not in json.dumps(line)


def test_in_development_an_error_is_told_in_full():
    assert "typed by somebody" in formatted(full_errors=True)["trace"]


def test_whatever_stands_in_a_line_it_stays_one_line():
    record = logging.LogRecord("trainer.web", logging.INFO, __file__, 1, "two\nlines", None, None)

    assert "\n" not in JsonLines().format(record)
