import pytest

from trainer.calc.catalogue import CATALOGUE
from trainer.calc.message import InputError
from trainer.figures.catalogue import FIGURES, draw_figure, figure_for

DRAWN = [name for name, figure in FIGURES.items() if figure.calculation]


@pytest.mark.parametrize("name", DRAWN)
def test_every_figure_draws_its_calculations_example(sound, in_english, name):
    calculation = CATALOGUE[FIGURES[name].calculation]

    sound(draw_figure(name, calculation.example_inputs, say=in_english))


@pytest.mark.parametrize("name", DRAWN)
def test_typed_texts_draw_the_same_as_values_and_a_result_at_hand(in_english, name):
    calculation = CATALOGUE[FIGURES[name].calculation]
    values = calculation.read(calculation.example_inputs)

    assert draw_figure(name, values, calculation.solve(values), say=in_english) == draw_figure(
        name, calculation.example_inputs, say=in_english
    )


@pytest.mark.parametrize("name", DRAWN)
def test_what_is_not_solved_differs_from_what_is(in_english, name):
    example = CATALOGUE[FIGURES[name].calculation].example_inputs

    assert draw_figure(name, example, say=in_english) != draw_figure(name, example, say=in_english, solved=False)


def test_inputs_that_were_left_out_may_be_handed_on_as_none(sound, in_english):
    sound(draw_figure("offset", {"depth": 6, "angle": 30, "distance": None, "shoe": None}, say=in_english))


def test_a_figure_is_found_by_its_calculation():
    found = {name: figure_for(name) for name in CATALOGUE if figure_for(name)}
    assert {FIGURES[name].calculation for name in DRAWN} == set(found)
    assert all(FIGURES[figure].calculation == name for name, figure in found.items())
    assert figure_for("") == ""


def test_what_the_core_refuses_is_not_drawn(in_english):
    with pytest.raises(InputError):
        draw_figure("offset", {"depth": "6 in", "angle": "95"}, say=in_english)


def test_no_sentence_is_made_up_by_a_drawing(sound):
    asked = []

    def say(message):
        asked.append(message.id)
        return "§"

    sheet = sound(draw_figure("fitting", {"fitting": "set-screw"}, say=say))

    assert set(sheet.texts) == {"§"}
    assert asked
