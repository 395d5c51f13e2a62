from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.calc.bend_total import bend_total
from trainer.calc.catalogue import CATALOGUE
from trainer.text.words import say


@pytest.mark.parametrize(
    ("angles", "total", "within"),
    [
        ((90,), 90, True),
        ((90, 90, 90, 90), 360, True),
        ((90, 90, 90, 45, 45), 360, True),
        ((90, 90, 90, 90, 10), 370, False),
        ((22.5,) * 16, 360, True),
        ((22.5,) * 17, 382.5, False),
        ((0.1,) * 3600, 360, True),
    ],
)
def test_every_bend_counts_up_to_the_limit(angles, total, within):
    result = bend_total(angles)

    assert result.total == pytest.approx(total)
    assert result.within_limit is within
    assert result.left == pytest.approx(360 - total, abs=1e-9)


def test_a_place_may_allow_less():
    assert bend_total((90, 90, 90), limit=270).within_limit
    assert not bend_total((90, 90, 90, 10), limit=270).within_limit


@pytest.mark.parametrize(("edition", "section"), [("2017", "358.26"), ("2020", "358.26"), ("2023", "358.24(B)")])
def test_the_section_is_that_of_the_edition(edition, section):
    _, steps = CATALOGUE["bend_total"].trace({"angles": "90, 90", "edition": edition})

    limit, _ = [step.note for step in steps if step.note]
    assert (limit.params["edition"], limit.params["section"]) == (edition, section)


def test_a_local_limit_is_said_beside_the_general_one():
    _, steps = CATALOGUE["bend_total"].trace({"angles": "90, 90", "limit": "270"})

    limit, _ = [step.note for step in steps if step.note]
    assert limit.id == "bend_total.own-limit"
    assert (limit.params["limit"].value, limit.params["allowed"].value) == (270, 360)


@given(st.lists(st.sampled_from([5, 10, 22.5, 30, 45, 90]), min_size=1, max_size=12))
def test_the_order_of_the_bends_does_not_matter(angles):
    assert bend_total(tuple(angles)).total == bend_total(tuple(sorted(angles))).total


@pytest.mark.parametrize(
    ("values", "field"),
    [
        ({"angles": (90, 0)}, "angles"),
        ({"angles": (181,)}, "angles"),
        ({"angles": (90,), "limit": 0}, "limit"),
        ({"angles": (90,), "edition": "1993"}, "edition"),
    ],
)
def test_what_is_impossible_is_refused(values, field, refused):
    assert refused(bend_total, **values).field == field


@pytest.mark.parametrize(
    ("angles", "said"),
    [
        ("90, 90", "The bends stay within it, with 180° to spare."),
        ("4x90, 10", "The bends go 10° over it: put a pull point between them."),
    ],
)
def test_whether_it_is_allowed_is_said_with_what_is_left(angles, said):
    _, steps = CATALOGUE["bend_total"].trace({"angles": angles})

    assert say(steps[-1].note) == said
