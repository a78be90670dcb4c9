import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import GeometryFaulty
from estimator.quantity.takeoff.roofing import (
    hip_factor,
    roof_sf,
    shingles_per_square,
    slate_exposure_in,
    slates_per_square,
    slope_factor,
)
from tests.quantity.shapes import no_dimensions

slopes = st.floats(0, 4)


def test_a_flat_roof_is_its_plan():
    assert slope_factor(0.0) == 1.0
    assert roof_sf(1500.0, 0.0) == 1500.0


def test_three_up_and_four_across_are_five_along():
    assert slope_factor(0.75) == 1.25
    assert roof_sf(1200.0, 0.75) == 1500.0


def test_a_hip_of_a_flat_roof_is_the_diagonal():
    assert hip_factor(0.0) == pytest.approx(1.4142135623730951, rel=1e-15)


def test_shingles_count_by_what_shows():
    assert shingles_per_square(7.5, 4.0) == 480.0


def test_two_layers_of_slate_lie_everywhere():
    assert slate_exposure_in(24.0) == 10.5
    assert slate_exposure_in(24.0, head_lap_in=4.0) == 10.0
    assert slates_per_square(23.0, 12.0) == 120.0


def test_a_lap_as_long_as_the_slate_is_refused():
    with pytest.raises(GeometryFaulty, match="head_lap_in: is as long as the slate"):
        slates_per_square(3.0, 6.0)


def test_roofs_are_taken_together():
    np.testing.assert_array_equal(roof_sf([1200.0, 100.0], [0.75, 0.0]), [1500.0, 100.0])
    np.testing.assert_array_equal(slate_exposure_in([23.0, 13.0]), [10.0, 5.0])


@pytest.mark.parametrize("wrong", no_dimensions)
@pytest.mark.parametrize(
    "count",
    [
        lambda x: slope_factor(x),
        lambda x: hip_factor(x),
        lambda x: roof_sf(x, 1),
        lambda x: shingles_per_square(x),
        lambda x: slate_exposure_in(x),
        lambda x: slates_per_square(20, x),
    ],
)
def test_what_is_no_dimension_covers_no_roof(count, wrong):
    with pytest.raises(GeometryFaulty):
        count(wrong)


@given(st.floats(1, 1e5), st.floats(0.01, 0.99), slopes)
def test_a_roof_cut_in_two_is_the_sum_of_its_parts(plan, at, slope):
    parts = roof_sf(plan * at, slope) + roof_sf(plan * (1 - at), slope)
    assert roof_sf(plan, slope) == pytest.approx(parts, rel=1e-9)
    assert roof_sf(plan, slope) >= plan


@given(slopes)
def test_a_hip_is_longer_than_its_common_rafter(slope):
    assert hip_factor(slope) > slope_factor(slope)


@given(st.floats(10, 24), st.floats(6, 16), st.floats(1.5, 5))
def test_the_slates_of_a_square_cover_it_twice(length, width, lap):
    slates = slates_per_square(length, width, lap)
    assert slates * length * width / 144 >= 200.0
