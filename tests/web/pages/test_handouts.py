"""Lessons and tables on paper say what their pages say."""

from __future__ import annotations

import re

import pytest

from trainer.calc.reference_tables import REFERENCE_TABLES


def squeezed(text):
    """Without what a line end on paper changes."""
    return re.sub(r"\s+", "", text.replace("\u200b", ""))


@pytest.mark.parametrize("lesson", ["saddles", "box-fill", "cutting-and-deburring"])
def test_a_lesson_on_paper_has_its_headings_cautions_and_sources(client_of, lesson, app):
    learner = client_of("learner")
    page = learner.get(f"/lessons/{lesson}")
    paper = squeezed(learner.get(f"/lessons/{lesson}.pdf").paper)

    found = app.extensions["trainer.library"].lessons[lesson]
    said = [one.text for one in page.tree.iterfind(".//article//h2")]
    assert len(said) > 2
    for words in (*said, found.title, *(source.source for source in found.sources), "Worked example"):
        assert squeezed(words) in paper, words
    assert "Thisistraining." in paper
    assert "Givemetheproblem" not in paper


def test_the_steps_of_a_worked_example_are_printed_with_their_numbers(client_of):
    paper = client_of("learner").get("/lessons/saddles.pdf").paper

    assert re.search(r"outer spacing = .+ = .+ in", paper)


@pytest.mark.parametrize("unit", sorted({entry.unit for entry in REFERENCE_TABLES.values()}))
def test_the_tables_of_a_unit_on_paper_are_those_of_its_page(client_of, unit):
    learner = client_of("learner")
    page = learner.get(f"/tables/{unit}")
    paper = squeezed(learner.get(f"/tables/{unit}.pdf").paper)

    cells = ["".join(cell.itertext()) for cell in page.tree.iterfind(".//td")]
    assert cells
    for cell in cells:
        assert squeezed(cell) in paper, cell


def test_what_is_not_there_has_no_paper(client_of):
    learner = client_of("learner")

    assert learner.get("/lessons/no-such.pdf").status == 404
    assert learner.get("/tables/no-such.pdf").status == 404
