"""What the report says of a question: counts below the least number, a flag with its sentence where it is due."""

from random import Random

import pytest
from msgspec.structs import replace

from trainer.progress.question_counts import FirstTry, counted
from trainer.progress.question_report import LEAST, judged
from trainer.text.words import say


@pytest.fixture(scope="module")
def family(library):
    return library.families["offset-spacing"]


def first_try(nth, verdict="right", **more):
    base = FirstTry(nth, verdict, (), 12.0, "12 in", 0.7, 0.0, 12.0, {"depth": 4.0 + nth % 9, "angle": 30.0})
    return replace(base, **more)


def mistaken(nth, mistake, **more):
    return first_try(nth, "known-mistake", mistakes=(mistake,), **more)


def good(count, seed=1):
    """Answers as the model expects them, every known mistake among the wrong ones."""
    random = Random(seed)
    for nth in range(count):
        level = random.gauss(0.8, 1)
        expected = 1 / (1 + 2.718281828**-level)
        if random.random() < expected:
            yield first_try(nth, expected=expected, level=level)
        else:
            yield mistaken(nth, ("tangent-for-sine", "sine-for-cosecant")[nth % 2], expected=expected, level=level)


def said(family, tries, what, *, alarmed=False):
    return next(one for one in judged_of(family, tries, alarmed=alarmed) if one.what == what)


def judged_of(family, tries, *, alarmed=False):
    return judged(family, counted(family, tries), alarmed=alarmed)


def test_a_good_question_is_not_flagged(family):
    assert [one.what for one in judged_of(family, good(200)) if one.flagged] == []


@pytest.mark.parametrize("what", [what for what in LEAST if what != "alarm"])
def test_below_its_least_number_each_gives_a_count_and_no_judgement(family, what):
    odd = [first_try(nth, "wrong", value=99.0) for nth in range(LEAST[what] - 1)]
    one = said(family, odd, what)

    assert not one.flagged
    assert f"it takes {LEAST[what]}" in say(one.words)


def test_an_alarm_says_to_check_the_key_from_the_first_answer_on(family):
    one = said(family, [], "alarm", alarmed=True)

    assert one.flagged
    assert say(one.words).startswith("Check the key")


@pytest.mark.parametrize(("verdict", "words"), [("wrong", "Harder than thought: 0 right"), ("right", "Easier than")])
def test_the_fit_is_flagged_on_both_sides(family, verdict, words):
    one = said(family, [first_try(nth, verdict, expected=0.6) for nth in range(20)], "fit")

    assert one.flagged
    assert say(one.words).startswith(words)


@pytest.mark.parametrize(("right", "flagged"), [(5, True), (6, False), (19, False), (20, True)])
def test_the_share_is_flagged_below_three_and_above_nine_and_a_half_of_ten(family, right, flagged):
    tries = [first_try(nth, "right" if nth < right else "wrong") for nth in range(20)]

    assert said(family, tries, "share").flagged is flagged


@pytest.mark.parametrize(("slope", "words"), [(0, "Who knows more of this skill is hardly"), (-1, "Who knows more")])
def test_what_does_not_tell_people_apart_is_flagged(family, slope, words):
    levels = [nth / 100 - 1 for nth in range(200)]
    right = [nth % 2 == 0 if slope == 0 else level < 0 for nth, level in enumerate(levels)]
    tries = [
        first_try(nth, "right" if got else "wrong", level=level)
        for nth, (got, level) in enumerate(zip(right, levels, strict=True))
    ]
    one = said(family, tries, "tells-apart")

    assert one.flagged
    assert say(one.words).startswith(words)


@pytest.mark.parametrize(
    ("value", "words"),
    [
        (lambda _: 7.5, "answered 7.5,"),
        (lambda key: key + 0.75, "were 0.75 above the key"),
        (lambda key: key - 2, "were 2 below the key"),
        (lambda key: key * 1.5, "answered 1.5 times the key"),
    ],
)
def test_a_wrong_answer_that_comes_again_by_one_route_is_named(family, value, words):
    keys = [8.0 + nth for nth in range(4)]
    tries = [first_try(nth, "wrong", key=key, value=value(key)) for nth, key in enumerate(keys)]
    tries += [first_try(10 + nth, "wrong", key=9.0, value=40.0 + 7 * nth * nth) for nth in range(16)]
    one = said(family, tries, "unexplained")

    assert one.flagged
    assert say(one.words).startswith("4 people among 20 wrong answers")
    assert words in say(one.words)


def test_one_person_alone_makes_no_route(family):
    tries = [first_try(1, "wrong", value=7.5) for _ in range(20)]

    assert not said(family, tries, "unexplained").flagged


def test_a_known_mistake_that_nobody_makes_is_named(family):
    tries = [first_try(nth) if nth % 2 else mistaken(nth, "tangent-for-sine") for nth in range(100)]
    one = said(family, tries, "unused")

    assert one.flagged
    assert "sine for cosecant" in say(one.words)


def test_a_wrong_choice_that_nobody_takes_is_named(library):
    chosen = library.families["straps-choice"]
    offered = ("steel-set-screw", "die-cast-plain")
    tries = [
        first_try(
            nth, "wrong" if nth % 2 else "right", value=["die-cast-plain"] if nth % 2 else ["listed"], key=["listed"]
        )
        for nth in range(120)
    ]
    tries = [replace(one, mistakes=(), wrong_choices=offered) for one in tries]
    one = said(chosen, tries, "unused")

    assert one.flagged
    assert "steel set screw" in say(one.words)
    assert "die cast plain" not in say(one.words)
    assert "steel set screw" not in say(said(chosen, tries[:99], "unused").words)


def test_a_range_of_numbers_that_is_harder_is_named(family):
    tries = [
        first_try(
            nth, "wrong" if nth % 2 and nth % 10 else "right", numbers={"depth": float(4 + nth % 2), "angle": 30.0}
        )
        for nth in range(100)
    ]
    one = said(family, tries, "ranges")

    assert one.flagged
    assert "With depth from 5 on it is harder" in say(one.words)


def test_words_that_are_drawn_are_ranges_too(family):
    tries = [
        first_try(nth, "wrong" if nth % 2 else "right", numbers={"metal": "steel" if nth % 2 else "copper"})
        for nth in range(80)
    ]

    assert "With metal steel it is harder: 0 of 40 right" in say(said(family, tries, "ranges").words)


def test_given_up_counts_for_none_of_it(family):
    assert [one.count for one in judged_of(family, [first_try(nth, "gave-up") for nth in range(60)])] == [0] * 7
