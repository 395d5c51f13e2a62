"""Drawings of what stands at a box: the step to its knockout, bodies, a cabinet on a wet wall, joints of a run."""

import pytest

from trainer.calc.raceways import TRADE_SIZES
from trainer.figures.catalogue import draw_figure
from trainer.figures.conduit_body import OPENINGS

BODY = {"trade_size": "3/4", "insulation": "THHN", "conductor_size": "12"}
CABINET = {"air_space": "1/8 in", "drain_hole": "3/16 in", "live_parts": "40 in"}


@pytest.mark.parametrize("size", TRADE_SIZES)
@pytest.mark.parametrize("spacers", [("0 in", "0 in"), ("1/4 in", "0 in"), ("1/4 in", "1-5/8 in")])
@pytest.mark.parametrize("wrong", [{}, {"step": 0.75}, {"spacer_needed": 0.5}])
@pytest.mark.parametrize("solved", [True, False])
def test_any_step_is_sound(sound, in_english, size, spacers, wrong, solved):
    given = {"trade_size": size, "knockout": "7/8 in", "tube_spacer": spacers[0], "box_spacer": spacers[1]}

    sound(draw_figure("knockout_step", given, say=in_english, wrong=wrong, solved=solved))


def test_tube_and_knockout_are_to_one_scale(sound, in_english):
    sheet = sound(draw_figure("knockout_step", {"trade_size": "1/2", "knockout": "3/4 in"}, say=in_english))

    thick = float(sheet.all("rect", "fig-tube")[0].get("height"))
    middle = -float(sheet.all("line", "fig-axis")[0].get("y1"))
    assert middle / thick == pytest.approx(0.75 / 0.706, abs=1e-2)


@pytest.mark.parametrize("opening", OPENINGS)
def test_a_body_names_its_cover_and_openings(sound, in_english, opening):
    sheet = sound(draw_figure("conduit_body", {"opening": opening}, say=in_english))

    assert "cover" in sheet.texts
    assert "opening at the end" in sheet.texts
    assert len(OPENINGS[opening].at) in {2, 3}


@pytest.mark.parametrize("size", ["14", "6", "4", "250"])
@pytest.mark.parametrize("volume", [None, "12.5 cu in"])
@pytest.mark.parametrize("wrong", [{}, {"most_spliced": 16, "least_area": 0.533, "most_through": 3}])
def test_any_body_is_sound_and_tells_nothing_before_the_answer(sound, in_english, size, volume, wrong):
    given = {**BODY, "conductor_size": size, "marked_volume": volume}

    solved = sound(draw_figure("conduit_body", given, say=in_english, wrong=wrong))
    asked = sound(draw_figure("conduit_body", given, say=in_english, wrong=wrong, solved=False))
    assert len(asked.texts) < len(solved.texts)


@pytest.mark.parametrize("entry", ["30 in", "40 in", "52 in"])
def test_the_entry_is_drawn_above_or_below_the_live_parts_as_it_is(sound, in_english, entry):
    sheet = sound(draw_figure("wet_wall", {**CABINET, "entry": entry}, say=in_english))

    tube, live = sheet.all("rect", "fig-tube")[0], sheet.all("rect", "fig-metal")[0]
    middle = float(tube.get("y")) + float(tube.get("height")) / 2
    assert (middle < float(live.get("y"))) is (entry == "52 in")
    sound(draw_figure("wet_wall", {**CABINET, "entry": entry}, say=in_english, solved=False))


@pytest.mark.parametrize("run", ["8 ft", "44 ft, 27 ft, 18 ft", "12 in + 40 ft + 12 in, 5x 30 ft", "10 ft 2 in"])
@pytest.mark.parametrize("wrong", [{}, {"couplings": 9, "connectors": 3}])
def test_any_run_is_sound(sound, in_english, run, wrong):
    sound(draw_figure("joints", {"run": run}, say=in_english, wrong=wrong))
    sound(draw_figure("joints", {"run": run}, say=in_english, wrong=wrong, solved=False))


def test_couplings_are_drawn_where_whole_sticks_end(sound, in_english):
    sheet = sound(draw_figure("joints", {"run": "25 ft"}, say=in_english))

    assert [position for position, *_ in sheet.at("coupling")] == pytest.approx([0.4, 0.8])


def test_a_box_that_is_to_be_drilled_tells_no_size_before_the_answer(sound, in_english):
    given = {**CABINET, "entry": "30 in"}
    asked = " ".join(sound(draw_figure("wet_box", given, say=in_english, solved=False)).texts)
    solved = " ".join(sound(draw_figure("wet_box", given, say=in_english)).texts)

    assert "drain hole" in asked
    assert "1/8 in" not in asked
    assert "1/8 in" in solved
