"""Steps in order: every right order is right however it is sent, each slip is named, and what is amiss comes back kindly."""

from __future__ import annotations

from itertools import permutations

import pytest

from trainer.problems.check import check
from trainer.problems.draw import draw
from trainer.problems.errors import ContentError
from trainer.problems.family import load_family
from trainer.problems.model import VerdictKind
from trainer.problems.ordering import orders
from trainer.problems.store import restore, store
from trainer.problems.trial import as_typed, trial
from trainer.text.words import say

BODY = """\
id = "end"
title = "An end"
skill = "cutting.ends"
level = 1
calculation = "cut_plan"
figure = "cut_plan"
sources = ["common practice, no source"]

[draw]
long = { from = "20 in", to = "30 in", step = "1/2 in" }

[inputs]
pieces = "2x{{ long | length }}"
kerf = "1/16 in"

[ask]
kind = "order"
free = [["wipe", "dress"]]
text = "Two pieces of {{ long | length }}. In which order?"

[[ask.steps]]
id = "saw"
text = "Saw"
why = "First."

[[ask.steps]]
id = "ream"
text = "Ream"
why = "Then."

[[ask.steps]]
id = "wipe"
text = "Wipe"
why = "After reaming."

[[ask.steps]]
id = "dress"
text = "Dress"
why = "After reaming."

[[mistakes]]
id = "wiped-too-soon"
before = ["wipe", "ream"]
say = "You wiped before you reamed."
"""


@pytest.fixture(scope="module")
def problem():
    return draw(load_family(BODY), 4)


def test_pairs_that_are_free_make_more_than_one_order_right(problem):
    assert {key.value for key in problem.keys} == {
        ("saw", "ream", "wipe", "dress"),
        ("saw", "ream", "dress", "wipe"),
    }
    for key in problem.keys:
        assert check(problem, ", ".join(key.value)).kind is VerdictKind.RIGHT


def test_without_free_pairs_only_one_order_is_right():
    assert orders(["a", "b", "c", "d"], []) == (("a", "b", "c", "d"),)


def test_the_order_shown_is_never_a_right_one_and_comes_from_the_seed():
    family = load_family(BODY)
    shown = [tuple(option.id for option in draw(family, seed).options) for seed in range(200)]

    assert not set(shown) & set(family.orders)
    assert len(set(shown)) > 15
    assert shown[7] == tuple(option.id for option in draw(family, 7).options)


def test_letters_ids_and_numbers_say_the_same(problem):
    letters = {option.id: chr(ord("a") + place) for place, option in enumerate(problem.options)}
    order = problem.keys[0].value
    numbered = [f"{place}:{step}" for place, step in enumerate(order, 1)]

    for typed in (", ".join(letters[step] for step in order), list(order), numbered[::-1]):
        assert check(problem, typed).value == order


def test_a_known_mistake_is_named_and_the_right_start_is_counted(problem):
    verdict = check(problem, "saw, wipe, ream, dress")

    assert (verdict.kind, verdict.mistakes) == (VerdictKind.MISTAKE, ("wiped-too-soon",))
    assert say(verdict.reason).startswith(
        "In the right order from the start: 1 of 4 steps. Your number 2 comes too early, "
    )
    assert check(problem, as_typed(problem, problem.mistakes[0].value)[0]).mistakes == ("wiped-too-soon",)


def test_another_wrong_order_is_just_wrong(problem):
    assert check(problem, "ream, saw, wipe, dress").kind is VerdictKind.WRONG


def test_the_first_step_that_stands_wrong_is_named_with_the_reason_for_its_place(problem):
    keys = [key.value for key in problem.keys]
    options = {option.id: option for option in problem.options}
    for order in permutations(keys[0]):
        verdict = check(problem, list(order))
        if order in keys:
            assert verdict.reason is None
            continue
        early = verdict.reason.params["other"].params
        at = early["number"] - 1

        assert (early["step"], early["why"]) == (options[order[at]].text, options[order[at]].why)
        assert all(key.index(order[at]) > at for key in keys if key[:at] == order[:at])


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("a, b, b, c", "A step is named twice."),
        ("a, b, c", "A step is left out."),
        ("a, b, c, x", "That is none of the choices."),
        ("", "Nothing is chosen."),
        (["1:saw", "1:ream", "2:wipe", "3:dress"], "The number 1 is given twice."),
        (["1:saw", "2:ream", "", "3:dress"], "A step has no number yet."),
        (["1:saw", "2:ream", "3:wipe", "9:dress"], "That is none of the choices."),
    ],
)
def test_what_is_no_order_is_not_counted_and_says_why(problem, typed, said):
    verdict = check(problem, typed)

    assert verdict.kind is VerdictKind.UNREADABLE
    assert said in say(verdict.reason)


def test_a_problem_comes_back_from_store_as_it_was(problem):
    assert restore(load_family(BODY), 4, "2023", store(problem)) == problem


def test_the_family_passes_its_trial():
    assert trial(load_family(BODY), 60) == []


@pytest.mark.parametrize(
    ("old", "new", "key"),
    [
        ('before = ["wipe", "ream"]', 'before = ["saw", "ream"]', "mistakes.0.before"),
        ('before = ["wipe", "ream"]', 'before = ["dress", "wipe"]', "mistakes.0.before"),
        ('before = ["wipe", "ream"]', 'option = "wipe"', "mistakes.0.before"),
        ('free = [["wipe", "dress"]]', 'free = [["wipe", "polish"]]', "ask.free"),
        ('free = [["wipe", "dress"]]', 'answer = "sticks"', "ask.answer"),
        ('id = "ream"', 'id = "saw"', "ask.steps.1.id"),
        ('kind = "order"', 'kind = "choices"', "ask"),
    ],
)
def test_a_file_that_makes_no_sense_is_refused_at_its_key(old, new, key):
    with pytest.raises(ContentError) as refused:
        load_family(BODY.replace(old, new))

    assert key in {error.key for error in refused.value.every}
