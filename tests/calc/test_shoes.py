from __future__ import annotations

import pytest
from msgspec.structs import replace

from trainer.calc.handbook import OUTSIDE_GAINS, offset_constants, saddle_constants
from trainer.calc.shoes import DEFAULT_SHOE, DEFAULT_SHOES, Shoe
from trainer.calc.shoes_named import read_shoe
from trainer.text.words import error_text


@pytest.mark.parametrize("size", list(DEFAULT_SHOES))
def test_a_usual_shoe_gains_what_the_handbook_rounds_to_an_eighth(size):
    assert DEFAULT_SHOES[size].outside_gain == pytest.approx(OUTSIDE_GAINS[size], abs=1 / 64)


def test_the_back_mark_stands_take_up_less_gain_from_the_take_up_mark():
    own = replace(DEFAULT_SHOE, own_back_mark=2.5)

    assert DEFAULT_SHOE.back_mark == DEFAULT_SHOE.take_up - DEFAULT_SHOE.outside_gain
    assert DEFAULT_SHOE.back_mark_off == 0
    assert own.back_mark == 2.5
    assert own.back_mark_off == pytest.approx(2.5 - DEFAULT_SHOE.back_mark)


@pytest.mark.parametrize("text", ["3/4", '3/4"', "3/4 in", "0.75", " 3/4 "])
def test_a_trade_size_names_the_usual_shoe(text):
    assert read_shoe(text) == DEFAULT_SHOES["3/4"]


@pytest.mark.parametrize(
    ("text", "figures"),
    [
        ("3/4 take-up 6-1/8 in radius 5.4 in", (6.125, 5.4, None)),
        ("3/4 take up 6-1/8 radius 5.4", (6.125, 5.4, None)),
        ("3/4, Takeup = 6 1/8 in; Centreline Radius: 5.4 in", (6.125, 5.4, None)),
        ("3/4 radius 5 in", (6.0, 5.0, None)),
        ("3/4 back mark 2-3/4 in", (6.0, 5.4, 2.75)),
        ("3/4 back 70 mm, take-up 152.4 mm", (6.0, 5.4, 70 / 25.4)),
    ],
)
def test_a_shop_s_own_figures_go_before_the_usual_ones(text, figures):
    shoe = read_shoe(text)

    assert (shoe.trade_size, shoe.outside_diameter) == ("3/4", DEFAULT_SHOES["3/4"].outside_diameter)
    assert (shoe.take_up, shoe.radius, shoe.own_back_mark) == pytest.approx(figures)


@pytest.mark.parametrize("word", ["gain", "outside gain"])
def test_a_gain_stands_for_the_radius(word):
    shoe = read_shoe(f"1/2 {word} 2-5/8 in")

    assert shoe.outside_gain == pytest.approx(2.625)
    assert shoe.radius == pytest.approx(4.471, abs=1e-3)


@pytest.mark.parametrize(
    "shoe",
    [
        *DEFAULT_SHOES.values(),
        Shoe("1/2", 5.0625, 4.2, 0.706),
        Shoe("1", 8, 6.6, 1.163, 4.125),
    ],
)
def test_a_shoe_as_written_reads_back(shoe):
    assert read_shoe(str(shoe)) == shoe


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("", "shoe.size"),
        ("big", "shoe.size"),
        ("2", "input.no-choice"),
        ("take-up 6 in", "shoe.size"),
        ("1/2 take-up", "shoe.figure"),
        ("1/2 take-up five", "shoe.figure"),
        ("1/2 take-up 5 in take up 6 in", "shoe.twice"),
        ("1/2 radius 4 in gain 2 in", "shoe.gain-or-radius"),
        ("1/2 radius 61 in", "shoe.out-of-range"),
        ("1/2 radius 0 in", "shoe.out-of-range"),
        ("1/2 radius 1/2 in", "shoe.too-small"),
        ("1/2 gain 1/2 in", "shoe.too-small"),
        ("1/2 take-up 1/2 in", "shoe.too-small"),
        ("1/2 " * 100, "number.too-long"),
    ],
)
def test_what_is_no_shoe_is_refused_with_its_reason(text, reason, refused):
    error = refused(read_shoe, text)

    assert error.reason.id == reason
    assert "\n" not in error_text(error)
    read_shoe(error.example)


def test_handbook_constants_stand_for_common_angles_only():
    assert offset_constants(33) is None
    assert offset_constants(20).shrink_per_inch is None
    assert saddle_constants(90) is None
    assert saddle_constants(60).multiplier == 2
