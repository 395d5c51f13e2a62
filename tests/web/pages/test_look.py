"""The page of components: it holds every macro, so that each is checked like a page."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import trainer.web
from trainer.config import Settings
from trainer.web.app import build

TEMPLATES = Path(trainer.web.__file__).parent / "templates"
#: Macros that others are made of.
PARTS = {"classes", "described", "error_line", "hint_line", "measure", "option", "part", "verdict_words", "icon"}


def test_every_component_shows(client):
    page = client.get("/look")

    assert page.status == 200
    for kind in ("right", "known-mistake", "rounded-too-far", "wrong-unit", "wrong", "unreadable"):
        assert page.tree.find(f".//section[@class='verdict verdict--{kind}']") is not None


@pytest.mark.parametrize("file", sorted((TEMPLATES / "components").glob("*.html")), ids=lambda file: file.name)
def test_every_macro_is_on_the_page_of_components(file):
    shown = (TEMPLATES / "look" / "components.html").read_text() + (TEMPLATES / "page.html").read_text()
    macros = set(re.findall(r"\{% macro (\w+)\(", file.read_text())) - PARTS

    assert {name for name in macros if not re.search(rf"\b{name}\(", shown)} == set()


@pytest.mark.parametrize("file", sorted((TEMPLATES / "components").glob("*.html")), ids=lambda file: file.name)
def test_every_macro_is_described_at_the_top_of_its_file(file):
    text = file.read_text()
    head = text[: text.index("#}")]
    macros = set(re.findall(r"\{% macro (\w+)\(", text)) - (PARTS - {"icon", "option"})

    assert {name for name in macros if f"{name}(" not in head} == set()


def test_it_is_not_there_outside_development(tmp_path, sqlite_url):
    app = build(Settings(instance=tmp_path, database=sqlite_url, log_level="error"))

    assert app.test_client().get("/look", base_url="https://127.0.0.1").status_code == 404
    app.extensions["trainer.database"].close()
