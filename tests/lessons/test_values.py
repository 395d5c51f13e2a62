import pytest

from trainer.calc.catalogue import CATALOGUE
from trainer.lessons.values import fact, inputs_of, lesson_values


def test_every_input_and_output_of_an_example_has_a_name(lesson):
    values = lesson_values(lesson())

    assert values["first_depth"] == 6
    assert values["first_spacing"] == pytest.approx(12)
    assert values["total_angles_1"] == 90
    assert values["total_total"] == 210
    assert values["stick"] == 120
    assert values["own"] == 3


def test_what_is_no_number_and_no_word_has_no_name(lesson):
    values = lesson_values(lesson())

    assert "total_within_limit" not in values
    assert "first_marks" not in values


def test_the_edition_reaches_the_calculations_that_take_one():
    total = CATALOGUE["bend_total"]

    assert inputs_of(total, {"angles": "90"}, "2017")["edition"] == "2017"
    assert inputs_of(total, {"angles": "90", "edition": "2020"}, "2017")["edition"] == "2020"
    assert "edition" not in inputs_of(CATALOGUE["offset"], {"depth": "6", "angle": "30"}, "2017")


@pytest.mark.parametrize(
    "path",
    ["nowhere.at.all", "cutting.stick", "cutting.stick.source", "cutting.kerf.hand_hacksaw.9", "cutting.kerf.x.1"],
)
def test_a_path_that_leads_to_no_number_is_no_fact(path):
    assert fact(path) is None


def test_a_member_of_a_list_is_a_fact():
    assert fact("bends.hand_bender_shoe.rows.0.take_up") == 5
