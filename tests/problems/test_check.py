"""How a typed answer is judged: each rule, and which of two goes before the other."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from trainer.problems.check import check
from trainer.problems.draw import draw
from trainer.problems.model import AnswerKind, Key, Verdict, VerdictKind
from trainer.problems.store import message_from_json, message_to_json
from trainer.text.words import say

RIGHT, ROUNDED, MISTAKE = VerdictKind.RIGHT, VerdictKind.ROUNDED, VerdictKind.MISTAKE
UNIT, WRONG, UNREADABLE = VerdictKind.UNIT, VerdictKind.WRONG, VerdictKind.UNREADABLE


@pytest.mark.parametrize(
    "typed",
    ["10.45", "10-7/16", '10 7/16"', "10 1/2", "0 ft 10-7/16 in", "265.5 mm", "26.55 cm", ".2655 m", "10.4527 in"],
)
def test_whatever_reads_within_the_tolerance_is_right(make_problem, typed):
    assert check(make_problem(10.4527), typed).kind is RIGHT


@pytest.mark.parametrize("typed", ["144", "144 in", "12 ft", "12'", "3.6576 m", "365.76 cm"])
def test_a_convertible_unit_is_right(make_problem, typed):
    verdict = check(make_problem(144), typed)

    assert verdict == Verdict(RIGHT, pytest.approx(144))


@pytest.mark.parametrize(("typed", "kind"), [("10-3/8", RIGHT), ("10-1/4", RIGHT), ("10-7/32", WRONG)])
def test_the_edge_of_the_tolerance_belongs_to_it(make_problem, typed, kind):
    assert check(make_problem(10.3125), typed).kind is kind


def test_the_key_that_is_nearest_gives_the_basis(make_problem):
    problem = make_problem(Key(4.97, "sharp-corner"), Key(4.5, "handbook"))

    assert check(problem, "5").basis == "sharp-corner"
    assert check(problem, "4-1/2").basis == "handbook"
    assert check(problem, "4-3/4").kind is not RIGHT


def test_between_two_keys_within_reach_of_both_the_nearer_counts(make_problem):
    problem = make_problem(Key(10.0, "sharp-corner"), Key(10.05, "handbook"))

    assert check(problem, "10").basis == "sharp-corner"
    assert check(problem, "10.05").basis == "handbook"


def test_a_known_mistake_is_named(make_problem):
    verdict = check(make_problem(12, mistakes={"sine": 3}), "3")

    assert verdict == Verdict(MISTAKE, 3, ("sine",))


def test_a_known_mistake_counts_in_any_unit_and_within_the_tolerance(make_problem):
    problem = make_problem(30, mistakes={"twice": 60})

    assert check(problem, "5 ft").mistakes == ("twice",)
    assert check(problem, "59-15/16").mistakes == ("twice",)
    assert check(problem, "59-7/8").kind is WRONG


def test_two_mistakes_that_share_a_value_are_both_named(make_problem):
    problem = make_problem(12, mistakes={"sine": 3, "third": 3.05, "other": 20})

    assert check(problem, "3").mistakes == ("sine", "third")


def test_a_mistake_with_two_values_is_named_once(make_problem):
    problem = make_problem(12, mistakes={"shrink": 2.0})
    twice = make_problem(12, mistakes={"shrink": 2.0}).mistakes + problem.mistakes
    assert check(replace(problem, mistakes=twice), "2").mistakes == ("shrink",)


def test_right_goes_before_a_known_mistake(make_problem):
    assert check(make_problem(12, mistakes={"near": 12.05}), "12").kind is RIGHT


@pytest.mark.parametrize(
    ("key", "typed", "meant"),
    [(144, "12", "12 ft"), (40.5, "1028.7", "1028.7 mm"), (40.5, "102.9", "102.9 cm"), (39.37, "1", "1 m")],
)
def test_a_bare_number_that_fits_another_unit_is_a_wrong_unit(make_problem, key, typed, meant):
    verdict = check(make_problem(key), typed)

    assert verdict.kind is UNIT
    assert meant in say(verdict.reason)


@pytest.mark.parametrize(
    ("key", "typed", "meant", "taken"),
    [
        (144, "12 in", "12 ft", "12 in"),
        (12.5, "12.5 ft", "12-1/2 in", "150 in"),
        (40.5, "1028.7 cm", "1028.7 mm", "405 in"),
    ],
)
def test_the_right_number_with_another_unit_is_a_wrong_unit(make_problem, key, typed, meant, taken):
    verdict = check(make_problem(key), typed)

    assert verdict.kind is UNIT
    assert meant in say(verdict.reason)
    assert taken in say(verdict.reason)


def test_another_number_with_a_unit_is_just_wrong(make_problem):
    assert check(make_problem(144), "13 in").kind is WRONG
    assert check(make_problem(144), "11 ft").kind is WRONG


def test_a_small_number_is_rounded_too_far_at_the_hundredth(make_problem):
    area = make_problem(0.3278, kind=AnswerKind.NUMBER, unit="sq in", tolerance=0.001)

    assert check(area, "0.328").kind is RIGHT
    assert check(area, "0.33").kind is ROUNDED
    assert "0.01" in say(check(area, "0.33").reason)
    assert check(area, "0.34").kind is WRONG


@pytest.mark.parametrize("typed", ["30°", "30 deg", "4 straps", "40 %", "2 sq in"])
def test_another_kind_of_quantity_is_a_wrong_unit_and_nothing_is_read(make_problem, typed):
    verdict = check(make_problem(30), typed)

    assert (verdict.kind, verdict.value) == (UNIT, None)
    assert "another kind" in say(verdict.reason)
    assert "Example:" in say(verdict.reason)


def test_a_known_mistake_goes_before_the_wrong_unit(make_problem):
    assert check(make_problem(144, mistakes={"twelfth": 12}), "12").kind is MISTAKE


@pytest.mark.parametrize(
    ("typed", "step"), [("10-1/2", "1/4 in"), ("10", "1 in"), ("10-3/8", "1/8 in"), ("10-3/8 in", "1/8 in")]
)
def test_the_key_rounded_to_a_coarser_step_is_rounded_too_far(make_problem, typed, step):
    verdict = check(make_problem(10.43, tolerance=1 / 32), typed)

    assert verdict.kind is ROUNDED
    assert f"nearest {step}" in say(verdict.reason)


@pytest.mark.parametrize("typed", ["10-1/4", "9", "11", "10.3", "10-9/16"])
def test_what_is_not_the_key_rounded_is_wrong(make_problem, typed):
    assert check(make_problem(10.43, tolerance=1 / 32), typed).kind is WRONG


@pytest.mark.parametrize(
    ("key", "typed", "step"),
    [(40.5, "103 cm", "0.5 cm"), (40.5, "1030 mm", "5 mm"), (142.6, "12 ft", "1 ft"), (39.8, "3.3 ft", "0.1 ft")],
)
def test_a_length_is_rounded_in_the_unit_in_which_it_was_typed(make_problem, key, typed, step):
    verdict = check(make_problem(key, tolerance=1 / 64), typed)

    assert verdict.kind is ROUNDED
    assert f"nearest {step}" in say(verdict.reason)


def test_a_known_mistake_goes_before_rounded_too_far(make_problem):
    problem = make_problem(10.3, mistakes={"half": 10.5})

    assert check(problem, "10-1/2").kind is MISTAKE
    assert check(make_problem(10.3), "10-1/2").kind is ROUNDED


def test_nothing_is_never_a_rounded_answer(make_problem):
    assert check(make_problem(0.3, kind=AnswerKind.NUMBER, unit=""), "0").kind is WRONG


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("", "Nothing"),
        ("abc", "digits"),
        ("4 1/0", "zero"),
        ("3' 14\"", "inch"),
        ("1e999", "expon"),
        ("NaN", "digits"),
        ("-3", "zero"),
    ],
)
def test_what_cannot_be_read_says_why_and_counts_nothing(make_problem, typed, words):
    verdict = check(make_problem(12), typed)
    told = say(verdict.reason)

    assert (verdict.kind, verdict.value, verdict.mistakes) == (UNREADABLE, None, ())
    assert "Example:" in told
    assert words.lower() in told.lower() or "Accepted" in told


@pytest.mark.parametrize(
    ("typed", "kind"),
    [("210", RIGHT), ("210°", RIGHT), ("210 deg", RIGHT), ("210.4", RIGHT), ("209", WRONG), ("210 in", UNIT)],
)
def test_a_number_with_a_unit_is_judged_in_that_unit(make_problem, typed, kind):
    assert check(make_problem(210, kind=AnswerKind.NUMBER, unit="deg", tolerance=0.5), typed).kind is kind


def test_a_number_is_rounded_too_far_by_whole_ones(make_problem):
    verdict = check(make_problem(22.4, kind=AnswerKind.NUMBER, unit="deg", tolerance=0.1), "22")

    assert verdict.kind is ROUNDED


@pytest.mark.parametrize(
    ("typed", "kind"),
    [
        ("4", RIGHT),
        ("4 straps", RIGHT),
        ("4.0", RIGHT),
        ("3", MISTAKE),
        ("5", WRONG),
        ("4 ft", UNIT),
        ("4.5", UNREADABLE),
    ],
)
def test_a_count_is_right_or_not(make_problem, typed, kind):
    problem = make_problem(4, kind=AnswerKind.COUNT, unit="straps", tolerance=0, mistakes={"gaps": 3})

    assert check(problem, typed).kind is kind


@pytest.fixture
def one_of_three(make_problem):
    return make_problem("b", kind=AnswerKind.CHOICE, unit="", mistakes={"wrong-c": "c"}, options=("x", "b", "c"))


@pytest.mark.parametrize(
    ("typed", "kind", "value"),
    [("b", RIGHT, "b"), (["b"], RIGHT, "b"), ("x", WRONG, "x"), ("c", MISTAKE, "c"), ("A", WRONG, "x")],
)
def test_one_choice_is_named_by_its_id_or_its_letter(one_of_three, typed, kind, value):
    verdict = check(one_of_three, typed)

    assert (verdict.kind, verdict.value) == (kind, value)


@pytest.mark.parametrize("typed", ["", "q", "b, c", ["b", "c"], [], "b" * 500])
def test_no_choice_more_than_one_or_an_unknown_one_cannot_be_read(one_of_three, typed):
    assert check(one_of_three, typed).kind is UNREADABLE


@pytest.fixture
def two_of_four(make_problem):
    return make_problem(
        ("a", "d"),
        kind=AnswerKind.CHOICES,
        unit="",
        mistakes={"took-b": "b", "left-out-d": "d"},
        options=("d", "c", "b", "a"),
    )


@pytest.mark.parametrize("typed", ["a, d", "d,a", ["d", "a"], ["a", "d", "a"], " a ,d "])
def test_several_choices_are_right_in_any_order(two_of_four, typed):
    assert check(two_of_four, typed) == Verdict(RIGHT, ("a", "d"))


@pytest.mark.parametrize(
    ("typed", "kind", "mistakes"),
    [
        (["a", "d", "b"], MISTAKE, ("took-b",)),
        (["a"], MISTAKE, ("left-out-d",)),
        (["a", "b"], MISTAKE, ("took-b", "left-out-d")),
        (["a", "c", "d"], WRONG, ()),
        (["d"], WRONG, ()),
    ],
)
def test_a_mistake_about_an_option_is_made_by_taking_it_or_by_leaving_it_out(two_of_four, typed, kind, mistakes):
    verdict = check(two_of_four, typed)

    assert (verdict.kind, verdict.mistakes) == (kind, mistakes)


def test_several_choices_say_how_many_are_too_many_and_how_many_are_missing(two_of_four):
    assert say(check(two_of_four, ["b", "c"]).reason) == "Chosen by mistake: 2. Still missing: 2."


@pytest.mark.parametrize("typed", ["", [], "e", "a, e"])
def test_several_choices_with_none_or_an_unknown_one_cannot_be_read(two_of_four, typed):
    assert check(two_of_four, typed).kind is UNREADABLE


def test_several_texts_for_a_typed_answer_are_read_as_one(make_problem):
    assert check(make_problem(40.5), ["3 ft", "4-1/2 in"]).kind is RIGHT


HOSTILE = st.one_of(
    st.text(max_size=80),
    st.text(alphabet="0123456789 ./-'\"°eE+,", max_size=60),
    st.sampled_from(
        ["1e9999999", "9" * 400, "0/0", "1//2", "½" * 30, "١٢", "１２", "\x00", "1_000", "inf", "- 1", "5'5'5'"]
    ),
    st.lists(st.text(max_size=12), max_size=60),
)


@pytest.fixture(scope="module")
def one_of_each(shelf):
    """A problem of each family, drawn once for all that is typed."""
    return [draw(family, 1) for family in shelf.values()]


@given(typed=HOSTILE)
def test_nothing_that_is_typed_raises(one_of_each, typed):
    for problem in one_of_each:
        verdict = check(problem, typed)

        assert isinstance(verdict, Verdict)
        if verdict.reason is not None:
            assert say(verdict.reason)
            assert message_from_json(message_to_json(verdict.reason)).id == verdict.reason.id
