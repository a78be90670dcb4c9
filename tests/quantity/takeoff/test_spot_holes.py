import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import GeometryFaulty
from estimator.quantity.takeoff.spot_depths import mean_spot_depth

# a floor of 20 by 10 ft that falls evenly from 1 ft to 3 ft deep along its length
X, Y, DEPTH = [0, 20, 20, 0, 7], [0, 0, 10, 10, 4], [1.0, 3.0, 3.0, 1.0, 1.7]
SQUARE = [(2, 2), (6, 2), (6, 6), (2, 6)]


def floor(*holes):
    return mean_spot_depth(X, Y, DEPTH, holes)


def test_a_floor_without_piers_has_no_holes():
    assert floor().hull_sf == pytest.approx(200.0, rel=1e-12)
    assert floor().volume_cf == pytest.approx(400.0, rel=1e-12)
    assert floor().holes_sf == 0.0


def test_a_pier_takes_the_depth_that_stands_around_it():
    # 16 sf around x = 4, where the floor is 1.4 ft deep
    less = floor(SQUARE)
    assert less.area_sf == pytest.approx(184.0, rel=1e-12)
    assert less.volume_cf == pytest.approx(400.0 - 16 * 1.4, rel=1e-12)
    assert less.hull_sf == pytest.approx(200.0, rel=1e-12)


def test_a_pier_in_the_deep_end_takes_more_than_in_the_shallow_one():
    shallow = floor([(0, 4), (2, 4), (2, 6), (0, 6)])
    deep = floor([(18, 4), (20, 4), (20, 6), (18, 6)])
    assert shallow.volume_cf == pytest.approx(400.0 - 4 * 1.1, rel=1e-12)
    assert deep.volume_cf == pytest.approx(400.0 - 4 * 2.9, rel=1e-12)


def test_a_hollow_outline_takes_only_what_it_encloses():
    # an L of 4 x 4 less its corner of 2 x 2: 12 sf, its middle at x = 3 2/3
    corner = [(2, 2), (6, 2), (6, 4), (4, 4), (4, 6), (2, 6)]
    assert floor(corner).holes_sf == pytest.approx(12.0, rel=1e-12)
    assert floor(corner).volume_cf == pytest.approx(400.0 - 12 * (1 + 0.1 * 11 / 3), rel=1e-12)


def test_a_wall_that_is_cut_out_in_two_is_the_wall_in_one():
    wall = floor([(9, 0), (11, 0), (11, 10), (9, 10)])
    halves = floor([(9, 0), (11, 0), (11, 5), (9, 5)], [(11, 5), (9, 5), (9, 10), (11, 10)])
    assert halves.volume_cf == pytest.approx(wall.volume_cf, rel=1e-12)
    assert wall.volume_cf == pytest.approx(360.0, rel=1e-12)


def test_the_corners_may_be_listed_either_way_round():
    assert floor(SQUARE[::-1]).volume_cf == pytest.approx(floor(SQUARE).volume_cf, rel=1e-12)


@pytest.mark.parametrize(
    ("hole", "told"),
    [
        ([(2, 2), (6, 2)], "hole 1: has fewer than three corners"),
        ([(2, 2), (4, 2), (6, 2)], "hole 1: has no area; leave it out"),
        ([(2, 2), (2.001, 2), (2, 2.001)], "hole 1: has no area; leave it out"),
        ([(2, 2), (6, 6), (6, 2), (2, 6)], "hole 1: crosses or touches itself"),
        ([(2, 2), (2, 2), (6, 2), (6, 6)], "hole 1: crosses or touches itself"),
        ([(2, 2), (21, 2), (6, 6)], "hole 1: reaches beyond the outermost spots"),
        ([1, 2, 3], "hole 1: is not a list of corners"),
        ("pier", "hole 1: is not a list of corners"),
        ([(2, 2), (math.nan, 2), (6, 6)], "hole 1: is not a list of corners"),
        ([(0, 0), (20, 0), (20, 10), (0, 10)], "holes: leave nothing of the floor"),
    ],
)
def test_a_hole_that_is_no_shape_in_the_floor_is_refused(hole, told):
    with pytest.raises(GeometryFaulty, match=told):
        floor(hole)


def test_two_holes_that_overlap_would_be_deducted_twice():
    with pytest.raises(GeometryFaulty, match=r"hole 3: overlaps another hole.*see hole 1"):
        floor(SQUARE, [(10, 2), (12, 2), (12, 4)], [(5, 5), (8, 5), (8, 8)])


def test_holes_may_share_a_side():
    beside = floor(SQUARE, [(6, 2), (8, 2), (8, 6), (6, 6)])
    assert beside.holes_sf == pytest.approx(24.0, rel=1e-12)


@given(
    st.floats(0.5, 9), st.floats(0.5, 4), st.floats(0.5, 9), st.floats(0.5, 5), st.floats(0, 360)
)
def test_a_turned_pier_in_an_even_slope_takes_its_area_by_the_depth_at_its_middle(
    x, y, length, width, turn
):
    middle = np.array([5.0 + x, 5.0])
    angle = math.radians(turn)
    half = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]) * [length / 4.5, width / 4.5]
    spin = np.array([[math.cos(angle), -math.sin(angle)], [math.sin(angle), math.cos(angle)]])
    pier = half @ spin.T + middle
    area = length * width * 4 / 4.5**2
    taken = 400.0 - floor(pier).volume_cf
    assert taken == pytest.approx(area * (1 + 0.1 * middle[0]), rel=1e-9)
