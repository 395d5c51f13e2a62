"""The pages that show how each number is proved."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from sqlalchemy import update

from trainer.calc.catalogue import CATALOGUE
from trainer.records.models import Problem, Site

REFUSED = 422


@pytest.fixture
def learner(client_of):
    return client_of("learner")


def test_every_calculation_is_listed_with_what_it_is_for(learner):
    page = learner.get("/calculations")

    assert {link for link in page.links() if link.startswith("/calculations/")} == {
        f"/calculations/{name}" for name in CATALOGUE
    }
    for heading in ("Bends", "Boxes", "Conductors and circuits"):
        assert heading in page.words
    assert "How many conductors of one size and insulation a raceway may hold" in page.words


@pytest.mark.parametrize("name", list(CATALOGUE))
def test_each_has_its_page_of_evidence(learner, name):
    page = learner.get(f"/calculations/{name}")

    assert page.status == 200
    assert "What the core says" in page.words
    assert "What a second method says" in page.words
    assert "What is published" in page.words
    assert "Table rows used" in page.words
    assert "does not agree" not in page.words


def test_a_bend_shows_the_arc_held_and_the_other_bases_misfit(learner):
    said = learner.get("/calculations/offset?depth=6&angle=45&distance=40").words

    assert "Bent in space by the arc marks, measured agrees" in said
    assert "Bent in space by the handbook marks, measured known to differ" in said
    assert "+0.0766 in" in said
    assert "The sheet takes 3/8 in of shrink for each inch" in said
    assert "angle multiplier shrink per inch checked 45 1.4 0.375 two sources" in said


def test_what_the_book_leaves_blank_is_no_zero(learner):
    assert "4/0 211600 – 0.0608 – 0.1 two sources" in learner.get("/calculations/pulling_tension").words


def test_a_formula_keeps_its_letters_and_a_length_that_is_whole_needs_no_decimals(learner):
    assert "π/4 × (outside diameter − 2 × wall)²" in learner.get("/calculations/raceway_fill").words
    assert "6 in (6)" not in learner.get("/calculations/slip_made").words


def test_numbers_of_ones_own_are_kept_in_the_form(learner):
    page = learner.get("/calculations/raceway_fill?raceway=emt&trade_size=3/4&conductors=5 %2310 THHN&nipple=")

    assert page.value("conductors") == "5 #10 THHN"
    assert "0.533" in page.words


def test_what_cannot_be_used_is_said_beside_its_field_and_nothing_is_shown(learner):
    page = learner.get("/calculations/offset?depth=4+1/0&angle=&distance=40")

    assert page.status == REFUSED
    assert set(page.errors) == {"depth", "angle"}
    assert page.value("depth") == "4 1/0"
    assert "What the core says" not in page.words


def test_what_is_none_of_a_few_stays_in_the_form_too(learner):
    page = learner.get("/calculations/max_conductors?raceway=hose&trade_size=3/4&insulation=THHN&conductor_size=12")

    raceway = page.tree.find(".//select[@id='raceway']")
    assert set(page.errors) == {"raceway"}
    assert [one.get("value") for one in raceway.iter("option") if "selected" in one.attrib] == ["hose"]


def test_what_does_not_go_together_is_said_at_its_field(learner):
    page = learner.get("/calculations/offset?depth=6&angle=30&distance=5")

    assert (page.status, set(page.errors)) == (REFUSED, {"distance"})


def test_where_nothing_can_be_held_against_it_the_page_says_so(learner):
    said = learner.get("/calculations/fitting_choice").words

    assert "There is none: the rule itself is all there is" in said
    assert "No figure was found whose publisher could be named." in said
    assert "what is published shows" not in said


def test_the_example_follows_the_edition_of_the_site(app, learner):
    with app.extensions["trainer.database"].write() as session:
        session.add(Site(id=1, edition="2017", is_demo=False, created_at=datetime(2026, 11, 25, tzinfo=UTC)))

    page = learner.get("/calculations/box_fill")

    edition = page.tree.find(".//select[@id='edition']")
    assert [one.get("value") for one in edition.iter("option") if "selected" in one.attrib] == ["2017"]
    assert "Table 314.16(B)(1)" not in page.words.split("What a second method says")[0]


def test_an_unknown_calculation_is_not_found(learner):
    assert learner.get("/calculations/moon").status == 404


@pytest.mark.parametrize("text", ["<script>alert(1)</script>", "\x00\u202e", "a" * 5000, "'; DROP TABLE person; --"])
def test_hostile_texts_are_refused_and_shown_as_text(learner, text):
    page = learner.get("/calculations/offset", query_string={"depth": text, "angle": "30"})

    assert page.status == REFUSED
    assert set(page.errors) == {"depth"}


@pytest.mark.parametrize(
    "path", ["/calculations", "/calculations/offset", "/calculations/offset?depth=6&angle=30&distance=40"]
)
def test_while_a_question_of_a_proof_run_is_open_the_evidence_is_closed(app, client_of, given, path):
    problem = given.problem()
    with app.extensions["trainer.database"].write() as session:
        session.execute(update(Problem).where(Problem.public_id == problem).values(context="proof"))

    page = client_of("learner").get(path)
    assert (page.status, page.heading) == (409, "The bench is closed for now")
    assert "What the core says" not in page.words
    assert client_of("other-learner").get(path).status == 200
