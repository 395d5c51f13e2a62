import re

import pytest
from msgspec.structs import asdict

from trainer.lessons.html import lesson_html


@pytest.fixture
def shown(lesson, families):
    return lambda *replaced, **more: lesson_html(lesson(*replaced), families, **more)


def ids(svg):
    return set(re.findall(r' id="([^"]+)"', svg))


def of_kind(blocks, kind):
    return [block for block in blocks if block.kind == kind]


def test_prose_is_clean_html_with_the_cores_numbers_in_it(shown):
    (prose,) = of_kind(shown(), "prose")

    assert prose.html == "<h2>Marks</h2>\n<p>Spacing 12 in, a stick 10 ft, third bend 30°.</p>"


def test_tags_in_prose_stay_text(shown):
    (prose,) = of_kind(shown(("Spacing", "<script>alert(1)</script> Spacing")), "prose")

    assert "<script>" not in prose.html


def test_a_drawing_shows_the_beginners_value_and_a_filled_caption(shown):
    offset, fitting = of_kind(shown(), "drawing")

    assert offset.caption == "Near mark 39-5/8 in."
    assert "yours 50 in" in offset.svg
    assert fitting.caption == ""
    assert "set screw" in fitting.svg


def test_equal_drawings_on_one_page_have_different_ids(shown):
    blocks = shown(("-> work first", "-> draw fitting set-screw\n\n-> work first"))

    _, one, two = of_kind(blocks, "drawing")
    assert not ids(one.svg) & ids(two.svg)


def test_a_worked_example_shows_the_steps_to_what_is_asked_and_no_others(shown):
    (work,) = of_kind(shown(), "work")

    assert work.html == "<p>Depth 6 in.</p>"
    assert [step.name for step in work.steps] == ["shrink", "first_mark"]
    assert work.said == ()


def test_an_example_without_a_text_shows_its_steps_only(shown):
    (work,) = of_kind(shown(("work first for first_mark", "work total for total")), "work")

    assert work.html == ""
    assert [step.name for step in work.steps] == ["total"]


def test_an_output_of_judgements_is_said(shown):
    example = (
        '[examples.roof]\ncalculation = "fitting_choice"\ninputs = { place = "wet", box_side = "sealed" }\n\n[tables'
    )

    (work,) = of_kind(shown(("[tables", example), ("work first for first_mark", "work roof for suitable")), "work")

    assert len(work.said) == 1
    assert work.said[0].startswith("compression connector listed for wet locations: ")


def test_a_table_is_worked_out_row_by_row_and_says_where_there_is_no_common_figure(shown):
    (table,) = of_kind(shown(), "table")

    assert table.columns == (("Bend", False), ("Multiplier", True))
    assert table.rows == (("25°", "–"), ("30°", "2"))


def test_cautions_of_several_areas_end_with_the_general_ones_once(shown):
    (cautions,) = of_kind(shown(), "cautions")

    assert cautions.sentences[0].startswith("Keep feet and fingers")
    assert cautions.sentences[4] == "Clamp the tube. Never hold it in the hand near a running saw."
    assert len(cautions.sentences) == len(set(cautions.sentences)) == 13


def test_a_try_it_has_its_familys_title(shown, families):
    (try_it,) = of_kind(shown(), "try-it")

    assert asdict(try_it) == {
        "family_id": "offset-spacing",
        "title": families["offset-spacing"].title,
        "kind": "try-it",
    }


def test_the_edition_is_handed_to_the_examples(shown):
    (work,) = of_kind(shown(("work first for first_mark", "work total for left"), edition="2017"), "work")

    notes = [step.note.params for step in work.steps if step.note is not None]
    assert notes[0]["edition"] == "2017"
