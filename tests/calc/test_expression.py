from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.calc.expression import ExpressionError, compile_expression
from trainer.calc.message import InputError

NAMES = ("depth", "angle", "count")
VALUES = {"depth": 6.0, "angle": 30, "count": 3}


def value_of(text):
    return compile_expression(text, NAMES)(VALUES)


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("depth", 6),
        ("depth / sin(angle)", 12),
        ("depth * tan(angle / 2)", 6 * math.tan(math.radians(15))),
        ("-depth ** 2", -36),
        ("2 ** 3", 8),
        ("depth - -2", 8),
        ("+depth", 6),
        ("7 // 2", 3),
        ("7 % 4", 3),
        ("0.5 + .5 + 1.", 2),
        ("round_up(depth / 4) + round_down(depth / 4)", 3),
        ("max(depth, angle, 1) - min(depth, angle)", 24),
        ("abs(1 - depth) + sqrt(16)", 9),
        ("depth if depth > 4 else 0", 6),
        ("1 if count == 2 else 2 if count == 3 else 3", 2),
        ("  depth  ", 6),
        ("(depth\n + 1)", 7),
        ("atan(1) + asin(1) + acos(1)", 135),
        ("csc(angle) * sec(60) * cot(45) * cos(0)", 4),
    ],
)
def test_a_formula_has_its_value(text, value):
    assert value_of(text) == pytest.approx(value)


@pytest.mark.parametrize(
    ("text", "value"),
    [("depth >= 6", True), ("depth < 6", False), ("depth != angle", True), ("depth <= angle / 5", True)],
)
def test_a_comparison_is_true_or_false(text, value):
    assert value_of(text) is value


def test_every_number_is_a_float_even_where_all_were_whole():
    assert isinstance(value_of("2"), float)
    assert isinstance(value_of("round_up(2.5)"), float)


def test_it_knows_the_names_that_it_uses():
    expression = compile_expression("depth / sin(angle)", NAMES)

    assert expression.names == {"depth", "angle"}
    assert "depth / sin(angle)" in repr(expression)


HOSTILE = [
    ("", "empty"),
    ("   ", "empty"),
    ("depth.real", "number"),
    ("depth . real", "number"),
    ("(1).__class__", "number"),
    ("depth.__class__.__mro__", "number"),
    ("angle .__class__", "number"),
    ("__import__", "unknown-name"),
    ("__import__(depth)", "unknown-function"),
    ("open(depth)", "unknown-function"),
    ("eval(depth)", "unknown-function"),
    ("depth(3)", "unknown-function"),
    ("sin(3)(4)", "unknown-function"),
    ("(sin if depth > 1 else cos)(3)", "unknown-function"),
    ("sin", "function-not-called"),
    ("sin + 1", "function-not-called"),
    ("max(sin, 1)", "function-not-called"),
    ("height", "unknown-name"),
    ("Depth", "unknown-name"),
    ("pi", "unknown-name"),
    ("True", "not-arithmetic"),
    ("None", "not-arithmetic"),
    ("not depth", "not-arithmetic"),
    ("depth and angle", "not-arithmetic"),
    ("depth, angle", "not-arithmetic"),
    ("min(*depth)", "not-arithmetic"),
    ("(depth for depth in count)", "not-arithmetic"),
    ("await depth", "not-arithmetic"),
    ("(yield depth)", "not-arithmetic"),
    ("depth is angle", "not-arithmetic"),
    ("depth in angle", "not-arithmetic"),
    ("depth << 9", "not-arithmetic"),
    ("min(depth, key=angle)", "arguments"),
    ("min(**depth)", "arguments"),
    ("sin()", "arguments"),
    ("[depth]", "characters"),
    ("{depth}", "characters"),
    ("depth[0]", "characters"),
    ("lambda: depth", "characters"),
    ("(a := 3)", "characters"),
    ("'a' * 3", "characters"),
    ('"%s" % depth', "characters"),
    ("f'{depth}'", "characters"),
    ("depth; angle", "characters"),
    ("~depth", "characters"),
    ("depth @ angle", "characters"),
    ("depth # angle", "characters"),
    ("ｄepth", "characters"),
    ("depth\\\n+ 1", "characters"),
    ("1e5", "number"),
    ("1e99999999", "number"),
    ("1E5", "number"),
    ("0x10", "number"),
    ("0b11", "number"),
    ("1_000", "number"),
    ("3j", "number"),
    ("1.2.3", "number"),
    ("1if depth > 1 else 2", "number"),
    ("9" * 16, "number"),
    ("0." + "9" * 16, "number"),
    ("012", "not-understood"),
    ("depth +", "not-understood"),
    ("depth = 3", "not-understood"),
    ("import os", "not-understood"),
    ("(" * 150 + "depth", "not-understood"),
    ("2 ** 4", "power"),
    ("2 ** depth", "power"),
    ("2 ** -2", "power"),
    ("2 ** 3 ** 2", "power"),
    ("9 ** 999999999999999", "power"),
    ("1 < depth < 9", "chained-comparison"),
    ("(depth > 1) + 1", "comparison-place"),
    ("sin(depth > 1)", "comparison-place"),
    ("1 if depth else 2", "condition"),
    ("depth+" * 66 + "depth", "too-long"),
    ("1+" * 60 + "1", "too-many-parts"),
    ("-" * 399 + "1", "too-many-parts"),
]


