import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import GeometryFaulty
from estimator.quantity.takeoff.slab_accessories import (
    control_joint_lf,
    joint_filler_gal,
    lapped_rolls,
    lapped_sf,
)
from tests.quantity.shapes import no_dimensions


def test_strips_are_whole_and_lapped():
    # strips of 12 ft lapped 6 in reach 12, 23.5 and 35 ft
    assert lapped_sf(50.0, 12.0, 12.0, 0.5) == 600.0
    assert lapped_sf(50.0, 23.5, 12.0, 0.5) == 1200.0
    assert lapped_sf(50.0, 23.6, 12.0, 0.5) == 1800.0


def test_a_roll_goes_on_where_the_last_one_ended():
    # two strips of 50 ft are one roll of 100 ft; a third takes another
    assert lapped_rolls(50.0, 23.5, 100.0, 12.0, 0.5) == 1.0
    assert lapped_rolls(50.0, 23.6, 100.0, 12.0, 0.5) == 2.0
    assert lapped_rolls(100.0, 20.0, 150.0, 5.0, 0.5) == 4.0


def test_a_roll_that_ends_with_its_strip_needs_no_lap():
    assert lapped_rolls(100.0, 23.5, 100.0, 12.0, 0.5) == 2.0
    assert lapped_rolls(50.0, 46.5, 100.0, 12.0, 0.5) == 2.0
    # three strips of 40 ft: 20 ft are left of the first roll, and 0.5 ft of them are under the lap
    assert lapped_rolls(40.0, 35.0, 100.0, 12.0, 0.5) == 2.0
    # two strips of 60 ft of rolls of 60.4 ft: a rest of 0.4 ft is shorter than the lap
    assert lapped_rolls(60.0, 23.5, 60.4, 12.0, 0.5) == 2.0


def test_more_strips_than_anybody_lays_are_refused():
    with pytest.raises(GeometryFaulty, match="width_ft: takes more than 10,000 strips"):
        lapped_rolls(50.0, 1e6, 100.0, 12.0, 0.5)


def test_a_lap_as_wide_as_the_roll_is_refused():
    with pytest.raises(GeometryFaulty, match="lap_ft: is as long as the piece"):
        lapped_rolls(50.0, 20.0, 100.0, 4.0, 4.0)


@pytest.mark.parametrize(
    ("length", "width", "spacing", "joints"),
    [(10, 10, 10, 0), (20, 10, 10, 10), (20, 20, 10, 40), (20.1, 20, 10, 60.1), (9, 9, 15, 0)],
)
def test_joints_stand_between_panels_and_not_at_the_edge(length, width, spacing, joints):
    assert control_joint_lf(length, width, spacing) == pytest.approx(joints, rel=1e-12)


def test_a_gallon_of_sealant_is_231_cubic_inches():
    assert joint_filler_gal(77.0, 0.5, 0.5) == 1.0
    assert joint_filler_gal(0.0, 0.5, 0.5) == 0.0


def test_slabs_are_taken_together():
    np.testing.assert_array_equal(control_joint_lf([10.0, 20.0], 10.0, 10.0), [0.0, 10.0])
    np.testing.assert_array_equal(lapped_rolls([50.0, 100.0], 23.5, 100.0, 12.0, 0.5), [1.0, 2.0])


@pytest.mark.parametrize("wrong", no_dimensions)
@pytest.mark.parametrize(
    "count",
    [
        lambda x: lapped_sf(x, 10, 5, 0),
        lambda x: lapped_rolls(10, x, 10, 5, 0),
        lambda x: control_joint_lf(10, 10, x),
        lambda x: joint_filler_gal(x, 1, 1),
    ],
)
def test_what_is_no_dimension_covers_no_slab(count, wrong):
    with pytest.raises(GeometryFaulty):
        count(wrong)


@given(st.floats(1, 300), st.floats(1, 300), st.floats(0, 2))
def test_no_floor_is_left_bare(length, width, lap):
    assert lapped_sf(length, width, 6.0, lap) >= length * width * (1 - 1e-9)
    rolls = lapped_rolls(length, width, 100.0, 6.0, lap)
    assert rolls * 100.0 * 6.0 >= length * width * (1 - 1e-9)


@given(st.floats(1, 300), st.floats(1, 300), st.floats(2, 30))
def test_more_joints_come_from_closer_ones(length, width, spacing):
    assert control_joint_lf(length, width, spacing) >= control_joint_lf(
        length, width, spacing * 1.5
    )
