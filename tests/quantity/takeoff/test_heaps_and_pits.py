import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import GeometryFaulty
from estimator.quantity.takeoff.heaps_and_pits import (
    cone_at_repose_cf,
    cone_cf,
    cone_diameter_ft,
    pit_cf,
    ridge_at_repose_cf,
    trench_cf,
)
from estimator.quantity.takeoff.volumes import prismoidal_cf
from tests.quantity.shapes import feet, no_dimensions

slopes = st.floats(0, 4)


def test_a_cone_is_a_third_of_its_cylinder():
    assert cone_cf(2.0, 3.0) == pytest.approx(3.141592653589793, rel=1e-15)


def test_a_heap_at_45_degrees_is_half_as_high_as_wide():
    assert cone_at_repose_cf(12.0, 45.0) == pytest.approx(226.1946710584651, rel=1e-14)


def test_a_trench_with_upright_sides_is_a_box():
    assert trench_cf(40.0, 2.0, 4.0) == 320.0


def test_a_ditch_in_v_has_no_bottom():
    assert trench_cf(10.0, 0.0, 2.0, side_slope=1.5) == 60.0


def test_a_pit_with_upright_sides_is_a_box():
    assert pit_cf(20.0, 15.0, 10.0) == 3000.0


def test_a_pit_at_one_to_one_is_smaller_than_the_mean_of_bottom_and_top():
    # bottom 20 x 15, top 40 x 35, 10 deep: the mean of the areas would give 8,500
    assert pit_cf(20.0, 15.0, 10.0, side_slope=1.0) == pytest.approx(7833.333333333333, rel=1e-14)


@pytest.mark.parametrize("angle", [90.0, 120.0])
def test_no_heap_stands_upright(angle):
    with pytest.raises(GeometryFaulty, match="repose_deg: is 90 degrees or more"):
        cone_at_repose_cf(10.0, angle)


@pytest.mark.parametrize("wrong", no_dimensions)
@pytest.mark.parametrize(
    "volume",
    [
        lambda x: cone_cf(x, 1),
        lambda x: cone_at_repose_cf(1, x),
        lambda x: trench_cf(1, 1, 1, x),
        lambda x: trench_cf(1, x, 1),
        lambda x: pit_cf(1, 1, 1, x),
        lambda x: pit_cf(x, 1, 1),
    ],
)
def test_what_is_no_dimension_makes_no_hole(volume, wrong):
    with pytest.raises(GeometryFaulty):
        volume(wrong)


@given(feet, st.floats(1, 89))
def test_a_heap_by_its_angle_is_the_heap_by_its_height(diameter, angle):
    height = diameter / 2 * math.tan(math.radians(angle))
    assert cone_at_repose_cf(diameter, angle) == pytest.approx(cone_cf(diameter, height), rel=1e-12)


@given(feet, feet, st.floats(0.1, 60), slopes)
def test_a_pit_is_the_prismoid_of_its_bottom_middle_and_top(length, width, depth, slope):
    areas = [(length + 2 * slope * z) * (width + 2 * slope * z) for z in (0, depth / 2, depth)]
    assert pit_cf(length, width, depth, slope) == pytest.approx(
        prismoidal_cf(*areas, depth), rel=1e-12
    )


@given(feet, feet, st.floats(0.1, 60), slopes)
def test_a_long_pit_holds_more_than_the_trench_of_its_bottom(length, width, depth, slope):
    assert pit_cf(length, width, depth, slope) >= trench_cf(length, width, depth, slope) * (
        1 - 1e-12
    )


def test_a_long_heap_is_a_prism_between_two_half_cones():
    # 20 ft wide and 10 ft high: 40 ft of prism at 100 sf, and a cone of 1,047.2 cf
    assert ridge_at_repose_cf(60.0, 20.0, 45.0) == pytest.approx(5047.197551196597, rel=1e-12)


def test_a_heap_as_long_as_wide_is_a_cone():
    assert ridge_at_repose_cf(53.0, 53.0, 37.0) == pytest.approx(14685.2265, abs=1e-3)


def test_a_heap_shorter_than_wide_was_measured_the_wrong_way_round():
    with pytest.raises(GeometryFaulty, match="length_ft: is less than the width"):
        ridge_at_repose_cf(20.0, 60.0, 37.0)


def test_heaps_are_taken_together():
    np.testing.assert_allclose(
        ridge_at_repose_cf([60.0, 20.0], 20.0, 45.0), [5047.19755, 1047.19755], rtol=1e-8
    )


@given(st.floats(1, 1e5), st.floats(5, 80))
def test_a_heap_stands_as_wide_as_its_volume_asks(volume, angle):
    assert cone_at_repose_cf(cone_diameter_ft(volume, angle), angle) == pytest.approx(
        volume, rel=1e-9
    )


@given(st.floats(1, 200), st.floats(1, 200), st.floats(1, 100), st.floats(5, 80))
def test_a_longer_ridge_gains_a_prism(first, second, width, angle):
    short, long = sorted((first + width, second + width))
    gained = ridge_at_repose_cf(long, width, angle) - ridge_at_repose_cf(short, width, angle)
    prism = (long - short) * width**2 / 4 * math.tan(math.radians(angle))
    assert gained == pytest.approx(prism, rel=1e-6, abs=1e-6 * width**3)


def test_a_ridge_and_a_pit_are_the_hulls_of_their_corners():
    from scipy.spatial import ConvexHull

    turns = np.radians(np.arange(0, 180, 0.25))
    half = np.column_stack([10 * np.sin(turns), 10 * np.cos(turns), np.zeros_like(turns)])
    right = half + np.array([20, 0, 0])
    ridge = ConvexHull(np.vstack([right, right * [-1, 1, 1], [[20, 0, 10], [-20, 0, 10]]])).volume
    assert ridge_at_repose_cf(60.0, 20.0, 45.0) == pytest.approx(ridge, rel=1e-4)
    pit = [[x, y, z] for z, a, b in [(0, 20, 15), (10, 40, 35)] for x in (-a / 2, a / 2)
           for y in (-b / 2, b / 2)]  # fmt: skip
    assert pit_cf(20.0, 15.0, 10.0, 1.0) == pytest.approx(ConvexHull(pit).volume, rel=1e-12)