@pytest.mark.parametrize(("text", "reason"), HOSTILE)
def test_what_is_no_formula_is_refused(text, reason):
    with pytest.raises(ExpressionError) as caught:
        compile_expression(text, NAMES)

    assert caught.value.reason.id == f"expression.{reason}"


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("1 / (depth - 6)", "division-by-zero"),
        ("7 % (depth - 6)", "division-by-zero"),
        ("csc(depth - 6)", "division-by-zero"),
        ("sqrt(-depth)", "no-value"),
        ("asin(depth)", "no-value"),
        ("sin(depth, depth)", "no-value"),
        ("max(depth)", "no-value"),
        ("999999999999999 ** 3 ** 3", "power"),
        ("((999999999999999 ** 3) ** 3) ** 3", "no-value"),
        ("(((999999999999999 ** 3) ** 3) * ((999999999999999 ** 3) ** 3)) * ((999999999999999 ** 3) ** 3)", "no-value"),
    ],
)
def test_what_has_no_value_with_these_numbers_says_why(text, reason):
    with pytest.raises(ExpressionError) as caught:
        value_of(text)

    assert caught.value.reason.id == f"expression.{reason}"


@pytest.mark.parametrize("value", [None, "six", (1, 2)])
def test_a_name_without_a_number_says_so(value):
    with pytest.raises(ExpressionError) as caught:
        compile_expression("depth + 1", NAMES)({"depth": value})

    assert caught.value.reason.params == {"name": "depth"}


@pytest.mark.parametrize("name", ["sin", "if", "Depth", "__builtins__", "1st", "", "depth.x"])
def test_a_file_cannot_name_a_value_so(name):
    with pytest.raises(ExpressionError) as caught:
        compile_expression("1", [name])

    assert caught.value.reason.id == "expression.bad-name"


def test_an_error_is_an_input_error_with_what_was_given():
    with pytest.raises(InputError) as caught:
        compile_expression("2 ** 4", NAMES)

    assert caught.value.given == "2 ** 4"
    assert compile_expression(caught.value.example, NAMES)


@given(st.text(max_size=60))
def test_no_text_raises_anything_but_an_expression_error(outcome, text):
    assert isinstance(outcome(value_of, text), bool | float | ExpressionError)


PARTS = [
    "depth",
    "angle",
    "2",
    "3.5",
    "+",
    "-",
    "*",
    "/",
    "//",
    "%",
    "**",
    "(",
    ")",
    "sin(",
    "min(",
    ",",
    "if",
    "else",
    "<",
]


@given(st.lists(st.sampled_from(PARTS), max_size=20))
def test_no_formula_of_likely_parts_raises_anything_but_an_expression_error(outcome, parts):
    assert isinstance(outcome(value_of, " ".join(parts)), bool | float | ExpressionError)
