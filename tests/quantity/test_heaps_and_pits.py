import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import GeometryFaulty
from estimator.quantity.heaps_and_pits import cone_at_repose_cf, cone_cf, pit_cf, trench_cf
from estimator.quantity.volumes import prismoidal_cf
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
