"""What templates can use; the filters' own examples stand in their docstrings."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from flask import render_template_string
from jinja2 import UndefinedError

from trainer.accounts.audit import NotedLine
from trainer.calc.step import Step
from trainer.web.templating import arithmetic, worked_value


@pytest.fixture
def rendered(app):
    def render(template, **values):
        with app.test_request_context():
            return render_template_string(template, **values)

    return render


def test_a_missing_name_is_an_error(rendered):
    with pytest.raises(UndefinedError, match="gone"):
        rendered("{{ gone }}")


def test_what_people_typed_is_escaped(rendered):
    assert rendered("{{ name }}", name="<b>x</b>") == "&lt;b&gt;x&lt;/b&gt;"


def test_markdown_is_cleaned(rendered):
    assert rendered("{{ text | markdown }}", text="**Ream** <script>x</script>").startswith("<p><strong>Ream</strong> ")
    assert "<script" not in rendered("{{ text | markdown }}", text="<script>x</script>")


def test_a_moment_carries_its_exact_time(rendered):
    at = datetime(2026, 11, 25, 15, 0, tzinfo=UTC)

    assert rendered("{{ at | moment }}", at=at) == (
        '<time datetime="2026-11-25T15:00:00+00:00">Wed, Nov 25, 2026, 3:00 pm UTC</time>'
    )


@pytest.mark.parametrize(
    ("by_subject", "actor", "words"),
    [
        (True, "Kim Lee", "A part of your record was opened to Tuesday evening."),
        (False, "Pat Doe", "A part of your record was opened to Tuesday evening. By Pat Doe."),
        (False, None, "A part of your record was opened to Tuesday evening."),
    ],
)
def test_a_noted_line_names_who_did_it_where_that_was_somebody_else(rendered, by_subject, actor, words):
    at = datetime(2026, 11, 25, tzinfo=UTC)
    line = NotedLine(at, "share.opened", actor, by_subject, "Tuesday evening", {"what": "practice"})

    assert rendered("{{ line | noted }}", line=line) == words


@pytest.mark.parametrize(
    ("formula", "written"),
    [
        ("(diameter / (bore - diameter)) ** 2", "(diameter ÷ (bore − diameter))²"),
        ("tension * e ** (friction * radians)", "tension × e ^ (friction × radians)"),
        ("2.5 ** 20 * 3", "2.5 ^ 20 × 3"),
    ],
)
def test_powers_are_written_as_powers(formula, written):
    assert arithmetic(formula) == written


@pytest.mark.parametrize(
    ("value", "unit", "written"),
    [
        (12.0, "in", "12 in"),
        (7.8394, "in", "7.8394 in, about 7-13/16 in"),
        (-2.8914, "in", "−2.8914 in, about −2-7/8 in"),
        (-0.5, "in", "−1/2 in"),
        (25.3769, "deg", "25.3769°, about 25.4°"),
        (22.5, "deg", "22.5°"),
        (5.625, "deg", "5.625°"),
    ],
)
def test_a_worked_value_is_told_exactly_and_as_the_tape_or_the_protractor_shows_it(value, unit, written):
    assert worked_value(Step("place_off", "", "", value, unit)) == written
