from __future__ import annotations

from random import Random

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from trainer.calc.catalogue import CATALOGUE
from trainer.calc.layout_claims import CLAIMS
from trainer.calc.layout_compare import COMPARE
from trainer.calc.layout_draw import DRAWS, draw_shoe
from trainer.calc.layout_proof import NEAR_ENOUGH, misfit, provable, prove
from trainer.calc.marks import End
from trainer.calc.message import InputError
from trainer.calc.shoes import DEFAULT_SHOES, Shoe

#: Trade sizes with a hand shoe.
USUAL = tuple(DEFAULT_SHOES.values())


@st.composite
def shoes(draw):
    usual = draw(st.sampled_from(USUAL))
    radius = usual.radius * draw(st.floats(0.85, 1.15))
    take_up = radius + usual.outside_diameter / 2 + draw(st.floats(-0.5, 1.5))
    return Shoe(usual.trade_size, take_up, radius, usual.outside_diameter)


@pytest.mark.parametrize("name", provable())
def test_bent_by_its_own_marks_on_its_own_shoe_the_tube_is_what_was_asked_for(name):
    proof = prove(name, 2000, seed=7)

    assert proof.held == 2000
    assert proof.worst
    assert proof.holds, proof.worst


@pytest.mark.parametrize("name", provable())
def test_most_draws_are_bent_and_not_refused(name):
    """A proof that refuses what is hard would prove little."""
    proof = prove(name, 300, seed=3)

    assert proof.refused < 2 * proof.held


@given(shoes(), st.floats(0.5, 30), st.floats(3, 80), st.floats(20, 110), st.sampled_from(End))
def test_an_offset_looked_for_by_hypothesis_holds_too(shoe, depth, angle, distance, hook):
    values = {"depth": depth, "angle": angle, "distance": distance, "shoe": shoe, "hook": hook}
    try:
        compared = misfit("offset", values)
    except InputError as error:
        assert error.field == "distance"  # noqa: PT017 - no room before the end of the tube is the only way out
        return
    assume(compared)

    assert max(abs(one.miss) for one in compared) < NEAR_ENOUGH


def test_a_proof_would_notice_a_take_up_mark_half_an_inch_off():
    """Bent on another shoe than the one they were made for, marks miss; so the comparison is no identity."""
    other = Shoe("1/2", 5.5, 4.5, 0.706)
    values = {"depth": 6, "angle": 30, "distance": 40, "shoe": DEFAULT_SHOES["1/2"], "hook": End.FAR}
    marks = CATALOGUE["offset"].solve(values).marks_arc
    missed = {one.name: one.miss for one in COMPARE["offset"]({**values, "shoe": other}, marks)}

    assert missed["distance"] == pytest.approx(-0.5)
    assert missed["depth"] == pytest.approx(0)


def test_sharp_corners_and_handbook_miss_by_more_than_the_arc():
    values = {"depth": 6, "angle": 45, "distance": 40}
    depths = {basis: misfit("offset", values, basis)[0].miss for basis in ("sharp-corner", "handbook", "arc")}

    assert abs(depths["arc"]) < 1e-9 < depths["handbook"] < depths["sharp-corner"]


def test_where_a_basis_has_no_marks_there_is_nothing_to_compare():
    assert misfit("offset", {"depth": 6, "angle": 25, "distance": 40}, "handbook") == ()
    assert misfit("offset", {"depth": 6, "angle": 30}, "arc") == ()


def test_what_the_calculation_refuses_is_refused_here_too():
    with pytest.raises(InputError):
        misfit("offset", {"depth": 6, "angle": 30, "distance": 3})


def test_an_offset_is_refused_where_only_the_arc_s_own_mark_leaves_the_tube():
    """Sharp corners put the near mark 2.4 in from the end, with room for the hook; the arc's would lie before it."""
    values = {"depth": 12, "angle": 60, "distance": 9.3, "shoe": DEFAULT_SHOES["1-1/4"], "hook": End.MEASURED}
    with pytest.raises(InputError) as refusal:
        misfit("offset", values)

    assert refusal.value.field == "distance"
    assert misfit("offset", {**values, "distance": 16})


@pytest.mark.parametrize(("name", "basis"), [("offset", "guessed"), ("guessed", "arc")])
def test_names_that_there_are_not(name, basis):
    with pytest.raises(KeyError):
        misfit(name, {"depth": 6, "angle": 30, "distance": 40}, basis)


def test_the_same_seed_draws_the_same_proof():
    assert prove("offset", 40, seed=5) == prove("offset", 40, seed=5)
    assert prove("offset", 40, seed=5) != prove("offset", 40, seed=6)


def test_every_comparison_has_its_draw():
    assert COMPARE.keys() | CLAIMS.keys() == DRAWS.keys() == set(provable())
    assert "offset" in provable()


def test_drawn_shoes_lie_near_the_usual_ones():
    random = Random(1)
    for _ in range(200):
        shoe = draw_shoe(random)
        usual = DEFAULT_SHOES[shoe.trade_size]
        assert 0.85 <= shoe.radius / usual.radius <= 1.15
        assert -0.5 <= shoe.mark_to_arc <= 1.5
