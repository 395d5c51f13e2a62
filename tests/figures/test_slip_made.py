import pytest

from trainer.figures.catalogue import draw_figure

OFFSETS = (
    "shrink-forgotten",
    "shrink-taken-off",
    "hook-other-way",
    "not-multiplied",
    "wrong-mark-first",
    "burned-inch",
)
SADDLES = ("shrink-forgotten", "total-shrink-to-centre", "hook-away-from-centre", "take-up-on-centre")


def sheet_of(sound, say, bend, slip, wanted, angle, distance, **more):
    inputs = {"bend": bend, "slip": slip, "wanted": wanted, "angle": angle, "distance": distance}
    return sound(draw_figure("slip_made", inputs, say=say, **more))


@pytest.mark.parametrize("solved", [True, False])
@pytest.mark.parametrize("distance", [40.0, 70.0])
@pytest.mark.parametrize("wanted", [3.0, 6.5, 10.0])
@pytest.mark.parametrize(
    ("bend", "slip", "angle"),
    [*(("offset", slip, 30.0) for slip in OFFSETS), *(("three-point-saddle", slip, 45.0) for slip in SADDLES)],
)
def test_any_slip_is_sound(sound, in_english, bend, slip, angle, wanted, distance, solved):
    sheet_of(sound, in_english, bend, slip, wanted, angle, distance, solved=solved)


def test_the_slip_is_named_only_when_solved(sound, in_english):
    told = sheet_of(sound, in_english, "offset", "shrink-forgotten", 8.0, 30.0, 50.0)
    asked = sheet_of(sound, in_english, "offset", "shrink-forgotten", 8.0, 30.0, 50.0, solved=False)

    assert "The shrink was forgotten." in told.texts
    assert not any("shrink" in text for text in asked.texts)
    assert "wanted here: 50 in" in asked.texts
