import math

import pytest

from trainer.calc.shoes import DEFAULT_SHOE
from trainer.figures.bender import BENDER_ANGLES
from trainer.figures.catalogue import draw_figure


@pytest.mark.parametrize("bend", BENDER_ANGLES)
def test_the_bend_lies_beside_its_mark_by_what_the_core_says(sound, in_english, bend):
    sheet = sound(draw_figure("bender", {"bend": bend}, say=in_english))

    arc = sheet.all("rect", "fig-bent-part")[0]
    mark = float(sheet.all("line", "fig-mark")[0].get("x1"))
    scale = float(arc.get("width")) / (DEFAULT_SHOE.radius * math.radians(BENDER_ANGLES[bend]))
    assert float(arc.get("x")) - mark == pytest.approx(DEFAULT_SHOE.mark_to_arc * scale, abs=0.02)


def test_it_names_the_parts_by_what_they_do(sound, in_english):
    sheet = sound(draw_figure("bender", {"bend": "30"}, say=in_english))

    assert {"hook", "handle", "heel: foot here", "take-up mark on the pencil mark", "30° bend"} == set(sheet.texts)
