import pytest

from trainer.calc.raceways import TRADE_SIZES
from trainer.figures.catalogue import draw_figure


@pytest.mark.parametrize("size", TRADE_SIZES)
@pytest.mark.parametrize("given", [{"ridge": "1/64 in"}, {"ridge": "1/8 in"}, {"slant": "1"}, {"slant": "12"}])
@pytest.mark.parametrize("wrong", [{}, {"bore_left": 0.6, "lost_percent": 10.0, "out_of_square": 0.04}])
@pytest.mark.parametrize("solved", [True, False])
def test_any_end_is_sound(sound, in_english, size, given, wrong, solved):
    sound(draw_figure("bore", {"trade_size": size, **given}, say=in_english, wrong=wrong, solved=solved))


def test_bore_and_ridge_are_to_one_scale(sound, in_english):
    sheet = sound(draw_figure("bore", {"trade_size": "1/2", "ridge": "1/16 in"}, say=in_english))

    tube, ridge, left = (float(sheet.all("circle", name)[0].get("r")) for name in ("fig-tube", "fig-burr", "fig-bore"))
    assert ridge / tube == pytest.approx(0.622 / 0.706, abs=1e-3)
    assert left / tube == pytest.approx((0.622 - 0.125) / 0.706, abs=1e-3)


def test_what_is_left_is_not_told_before_the_answer(sound, in_english):
    given = {"trade_size": "1/2", "ridge": "1/16 in"}

    assert "0.497 in" not in sound(draw_figure("bore", given, say=in_english, solved=False)).svg
    assert "0.497 in" in sound(draw_figure("bore", given, say=in_english)).texts
