"""Log lines: JSON, with identifiers and nothing else about people."""

from __future__ import annotations

import json
import logging
import re
import sys

import pytest

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
