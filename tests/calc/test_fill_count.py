"""Counts of equal conductors, and the jam ratio of three."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.calc.conductors import ConductorGroup, sizes_of
from trainer.calc.fill import raceway_fill
from trainer.calc.fill_count import max_conductors
from trainer.calc.fill_jam import JamRisk, jam_ratio
from trainer.calc.message import InputError
from trainer.calc.raceways import KINDS, TRADE_SIZES
from trainer.calc.trace import trace

TYPES = st.sampled_from(["THHN", "XHHW", "THW", "RHW"]).flatmap(
    lambda name: st.tuples(st.just(name), st.sampled_from(sizes_of(name)))
)


@given(st.sampled_from(KINDS), st.sampled_from(TRADE_SIZES), TYPES, st.booleans())
def test_the_count_fits_and_one_more_does_not(raceway, trade_size, conductor, nipple):
    insulation, size = conductor
    count = max_conductors(raceway, trade_size, insulation, size, nipple).count

    def fits(number):
        return raceway_fill(raceway, trade_size, (ConductorGroup(number, size, insulation),), nipple).fits

    assert count == 0 or fits(count)
    assert not fits(count + 1)


@given(TYPES)
def test_a_larger_raceway_never_holds_fewer(conductor):
    counts = [max_conductors("emt", size, *conductor).count for size in TRADE_SIZES]

    assert counts == sorted(counts)


@pytest.mark.parametrize(("size", "count", "shares"), [("12", 16, 1), ("3", 1, 3), ("8", 6, 1), ("350", 0, 3)])
def test_the_steps_go_from_the_share_of_three_down_to_that_of_one(size, count, shares):
    result, steps = trace(
        max_conductors, raceway="emt", trade_size="3/4", insulation="THHN", conductor_size=size, nipple=False
    )

    assert result.count == count
    assert len([step for step in steps if step.name == "room"]) == shares
    assert steps[-1].name == "count"
    assert steps[-1].value == count


def test_two_large_conductors_go_by_the_share_of_two():
    assert max_conductors("emt", "1-1/4", "THHN", "1/0").count == 3
    assert max_conductors("emt", "1-1/2", "THHN", "4/0").count == 2


def test_a_size_that_the_insulation_is_not_listed_with_is_refused_with_those_that_are():
    with pytest.raises(InputError) as refused:
        max_conductors("emt", "4", "RHW", "250")

    assert refused.value.field == "conductor_size"
    assert refused.value.accepted.params["sizes"] == sizes_of("RHW")


def test_the_jam_ratio_is_given_with_and_without_ovality():
    found = jam_ratio("emt", "1/2", "THHN", "8")

    assert found.ratio == pytest.approx(0.622 / 0.216)
    assert found.ratio_with_ovality == pytest.approx(1.05 * 0.622 / 0.216)
    assert found.risk == JamRisk.SERIOUS
    assert found.fits
    assert (found.bore, found.diameter) == (0.622, 0.216)


@pytest.mark.parametrize(
    ("trade_size", "size", "ratio", "risk"),
    [
        ("1/2", "6", 2.449, JamRisk.UNLIKELY),
        ("1/2", "4", 1.920, JamRisk.TRIANGLE),
        ("1-1/4", "1/0", 2.840, JamRisk.SERIOUS),
        ("1", "4", 3.238, JamRisk.CRADLE),
        ("3", "500", 3.536, JamRisk.CRADLE),
    ],
)
def test_the_risk_is_read_from_the_bands(trade_size, size, ratio, risk):
    found = jam_ratio("emt", trade_size, "THHN", size)

    assert found.ratio == pytest.approx(ratio, abs=0.001)
    assert found.risk == risk


@given(st.sampled_from(KINDS), st.sampled_from(TRADE_SIZES), TYPES)
def test_either_ratio_in_the_band_is_a_serious_risk(raceway, trade_size, conductor):
    found = jam_ratio(raceway, trade_size, *conductor)
    in_band = any(2.8 <= ratio <= 3.2 for ratio in (found.ratio, found.ratio_with_ovality))

    assert (found.risk == JamRisk.SERIOUS) == in_band
