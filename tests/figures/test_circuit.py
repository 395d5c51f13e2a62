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


def test_the_load_that_never_rests_is_given_and_what_it_counts_shows_only_when_solved(sound, in_english):
    given = {**WARM, "conductor_size": "4", "continuous": "24 A", "noncontinuous": "10 A"}
    asked = words_of(sound, draw_figure("circuit_ampacity", given, say=in_english, solved=False))
    solved = words_of(sound, draw_figure("circuit_ampacity", given, say=in_english, wrong={"needed": 34.0}))

    assert "24 A for three hours or more, 10 A more" in asked
    assert "40 A" not in asked
    assert "counts as 40 A; the smallest device for it is 40 A" in solved
    assert "yours: 34 A" in solved


def test_a_device_that_the_conductor_does_not_allow_is_left_out(sound, in_english):
    given = {**WARM, "conductor_size": "14", "current_carrying": "50", "cord_and_plug": "yes"}

    assert "Largest device" not in words_of(sound, draw_figure("circuit_ampacity", given, say=in_english))


GROUND = {"overcurrent_device": "60 A", "material": "copper"}


def test_the_ground_lies_dashed_beside_the_conductor_and_its_size_shows_only_when_solved(sound, in_english):
    asked = sound(draw_figure("circuit_ground", GROUND, say=in_english, solved=False))
    solved = words_of(sound, draw_figure("circuit_ground", GROUND, say=in_english))

    assert len(asked.all("line", "fig-earth")) == 1
    assert "10 AWG" not in " ".join(asked.texts)
    assert "By the device it is 10 AWG" in solved
    assert "In proportion" not in solved


def test_a_ground_that_grows_says_from_what_and_takes_a_learners_circular_mils(sound, in_english):
    given = {**GROUND, "minimum_phase_size": "6", "installed_phase_size": "4"}
    said = words_of(sound, draw_figure("circuit_ground", given, say=in_english, wrong={"needed": 10380.0}))

    assert "had to be 6 AWG; they were made 4 AWG" in said
    assert "needs 16511 cmil: 8 AWG" in said
    assert "yours: 10380 cmil" in said


def test_circuit_conductors_that_were_not_made_larger_are_not_spoken_of(sound, in_english):
    given = {**GROUND, "minimum_phase_size": "6", "installed_phase_size": "6"}

    assert "had to be" not in words_of(sound, draw_figure("circuit_ground", given, say=in_english))
