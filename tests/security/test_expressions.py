"""
Formulas and question files of somebody who means no good: refused by counting, before anything is worked out.

What a formula may hold is tested in `tests/calc/test_expression.py`; here a share of the fuzzer, and limits of a file.
"""

from __future__ import annotations

import importlib.util
import re
from pathlib import Path

import pytest

from trainer.calc.expression import ExpressionError, compile_expression
from trainer.problems.draw import TRIES
from trainer.problems.errors import ContentError
from trainer.problems.family import LARGEST_FILE, load_family
from trainer.problems.shape import MOST_ENTRIES, MOST_VALUES

ROOT = Path(__file__).parents[2]
FAMILY = (ROOT / "questions" / "bends" / "offset-shrink.toml").read_text("utf-8")


@pytest.fixture(scope="module")
def fuzzer():
    spec = importlib.util.spec_from_file_location("fuzz", ROOT / "tests" / "benchmarks" / "fuzz_expressions.py")
    module = importlib.util.module_from_spec(spec)
    with pytest.MonkeyPatch.context() as patch:
        patch.setitem(__import__("sys").modules, "fuzz", module)
        spec.loader.exec_module(module)
        yield module


def test_a_share_of_the_fuzzer_finds_nothing(fuzzer):
    found = fuzzer.fuzz(3_000, seed=20)

    assert not found.wrong
    assert found.worked_out > 300


@pytest.mark.parametrize(
    "text",
    [
        "().__class__.__bases__[0].__subclasses__()",
        "depth.__init__.__globals__",
        "getattr(depth, 1)",
        "globals()",
        "9**9**9**9",
        "9**9999999",
        "2 ** (2 ** 3)",
        "1 << 999999999",
        "factorial(99999)",
        "sum(x for x in depth)",
        "[0]*999999999",
        "'a'*999999999",
        "(1,)*999999999",
        "range(999999999)",
        "min(depth, depth, default=1)",
        "f'{depth:>999999999}'",
        "'%0999999999d' % 3",
        "-" * 380 + "1",
        "sin(" * 79 + "1" + ")" * 79,
        "1 if 1 < 2 else " * 24 + "1",
        "while 1: 1",
        "depth\n\n\nimport os",
    ],
)
def test_it_is_refused_before_anything_is_worked_out(text):
    with pytest.raises(ExpressionError):
        compile_expression(text, ["depth"])


def test_a_whole_number_grows_no_further_than_its_parts_allow():
    most = compile_expression("*".join(["round_up(depth)"] * 11), ["depth"])

    with pytest.raises(ExpressionError):
        most({"depth": 1e300})


def refused(text):
    with pytest.raises(ContentError) as caught:
        load_family(text, "own.toml")
    return str(caught.value)


def test_a_file_that_nobody_writes_by_hand_is_not_even_taken_apart():
    assert f"at most {LARGEST_FILE:,} characters" in refused(FAMILY + "\n#" + "x" * LARGEST_FILE)


@pytest.mark.parametrize("deep", ["more = " + "[" * 20_000, "more = " + "{ a = " * 5_000])
def test_a_file_too_deep_for_its_reader_is_an_error_of_the_file(deep):
    assert "too deep" in refused(f"{deep}\n{FAMILY}")


def test_a_number_of_thousands_of_digits_is_an_error_of_the_file():
    assert "15 digits" in refused(f"more = {'9' * 5_000}\n{FAMILY}")


def test_a_draw_has_so_many_conditions_and_tries_at_the_most():
    conditions = ", ".join(['"depth > 0"'] * (MOST_ENTRIES + 1))
    with_conditions = re.sub(r"(?m)^keep = .*$", f"keep = [{conditions}]", FAMILY, count=1)

    assert "draw.keep" in refused(with_conditions)
    assert TRIES * MOST_ENTRIES <= 10_000


def test_an_entry_has_so_many_values_at_the_most():
    values = ", ".join(["1"] * (MOST_VALUES + 1))

    assert "draw.more" in refused(FAMILY.replace("[draw]", f"[draw]\nmore = {{ choose = [{values}] }}", 1))


def test_a_range_has_so_many_steps_at_the_most():
    assert "at most" in refused(FAMILY.replace("[draw]", '[draw]\nmore = { from = 0, to = 1e15, step = "1/16 in" }', 1))


def test_mistakes_are_so_many_at_the_most():
    one = '\n[[mistakes]]\nid = "more-{}"\nvalue = "depth"\nsay = "More."\n'

    assert "mistakes" in refused(FAMILY + "".join(one.format(nth) for nth in range(MOST_ENTRIES + 1)))
