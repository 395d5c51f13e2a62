import pytest

from trainer.calc.fitting_choice import FITTING_IDS
from trainer.figures.catalogue import draw_figure
from trainer.figures.fitting import FITTINGS


@pytest.mark.parametrize("kind", FITTINGS)
def test_every_fitting_is_sound_and_hatched(sound, in_english, kind):
    sheet = sound(draw_figure("fitting", {"fitting": kind}, say=in_english))

    assert len(sheet.all("path", "fig-hatch")) >= 4
    assert len(sheet.texts) >= 4


def test_every_fitting_of_the_core_can_be_drawn():
    assert set(FITTING_IDS) <= set(FITTINGS)


def test_only_the_connector_for_wet_places_has_sealing_rings(sound, in_english):
    def seals(kind):
        return len(sound(draw_figure("fitting", {"fitting": kind}, say=in_english)).all("circle", "fig-seal"))

    assert seals("compression-wet") == 4
    assert seals("compression") == seals("set-screw") == 0


def test_a_wrong_choice_stands_below_the_right_one(sound, in_english):
    place = {"place": "wet", "box_side": "sealed"}

    sheet = sound(draw_figure("fitting", place, say=in_english, wrong={"suitable": "compression"}))

    headings = [text.text for text in sheet.all("text") if "fig-heading" in text.get("class")]
    yours = [text.text for text in sheet.all("text", "fig-wrong-text")]
    assert headings == ["compression connector listed for wet", "locations"]
    assert yours == ["yours: compression connector, plain"]


def test_of_several_wrong_choices_one_is_drawn(sound, in_english):
    wrong = {"suitable": ("compression-wet", "set-screw", "set-screw-steel", "offset", "no-fitting")}

    sheet = sound(draw_figure("fitting", {"place": "wet", "box_side": "sealed"}, say=in_english, wrong=wrong))

    assert len(sheet.all("text", "fig-wrong-text")) == 1


def test_fittings_that_look_alike_are_drawn_once(sound, in_english):
    sheet = sound(draw_figure("fitting", {"place": "dry"}, say=in_english))

    assert sheet.texts.count("box wall") == 2
    assert sheet.texts.count("set screw") == 1


def test_before_the_answer_nothing_is_drawn(in_english):
    assert draw_figure("fitting", {"place": "wet", "box_side": "sealed"}, say=in_english, solved=False) == ""


def test_where_nothing_suits_nothing_is_drawn(in_english):
    assert draw_figure("fitting", {"place": "wet", "box_side": "plain"}, say=in_english) == ""
