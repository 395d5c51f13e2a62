"""Problems drawn: the same for a seed, exact, and only such as can be told apart from their mistakes."""

from __future__ import annotations

import random
from fractions import Fraction

import pytest

from trainer.problems.draw import draw
from trainer.problems.errors import DrawError
from trainer.problems.family import load_family
from trainer.problems.given import calculation_values
from trainer.problems.model import AnswerKind, Key

SEEDS = range(200)


def test_a_seed_gives_the_same_problem_again_and_another_seed_another(family):
    assert draw(family, 7) == draw(family, 7)
    assert len({draw(family, seed).text for seed in SEEDS}) > 40


def test_a_seed_gives_this_very_problem_on_every_machine(family):
    problem = draw(family, 7)

    assert problem.numbers == {"depth": 5.0, "angle": 22.5, "place": "roof"}
    assert problem.text == "An offset 5 in deep, 22.5°, on a roof. How far apart?"


def test_only_the_seeds_own_fractions_are_used(family, monkeypatch):
    class OnlyRandom(random.Random):
        def __getattribute__(self, name):
            if name in {"choice", "shuffle", "randint", "randrange", "uniform", "getrandbits", "sample", "choices"}:
                pytest.fail(f"used {name}")
            return super().__getattribute__(name)

    monkeypatch.setattr(random, "Random", OnlyRandom)
    draw(family, 1)


def test_lengths_step_in_exact_fractions(sound):
    family = load_family(
        sound.replace(
            'from = "4 in", to = "8 in", step = "1/2 in"', 'from = "4-1/16 in", to = "9-1/16 in", step = "5/16 in"'
        )
    )
    depths = {draw(family, seed).numbers["depth"] for seed in range(400)}

    assert depths == {float(Fraction(65, 16) + step * Fraction(5, 16)) for step in range(17)}


def test_decimal_steps_are_exact_too(sound):
    family = load_family(
        sound.replace('from = "4 in", to = "8 in", step = "1/2 in"', "from = 4.1, to = 5.1, step = 0.1")
    )

    assert {draw(family, seed).numbers["depth"] for seed in range(300)} == {
        round(4.1 + step / 10, 1) for step in range(11)
    }


def test_the_key_is_the_cores_result_on_each_basis_unrounded(family):
    problem = draw(family, 3)
    result = family.calculation.solve({"depth": problem.numbers["depth"], "angle": problem.numbers["angle"]})

    assert problem.keys == (Key(result.spacing, "sharp-corner"), Key(result.spacing_handbook, "handbook"))


def test_a_basis_without_a_constant_gives_no_key(sound):
    family = load_family(sound.replace("[22.5, 30, 45]", "[25]"))

    assert [key.basis for key in draw(family, 1).keys] == ["sharp-corner"]


def test_the_first_basis_has_to_give_a_key(sound):
    family = load_family(
        sound.replace('["sharp-corner", "handbook"]', '["handbook"]').replace("[22.5, 30, 45]", "[25]")
    )

    with pytest.raises(DrawError, match="no answer on the first basis"):
        draw(family, 1)


#: Nearer to a key than this no mistake may lie, whatever its family says: a sixteenth less what a tape is off, one whole.
NEAREST = {AnswerKind.LENGTH: 3 / 64, AnswerKind.COUNT: 1}


def test_every_mistake_keeps_its_gap_from_every_key(shelf):
    for family in shelf.values():
        for seed in SEEDS:
            problem = draw(family, seed)
            for mistake in problem.mistakes:
                if not isinstance(mistake.value, float):
                    continue
                apart = min(abs(mistake.value - key.value) for key in problem.keys)
                gap = max(family.shape.ask.gap * problem.tolerance, NEAREST.get(problem.kind, 0))
                assert apart >= gap - 1e-9, (family.id, seed, mistake)


@pytest.mark.parametrize(
    ("route", "fits"), [("spacing + 0.18", False), ("spacing_handbook + 0.18", False), ("spacing + 0.25", True)]
)
def test_a_mistake_nearer_than_three_tolerances_to_any_key_fits_nowhere(sound, route, fits):
    family = load_family(sound.replace("[22.5, 30, 45]", "[30]").replace("depth * sin(angle)", route))

    if fits:
        assert draw(family, 1).mistakes[0].id == "times-sine"
    else:
        with pytest.raises(DrawError, match="times-sine: too near"):
            draw(family, 1)


def test_a_family_may_ask_for_another_gap(sound):
    family = load_family(
        sound.replace("[22.5, 30, 45]", "[30]")
        .replace("depth * sin(angle)", "spacing + 0.18")
        .replace('answer = "spacing"', 'answer = "spacing"\ngap = 2')
    )

    assert draw(family, 1).mistakes[0].value == pytest.approx(draw(family, 1).keys[0].value + 0.18)


