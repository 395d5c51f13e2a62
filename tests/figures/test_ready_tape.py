"""How many are ready, on a tape; and where each person of a crew stands on each skill."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.figures.crew_skills import CrewRow, Stands, draw_crew_skills
from trainer.figures.ready_tape import JobTally, draw_ready_tape
from trainer.figures.words import Words

LONG = "Exposed EMT in a garage with a high ceiling and a lot of pipes"


@pytest.fixture(scope="session")
def words(in_english):
    return Words(in_english)


@pytest.mark.parametrize("people", [1, 2, 4, 6, 7, 11, 25, 60, 61, 99, 500, 501, 12000])
def test_any_number_of_people_fits_on_the_tape(sound, words, people):
    ready, due = people // 2, people // 3
    tallies = [JobTally("Rough-in", ready, due, people - ready - due), JobTally(LONG, 0, 0, people)]

    sheet = sound(draw_ready_tape(tallies, words))

    assert sheet.texts.count(f"{people}") == 2
    assert f"Rough-in: {ready} ready, {due} due again, {people - ready - due} not yet." in sheet.all("desc")[0].text


def test_a_bar_is_as_long_as_its_people(sound, words):
    sheet = sound(draw_ready_tape([JobTally("Rough-in", 3, 1, 4)], words))
    widths = {
        name: [float(one.get("width")) for one in sheet.all("rect", f"fig-{name}")][-1]
        for name in ("ready", "due", "not-yet")
    }

    assert widths["ready"] == pytest.approx(3 * widths["due"])
    assert widths["not-yet"] == pytest.approx(4 * widths["due"])


def test_due_is_told_from_ready_by_more_than_its_colour(sound, words):
    sheet = sound(draw_ready_tape([JobTally("Rough-in", 1, 1, 1)], words))

    assert len(sheet.all("path", "fig-due-hatch")) == 2  # in the legend, and in the bar
    assert {"ready", "due again", "not yet", "1 ready, 1 due again, 1 not yet"} <= set(sheet.texts)


def stands(about, spread):
    return Stands(about, max(0.0, about - spread), min(10.0, about + spread))


@given(st.integers(1, 30), st.integers(1, 8), st.floats(0, 10), st.floats(0, 4))
def test_a_whole_crew_stands_side_by_side(sound, words, skills, people, about, spread):
    titles = [(f"unit.{nth}", f"Skill number {nth}, of those at the panel") for nth in range(skills)]
    rows = [
        CrewRow(f"Person {nth}", {skill: stands(about, spread) for skill, _ in titles[nth:]}) for nth in range(people)
    ]

    sheet = sound(draw_crew_skills(titles, rows, words))

    assert len(sheet.all("line", "fig-about")) == sum(len(row.stands) for row in rows)
    assert not {"I", "O"} & {text.split()[0] for text in sheet.texts}


def test_the_sheet_is_told_in_words_with_its_range(sound, words):
    rows = [CrewRow("Lena", {"bends.offset": Stands(7.6, 6.1, 8.7)}), CrewRow("Leo", {})]
    sheet = sound(draw_crew_skills([("bends.offset", "Offsets")], rows, words))

    told = sheet.all("desc")[0].text
    assert told == "Lena: Offsets about 8 of 10, likely 6 to 9. Leo: too few answers yet."
    assert {"A 8", "A –"} <= set(sheet.texts)
