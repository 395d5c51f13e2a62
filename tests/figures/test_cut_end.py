import pytest

from trainer.figures.catalogue import draw_figure
from trainer.figures.cut_end import CUT_ENDS


@pytest.mark.parametrize("state", CUT_ENDS)
def test_every_end_is_sound_with_a_conductor_over_it(sound, in_english, state):
    sheet = sound(draw_figure("cut_end", {"state": state}, say=in_english))

    assert "conductor" in sheet.texts
    assert sheet.all("path", "fig-skin")


def test_only_the_saw_leaves_burrs(sound, in_english):
    burrs = {
        state: len(sound(draw_figure("cut_end", {"state": state}, say=in_english)).all("path", "fig-burr"))
        for state in CUT_ENDS
    }

    assert burrs["sawn"] > 0
    assert burrs["wheel"] == burrs["reamed"] == 0


@pytest.mark.parametrize("state", CUT_ENDS)
def test_no_metal_lies_inside_the_conductor(state):
    cut = CUT_ENDS[state]

    def underside(along):
        pairs = zip(cut.conductor, cut.conductor[1:], strict=False)
        (x1, y1), (x2, y2) = next(pair for pair in pairs if pair[0][0] <= along <= pair[1][0])
        return y1 + (along - x1) / (x2 - x1) * (y2 - y1)

    for along, outward in cut.end:
        assert outward >= underside(along) - 0.003


def test_the_wheels_ridge_stands_into_the_bore_and_the_reamed_edge_does_not():
    assert min(outward for _, outward in CUT_ENDS["wheel"].end) < 0
    assert min(outward for _, outward in CUT_ENDS["reamed"].end) == 0
