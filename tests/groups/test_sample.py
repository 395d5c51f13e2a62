"""A family seen from behind, before it is given out."""

from __future__ import annotations

import pytest

from trainer.accounts.access import NotFoundError
from trainer.groups.sample import sample
from trainer.library.shelf import Library
from trainer.problems.shelf import content_root


@pytest.fixture(scope="module")
def from_the_shelf():
    """The content that travels with the program."""
    return Library(content_root())


def test_a_typed_answer_comes_with_its_key_its_steps_and_every_slip(library):
    seen = sample(library, "offset-spacing", 1, edition="2023")

    assert seen.family.id == "offset-spacing"
    assert seen.text_html.startswith("<p>")
    assert all(one.quantity.unit == "in" for one in seen.accepted)
    assert seen.accepted
    assert seen.steps
    assert seen.options == ()
    assert [one.mistake.id for one in seen.mistakes]
    assert all(one.value is not None and one.mistake.html for one in seen.mistakes)


def test_a_choice_comes_with_what_belongs_and_why(library):
    seen = sample(library, "straps-choice", 1, edition="2023")

    assert [one.right for one in seen.options].count(True) == 1
    assert all(one.why_html for one in seen.options)
    assert all(one.chosen is one.right for one in seen.options)
    assert seen.accepted == ()


def test_slips_about_an_option_name_it(library):
    family = next(one for one in library.families.values() if one.statements)

    seen = sample(library, family.id, 1, edition="2023")

    texts = {option.html for option in seen.options}
    assert [one.option_html in texts for one in seen.mistakes] == [True] * len(seen.mistakes)


def test_a_slip_of_order_names_the_step_that_was_early_and_the_one_that_belongs_before_it(from_the_shelf):
    seen = sample(from_the_shelf, "order-of-a-cut", 1, edition="2023")

    early, late = seen.mistakes[0].option_html, seen.mistakes[0].before_html
    assert early.startswith("Push the end into the connector")
    assert late.startswith("Ream the cut end")


def test_the_bender_on_its_tube_comes_with_every_right_combination(from_the_shelf):
    seen = sample(from_the_shelf, "back-to-back-bender", 1, edition="2023")

    assert len(seen.combinations) == 2
    assert {one.group for one in seen.options} == {"mark", "reference", "hook", "roll"}
    assert seen.figure.count("<svg") == 3
    assert seen.steps == ()
    assert all(one.option_html and not one.before_html for one in seen.mistakes)


def test_another_seed_gives_other_numbers_and_the_same_one_the_same(library):
    first, second, again = (sample(library, "offset-spacing", seed, edition="2023") for seed in (1, 2, 1))

    assert first.text_html != second.text_html
    assert first == again


def test_a_family_that_there_is_not_is_not_found(library):
    with pytest.raises(NotFoundError):
        sample(library, "no-such", 1, edition="2023")
