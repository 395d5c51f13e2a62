import pytest

from trainer.figures.catalogue import draw_figure
from trainer.figures.support import SUPPORTS


@pytest.mark.parametrize("kind", SUPPORTS)
def test_every_support_is_sound_and_named(sound, in_english, kind):
    sheet = sound(draw_figure("support", {"support": kind}, say=in_english))

    assert len(sheet.texts) >= 3
    assert len(set(sheet.texts)) == len(sheet.texts)


def test_a_one_hole_strap_has_one_screw_and_a_two_hole_strap_two(sound, in_english):
    screws = [
        len(sound(draw_figure("support", {"support": kind}, say=in_english)).all("rect", "fig-screw"))
        for kind in ("one-hole", "two-hole")
    ]

    assert screws == [1, 2]
