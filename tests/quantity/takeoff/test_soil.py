from decimal import Decimal

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import GeometryFaulty
from estimator.quantity.takeoff.soil import (
    BLASTED_ROCK,
    CLAY,
    COMMON_EARTH,
    SAND_OR_GRAVEL,
    SoilFactors,
    State,
    loads_by_volume,
    loads_by_weight,
    soil_from_weights,
    soil_volume_cy,
)

soils = st.sampled_from([SAND_OR_GRAVEL, COMMON_EARTH, CLAY, BLASTED_ROCK])
states = st.sampled_from([State.BANK, State.LOOSE, State.COMPACTED])
yards = st.floats(0, 1e6)


def test_a_hundred_bank_yards_of_earth_load_as_a_hundred_and_twenty_five():
    assert soil_volume_cy(100.0, COMMON_EARTH, State.BANK, State.LOOSE) == 125.0


def test_rock_fills_more_than_it_left_even_when_it_is_compacted():
    assert soil_volume_cy(100.0, BLASTED_ROCK, State.BANK, State.COMPACTED) == 130.0


def test_earth_in_its_own_state_stays_as_it_is():
    assert soil_volume_cy(7.0, CLAY, State.LOOSE, State.LOOSE) == 7.0


def test_no_earth_is_no_earth_and_no_load():
    assert soil_volume_cy(0.0, CLAY, State.LOOSE, State.BANK) == 0.0
    assert loads_by_volume(0.0, 12.0) == 0.0
    assert loads_by_weight(0.0, 2600.0, 12.0) == 0.0


def test_a_started_load_is_a_load():
    assert loads_by_volume(24.1, 12.0) == 3.0


def test_wet_stone_fills_the_payload_before_the_body():
    assert loads_by_volume(60.0, 12.0) == 5.0
    assert loads_by_weight(60.0, 3120.0, 13.0) == 8.0


def test_weights_of_the_three_states_give_the_factors():
    soil = soil_from_weights("test pit", 3000.0, 2400.0, 3750.0)
    assert (soil.loose, soil.compacted) == (1.25, 0.8)


def test_piles_are_taken_together():
    volumes = soil_volume_cy([100.0, 0.0], CLAY, State.BANK, State.LOOSE)
    np.testing.assert_allclose(volumes, [143.0, 0.0], rtol=1e-15)
    np.testing.assert_array_equal(loads_by_volume([24.0, 25.0], 12.0), [2.0, 3.0])


@pytest.mark.parametrize("wrong", [0.0, -0.9, float("nan")])
def test_a_soil_without_factors_is_refused(wrong):
    with pytest.raises(GeometryFaulty, match="compacted: is"):
        SoilFactors("mud", 1.2, wrong)


@pytest.mark.parametrize(
    "count",
    [
        lambda: loads_by_volume(10.0, 0.0),
        lambda: loads_by_volume(-1.0, 10.0),
        lambda: loads_by_weight(10.0, 2600.0, 0.0),
        lambda: soil_volume_cy(-1.0, CLAY, State.BANK, State.LOOSE),
        lambda: soil_from_weights("none", 0.0, 1.0, 1.0),
    ],
)
def test_trucks_and_earth_of_no_size_are_refused(count):
    with pytest.raises(GeometryFaulty):
        count()


@given(yards, soils, states, states)
def test_there_and_back_is_the_same_earth(volume, soil, had, wanted):
    back = soil_volume_cy(soil_volume_cy(volume, soil, had, wanted), soil, wanted, had)
    assert back == pytest.approx(volume, rel=1e-12)


@given(yards, soils, states, states, states)
def test_the_way_over_a_third_state_changes_nothing(volume, soil, first, second, third):
    over = soil_volume_cy(soil_volume_cy(volume, soil, first, second), soil, second, third)
    assert over == pytest.approx(soil_volume_cy(volume, soil, first, third), rel=1e-12)


@given(st.floats(0, 1e5), st.floats(1, 40))
def test_the_loads_carry_all_and_the_last_one_is_needed(loose, body):
    loads = loads_by_volume(loose, body)
    assert loads * body >= loose - 1e-6
    assert (loads - 1) * body < loose + 1e-6 or loads == 0


def test_the_factors_of_a_soil_are_taken_as_text_or_exact():
    """2,700 lb in the bank over 2,160 loose are 1.25, over 3,000 rolled 0.9."""
    measured = soil_from_weights("fill", "2,700 lb/cy", "1.08 ton/cy", 3000)
    assert (
        measured == SoilFactors("fill", "125 %", Decimal("0.9")) == SoilFactors("fill", 1.25, 0.9)
    )
    for refused in (lambda: SoilFactors("fill", True, 0.9), lambda: SoilFactors("fill", "3 ft", 1)):
        with pytest.raises(GeometryFaulty, match=r"^loose: "):
            refused()
