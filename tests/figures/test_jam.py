import pytest

from trainer.figures.catalogue import draw_figure

PULL = {"raceway": "emt", "trade_size": "1/2", "insulation": "THHN", "conductor_size": "8"}


def circles(sheet, name):
    return [(float(c.get("cx")), float(c.get("cy")), float(c.get("r"))) for c in sheet.all("circle", name)]


def test_unsolved_there_are_only_the_tube_and_the_three(sound, in_english):
    sheet = sound(draw_figure("jam", PULL, say=in_english, solved=False))

    assert len(circles(sheet, "fig-insulation")) == 3
    assert not sheet.all("line", "fig-limit")
    assert "conductors wide" not in " ".join(sheet.texts)


@pytest.mark.parametrize(
    ("size", "conductor", "said"),
    [
        ("1/2", "8", "can wedge"),
        ("1", "2", "can wedge"),
        ("3/4", "8", "cannot wedge"),
        ("2-1/2", "250", "cannot wedge"),
    ],
)
def test_the_row_stands_to_scale_against_the_bore(sound, in_english, size, conductor, said):
    given = {**PULL, "trade_size": size, "conductor_size": conductor}
    sheet = sound(draw_figure("jam", given, say=in_english))
    row = sorted(circles(sheet, "fig-insulation"))[-3:]
    walls = [float(line.get("x1")) for line in sheet.all("line", "fig-limit")]
    [(_, _, bore)] = circles(sheet, "fig-bore")

    assert walls[1] - walls[0] == pytest.approx(2 * bore, abs=0.05)
    assert row[2][0] - row[0][0] == pytest.approx(4 * row[0][2], abs=0.05)
    assert sum(row[1][:1]) == pytest.approx(sum(walls) / 2, abs=0.05)
    assert said in " ".join(sheet.texts)
