import pytest

from trainer.figures.catalogue import draw_figure

DROP = {
    "current": "16 A",
    "length": "120 ft",
    "conductor_size": "10",
    "material": "copper",
    "volts": "120 V",
    "phases": "1",
}
WARM = {
    "conductor_size": "12",
    "material": "copper",
    "insulation": "THHN",
    "ambient": "40 C",
    "current_carrying": "6",
    "terminals": "75 C",
}


def words_of(sound, drawn):
    return " ".join(sound(drawn).texts)


@pytest.mark.parametrize("phases", ["1", "3"])
def test_the_length_is_said_to_be_one_way_and_the_drop_shows_only_when_solved(sound, in_english, phases):
    given = {**DROP, "phases": phases}
    asked = words_of(sound, draw_figure("circuit_drop", given, say=in_english, solved=False))
    solved = words_of(sound, draw_figure("circuit_drop", given, say=in_english))

    assert "one way 120 ft" in asked
    assert "Lost on the way" not in asked
    assert "Lost on the way" in solved


def test_a_learners_drop_stands_beside_the_right_one(sound, in_english):
    drawn = draw_figure("circuit_drop", DROP, say=in_english, wrong={"drop": 2.5})

    assert "yours: 2.5 V" in words_of(sound, drawn)


def test_the_ampacity_with_both_factors_shows_only_when_solved(sound, in_english):
    asked = words_of(sound, draw_figure("circuit_ampacity", WARM, say=in_english, solved=False))
    solved = words_of(sound, draw_figure("circuit_ampacity", WARM, say=in_english, wrong={"corrected": 24.0}))

    assert "30 A in its column" in asked
    assert "21.84 A" not in asked
    assert "21.84 A" in solved
    assert "yours: 24 A" in solved