def test_a_mistake_that_is_the_key_in_another_unit_fits_nowhere(sound):
    family = load_family(sound.replace("depth * sin(angle)", "spacing / 12"))

    with pytest.raises(DrawError, match="another unit"):
        draw(family, 1)


def test_a_mistake_below_zero_fits_nowhere_because_nobody_can_type_it(sound):
    with pytest.raises(DrawError, match="below zero"):
        draw(load_family(sound.replace("depth * sin(angle)", "0 - depth")), 1)


def test_a_mistake_that_cannot_be_made_with_these_numbers_is_left_out(sound):
    family = load_family(sound.replace('when = "value > 0"', 'when = "angle == 45"'))
    with_45 = {
        any(m.id == "shrink" for m in p.mistakes) for p in (draw(family, s) for s in SEEDS) if p.numbers["angle"] == 45
    }
    others = {
        any(m.id == "shrink" for m in p.mistakes) for p in (draw(family, s) for s in SEEDS) if p.numbers["angle"] != 45
    }

    assert (with_45, others) == ({True}, {False})


def test_a_mistake_can_hang_on_a_drawn_word(sound):
    family = load_family(sound.replace('when = "value > 0"', 'where = { place = ["roof"] }'))

    for seed in SEEDS:
        problem = draw(family, seed)
        assert any(m.id == "shrink" for m in problem.mistakes) == (problem.numbers["place"] == "roof")


def test_a_formula_about_a_missing_output_leads_nowhere(sound):
    family = load_family(sound.replace("[22.5, 30, 45]", "[25]"))

    assert [mistake.id for mistake in draw(family, 1).mistakes] == ["times-sine", "shrink", "depth"]


def test_a_draw_that_never_fits_is_an_error_of_the_family_with_the_reasons_counted(sound):
    family = load_family(sound.replace("spacing_arc > 0", "spacing_arc > 1000"))

    with pytest.raises(DrawError) as caught:
        draw(family, 5)
    assert (caught.value.family_id, caught.value.seed) == ("spacing-of-marks", 5)
    assert caught.value.reasons == {"keep: spacing_arc > 1000": 200}
    assert "no fit in 200 tries with seed 5" in str(caught.value)


def test_numbers_that_the_calculation_refuses_are_drawn_again(sound):
    family = load_family(
        sound.replace("angle = {", 'distance = { choose = ["2 in", "60 in"] }\nangle = {').replace(
            "deep,", "deep at {{ distance | length }},"
        )
    )

    assert {draw(family, seed).numbers["distance"] for seed in SEEDS} == {60.0}


def test_a_condition_about_a_missing_output_does_not_hold(sound):
    family = load_family(sound.replace("[22.5, 30, 45]", "[25, 30]").replace("spacing_arc > 0", "shrink_handbook > 0"))

    assert {draw(family, seed).numbers["angle"] for seed in SEEDS} == {30.0}


def test_an_answer_below_zero_is_drawn_again(choices):
    text = choices[: choices.index("[ask]")] + (
        '[ask]\nkind = "number"\nanswer = "left"\ntolerance = 0.5\ntext = "How many left?"\n'
    )
    family = load_family(text.replace("[2, 3]", "[5]").replace("[facts]", '[facts]\nother = "bends.total.limit"'))

    with pytest.raises(DrawError, match="below zero"):
        draw(family, 1)


def test_a_counted_mistake_has_to_be_a_whole_number(shelf):
    family = shelf["strap-count"]
    text = family.body.replace('value = "straps - 1"', 'value = "straps - 0.5"')

    with pytest.raises(DrawError, match="no whole number"):
        draw(load_family(text), 1)


def test_a_counted_mistake_differs_from_the_key_by_one_at_least(shelf):
    text = shelf["strap-count"].body.replace('value = "straps - 1"', 'value = "straps"')

    with pytest.raises(DrawError, match="too near"):
        draw(load_family(text), 1)


def test_the_edition_reaches_a_calculation_that_asks_for_it(shelf):
    problem = draw(shelf["bend-total"], 1, edition="2017")

    assert problem.edition == "2017"
    assert calculation_values(shelf["bend-total"], problem.numbers, "2017")["edition"] == "2017"


def test_a_texted_input_is_read_as_a_person_would_type_it(shelf):
    problem = draw(shelf["bend-total"], 1)
    values = calculation_values(shelf["bend-total"], problem.numbers, "2023")

    assert sum(values["angles"]) == problem.keys[0].value


def test_a_count_goes_to_the_calculation_as_a_whole_number(shelf):
    family = shelf["sticks-needed"]

    assert isinstance(draw(family, 1).numbers["many"], float)
    assert (
        family.calculation.solve(calculation_values(family, draw(family, 1).numbers, "2023")).sticks
        == draw(family, 1).keys[0].value
    )
