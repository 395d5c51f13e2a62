"""Options: the core says which are right; seed and family say which are shown, and in which order."""

from __future__ import annotations

import pytest

from trainer.problems.draw import draw
from trainer.problems.errors import DrawError
from trainer.problems.family import load_family
from trainer.text.words import say

SEEDS = range(120)


def test_the_right_option_is_one_that_the_core_lists_as_suitable_and_the_others_are_not(fitting):
    family = load_family(fitting)
    for seed in SEEDS:
        problem = draw(family, seed)
        result = family.calculation.solve(problem.numbers)
        suitable = {judged.fitting for judged in result.suitable}
        shown = {option.id for option in problem.options}

        assert shown & suitable == {problem.keys[0].value}
        assert len(problem.options) == 4


def test_an_option_of_the_core_carries_the_cores_name_and_reason(fitting):
    problem = draw(load_family(fitting), 1)
    for option in problem.options:
        name, reason = option.from_core

        assert (option.text, option.why) == (say(name), say(reason))


def test_the_order_comes_from_the_seed(fitting):
    family = load_family(fitting)

    assert draw(family, 5).options == draw(family, 5).options
    assert {
        [option.id for option in draw(family, seed).options].index(draw(family, seed).keys[0].value) for seed in SEEDS
    } == {0, 1, 2, 3}


def test_a_mistake_about_an_option_is_there_when_it_is_shown_and_wrong_in_that_place(fitting):
    family = load_family(fitting)
    for seed in SEEDS:
        problem = draw(family, seed)
        shown = any(option.id == "compression" for option in problem.options)

        assert [m.value for m in problem.mistakes] == (
            ["compression"] if shown and problem.numbers["place"] == "wet" else []
        )


def test_with_one_choice_the_right_option_is_no_mistake(fitting):
    family = load_family(
        fitting.replace('option = "compression"\nwhere = { place = ["wet"] }', 'option = "compression-wet"')
    )

    assert not any(
        draw(family, seed).mistakes for seed in SEEDS if draw(family, seed).keys[0].value == "compression-wet"
    )


def test_several_choices_show_as_many_right_ones_as_the_family_allows(fitting):
    text = fitting.replace('kind = "choice"', 'kind = "choices"').replace("show = 4", "show = 5, right_shown = [2, 3]")
    family = load_family(
        text.replace('{ place = "wet", box_side = "sealed", spacing = "60 in" },', "")
        .replace('wet = "outside"\n', "")
        .replace('where = { place = ["wet"] }\n', "")
    )
    sizes = {len(draw(family, seed).keys[0].value) for seed in SEEDS}

    assert sizes == {2, 3}
    assert all(draw(family, seed).keys[0].value == tuple(sorted(draw(family, seed).keys[0].value)) for seed in SEEDS)


def test_too_few_right_ones_fit_nowhere(fitting):
    text = fitting.replace('kind = "choice"', 'kind = "choices"').replace("show = 4", "show = 5, right_shown = [6, 7]")

    with pytest.raises(DrawError, match="too few right options"):
        draw(load_family(text), 1)


def test_the_cores_numbers_decide_about_statements(choices):
    family = load_family(choices)
    for seed in SEEDS:
        problem = draw(family, seed)
        left = problem.outputs["left"]

        assert problem.keys[0].value == (("ninety", "one-eighty") if left == 180 else ("ninety",))
        assert {option.id for option in problem.options} == {"ninety", "one-eighty", "kick"}
        assert all(option.why.startswith(f"{left:.0f}°") for option in problem.options)


def test_a_reason_tells_a_number_of_its_own_and_the_rules_stay_what_they_are(choices):
    plain = load_family(choices)
    at = choices.index("why = ")
    end = choices.index("\n", at)
    family = load_family(
        f'{choices[:at]}value = "left / 2"\nwhy = "Half of it is {{{{ value | angle }}}}."{choices[end:]}'
    )
    problem = draw(family, 3)

    assert f"Half of it is {problem.outputs['left'] / 2:.0f}°." in [option.why for option in problem.options]
    assert family.rules_hash == plain.rules_hash
    assert family.words_hash != plain.words_hash


def test_a_family_may_show_some_of_its_statements(choices):
    family = load_family(choices.replace('kind = "choices"', 'kind = "choices"\nshow = 2'))

    assert {len(draw(family, seed).options) for seed in SEEDS} == {2}


def test_all_right_or_none_fits_nowhere(choices):
    with pytest.raises(DrawError, match="all options right, or none"):
        draw(load_family(choices.replace("[2, 3]", "[4]")), 1)


def test_one_choice_with_several_right_statements_fits_nowhere(choices):
    with pytest.raises(DrawError, match="more than one option right"):
        draw(load_family(choices.replace('kind = "choices"', 'kind = "choice"').replace("[2, 3]", "[2]")), 1)


def test_one_choice_among_statements_has_one_right_one(choices):
    family = load_family(choices.replace('kind = "choices"', 'kind = "choice"').replace("[2, 3]", "[3]"))

    assert draw(family, 1).keys[0].value == "ninety"


def test_a_statement_about_a_number_that_is_missing_fits_nowhere(shelf):
    text = shelf["one-more-bend"].body.replace('right = "left >= 90"', 'right = "1 / (left - left) > 0"')

    with pytest.raises(DrawError, match="no truth"):
        draw(load_family(text), 1)
