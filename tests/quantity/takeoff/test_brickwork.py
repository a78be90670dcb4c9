import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import GeometryFaulty
from estimator.quantity.takeoff.brickwork import (
    brick_per_cf,
    brick_per_sf,
    header_course_factor,
    wall_brick,
)
from tests.quantity.shapes import fractions, inches, no_dimensions


def test_a_joint_makes_a_brick_cover_more():
    assert brick_per_sf(7.5, 2.5, 0.5) == 6.0
    assert brick_per_sf(8.0, 3.0, 0.0) == 6.0
    np.testing.assert_allclose(brick_per_sf([16.0, 8.0], [8.0, 8 / 3], 0.0), [1.125, 6.75])


def test_a_wall_of_headers_takes_twice_the_facing_brick():
    assert header_course_factor(1) == 2.0
    assert header_course_factor(2) == 1.5
    assert header_course_factor(3) == 4 / 3


def test_a_header_course_more_often_than_always_is_refused():
    with pytest.raises(GeometryFaulty, match="every: is below 1"):
        header_course_factor(0.5)


def test_a_thick_wall_takes_its_wythes():
    assert wall_brick(50.0, 7.0, wythes=2) == 700.0
    assert wall_brick(50.0, 7.0, wythes=2, breakage_fraction=0.05) == 735.0
    assert wall_brick(0.0, 7.0) == 0.0


def test_a_wall_is_one_brick_wide_unless_told_otherwise():
    assert wall_brick(50.0, 7.0) == 350.0


def test_brick_and_joint_fill_the_cubic_foot():
    assert brick_per_cf(7.5, 3.5, 2.5, 0.5) == 18.0
    assert brick_per_cf(12.0, 12.0, 12.0, 0.0) == 1.0


def test_walls_are_taken_together():
    np.testing.assert_array_equal(wall_brick([10.0, 0.0], 7.0, 2), [140.0, 0.0])
    np.testing.assert_array_equal(header_course_factor([2.0, 5.0]), [1.5, 1.2])


@pytest.mark.parametrize("wrong", no_dimensions)
@pytest.mark.parametrize(
    "count",
    [
        lambda x: brick_per_sf(x, 2.25, 0.5),
        lambda x: brick_per_sf(8, 2.25, x),
        lambda x: wall_brick(x, 7),
        lambda x: wall_brick(1, 7, 1, x),
        lambda x: brick_per_cf(8, x, 2.25, 0.5),
    ],
)
def test_what_is_no_dimension_is_no_brick(count, wrong):
    with pytest.raises(GeometryFaulty):
        count(wrong)


@given(inches, inches, inches, st.floats(0, 1))
def test_a_wall_one_brick_wide_has_the_brick_of_its_volume(length, width, height, joint):
    by_face = brick_per_sf(length, height, joint) * 12 / (width + joint)
    assert brick_per_cf(length, width, height, joint) == pytest.approx(by_face, rel=1e-12)


@given(st.floats(0, 1e5), st.floats(1, 10), st.floats(0.01, 0.99), fractions)
def test_a_wall_cut_in_two_takes_the_same_brick(face, per_sf, at, breakage):
    parts = sum(wall_brick(face * part, per_sf, 2, breakage) for part in (at, 1 - at))
    assert wall_brick(face, per_sf, 2, breakage) == pytest.approx(parts, rel=1e-9)
