import math
import random

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from estimator.errors import GeometryFaulty
from estimator.quantity.takeoff.spot_depths import SpotSurface, mean_spot_depth
from estimator.quantity.takeoff.volumes import four_corner_cf

plans = st.lists(
    st.tuples(st.integers(0, 60), st.integers(0, 40)), min_size=3, max_size=20, unique=True
)


def on_one_line(plan):
    (x0, y0), (x1, y1) = plan[:2]
    return all((x1 - x0) * (y - y0) == (y1 - y0) * (x - x0) for x, y in plan)


def test_three_spots_are_one_triangle():
    assert mean_spot_depth([0, 12, 0], [0, 0, 5], [1, 2, 3]) == SpotSurface(30.0, 60.0, 2.0)


def test_a_deep_corner_counts_a_quarter_whichever_way_the_square_is_split():
    for deep_corner in range(4):
        depths = [0.0, 0.0, 0.0, 0.0]
        depths[deep_corner] = 4.0
        surface = mean_spot_depth([0, 20, 20, 0], [0, 0, 10, 10], depths)
        assert surface.volume_cf == pytest.approx(200.0, rel=1e-12)


def test_a_grid_takes_each_cell_by_its_four_corners():
    # cells of 10 x 10 ft with corner sums 8, 12 and 10 ft: 200 + 300 + 250 cf
    x = [0, 10, 20, 30, 0, 10, 20, 30]
    y = [0, 0, 0, 0, 10, 10, 10, 10]
    surface = mean_spot_depth(x, y, [1, 2, 5, 1, 3, 2, 3, 1])
    assert surface.volume_cf == pytest.approx(750.0, rel=1e-12)
    assert surface.mean_depth_ft == pytest.approx(2.5, rel=1e-12)


def test_a_mound_in_the_middle_is_a_pyramid():
    surface = mean_spot_depth([0, 6, 6, 0, 3], [0, 0, 6, 6, 3], [0, 0, 0, 0, 5])
    assert surface.volume_cf == pytest.approx(60.0, rel=1e-12)


def test_spots_far_from_the_origin_lose_nothing():
    # a state-plane corner: feet in the millions
    x = np.array([0, 20, 20, 0]) + 2_345_678.0
    y = np.array([0, 0, 10, 10]) + 987_654.0
    assert mean_spot_depth(x, y, [1, 1, 3, 4]).volume_cf == pytest.approx(450.0, rel=1e-9)


def test_spots_below_and_left_of_the_corner_are_fine():
    assert mean_spot_depth([-12, 0, -12], [0, 0, -5], [1, 2, 3]).area_sf == 30.0


def test_a_dry_floor_has_no_volume():
    assert mean_spot_depth([0, 12, 0], [0, 0, 5], [0, 0, 0]) == SpotSurface(30.0, 0.0, 0.0)


@pytest.mark.parametrize(
    ("x", "y", "depth", "told"),
    [
        ([0, 1], [0, 1], [1, 1], "2 spots cannot make a surface; measure three or more"),
        (0, 1, 1, "1 spot cannot make a surface"),
        ([], [], [], "0 spots cannot make a surface"),
        ([0, 1, 2], [0, 1, 2], [1, 1, 1], "in one line"),
        ([0, 0.1, 0.3], [0, 0.1, 0.3], [1, 1, 1], "in one line"),
        ([0, 5, 5, 0], [0, 2, 2, 9], [1, 1, 2, 3], "there are two depths at x 5 ft, y 2 ft"),
        ([0, 1, 0], [0, 0, 1], [1, -1, 1], "depth_ft: is negative"),
        ([0, 1, 0], [0, 0, 1], [1, math.nan, 1], "depth_ft: is not a finite"),
        ([0, math.nan, 0], [0, 0, 1], [1, 1, 1], "x_ft: is not finite"),
        ([0, 1, 0], [0, 0, math.inf], [1, 1, 1], "y_ft: is not finite"),
        (["a", 1, 0], [0, 0, 1], [1, 1, 1], "x_ft: 'a' is not a measure"),
        ([0, 1, 0, 1], [0, 0, 1], [1, 1, 1], "not lists of one length"),
        ([[0, 1, 0]], [[0, 0, 1]], [[1, 1, 1]], "not lists of one length"),
    ],
)
def test_spots_that_make_no_surface_are_refused(x, y, depth, told):
    with pytest.raises(GeometryFaulty, match=told):
        mean_spot_depth(x, y, depth)


def test_two_depths_an_eighth_of_an_inch_apart_contradict_each_other():
    with pytest.raises(GeometryFaulty, match="there are two depths at x 10 ft, y 0 ft"):
        mean_spot_depth([0, 10, 10, 0, 10.009], [0, 0, 10, 10, 0], [1, 1, 1, 1, 9])


def test_no_spot_is_lost_silently_where_a_tiny_cluster_lies_on_a_huge_site():
    cluster_x, cluster_y = (0.02 * steps.ravel() for steps in np.mgrid[0:7, 0:7])
    x, y = [*cluster_x, 1e9, 0, -1e9], [*cluster_y, 0, 1e9, -1e9]
    with pytest.raises(GeometryFaulty, match="too close together for so wide a site"):
        mean_spot_depth(x, y, np.ones(52))


@settings(max_examples=60, deadline=None)
@given(plans, st.floats(0, 0.2), st.floats(0, 0.2), st.floats(0, 8))
def test_an_even_slope_is_exact(plan, a, b, c):
    assume(not on_one_line(plan))
    x, y = np.array(plan, dtype=float).T
    surface = mean_spot_depth(x, y, a * x + b * y + c)
    flat = mean_spot_depth(x, y, np.ones(len(x)))
    centroid_depth = (
        mean_spot_depth(x, y, x).volume_cf * a + mean_spot_depth(x, y, y).volume_cf * b
    ) + c * flat.area_sf
    assert surface.volume_cf == pytest.approx(centroid_depth, rel=1e-9, abs=1e-9)
    assert flat.mean_depth_ft == pytest.approx(1.0, rel=1e-12)


@settings(max_examples=60, deadline=None)
@given(plans, st.randoms(use_true_random=False))
def test_the_order_of_the_spots_does_not_matter(plan, chance: random.Random):
    assume(not on_one_line(plan))
    spots = [(x, y, chance.uniform(0, 8)) for x, y in plan]
    mixed = chance.sample(spots, len(spots))
    assert mean_spot_depth(*zip(*mixed, strict=True)) == mean_spot_depth(*zip(*spots, strict=True))


@settings(max_examples=60, deadline=None)
@given(plans, st.randoms(use_true_random=False))
def test_the_mean_lies_between_the_shallowest_and_the_deepest_spot(plan, chance: random.Random):
    assume(not on_one_line(plan))
    depths = [chance.uniform(0, 8) for _ in plan]
    mean = mean_spot_depth(*zip(*plan, strict=True), depths).mean_depth_ft
    assert min(depths) - 1e-9 <= mean <= max(depths) + 1e-9


@settings(max_examples=60, deadline=None)
@given(st.lists(st.floats(0, 8), min_size=4, max_size=4), st.floats(0, 360))
def test_a_turned_rectangle_is_four_corners_still(depths, turn):
    x, y = np.array([0, 31, 31, 0.0]), np.array([0, 0, 17, 17.0])
    cosine, sine = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    surface = mean_spot_depth(cosine * x - sine * y, sine * x + cosine * y, depths)
    assert surface.volume_cf == pytest.approx(four_corner_cf(527.0, depths), rel=1e-9, abs=1e-9)


@pytest.mark.parametrize("spots", [5, 6, 12])
def test_spots_around_a_circle_do_not_depend_on_how_the_drawing_is_turned(spots):
    """One depth of 4 ft on the rim: its share is two triangles of 4 ft and the mean of all."""
    angles = np.arange(spots) * 2 * math.pi / spots
    depths = np.eye(spots)[0] * 4.0
    one_triangle = 0.5 * 10.0**2 * math.sin(2 * math.pi / spots)
    volume = one_triangle * (2 * 4.0 / 3 + spots * (4.0 / spots) / 3)
    for turn in np.linspace(0, 7, 40):
        x, y = 10 * np.cos(angles + turn), 10 * np.sin(angles + turn)
        assert mean_spot_depth(x, y, depths).volume_cf == pytest.approx(volume, rel=1e-9)
