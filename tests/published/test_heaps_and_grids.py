"""Windrows, borrow pits and sounded floors against published examples and scipy."""

import numpy as np
import pytest

from estimator.quantity.takeoff.deductions import net_volume_cf
from estimator.quantity.takeoff.grids import borrow_pit_cf
from estimator.quantity.takeoff.heaps_and_pits import pit_cf, ridge_at_repose_cf
from estimator.quantity.takeoff.spot_depths import mean_spot_depth
from estimator.quantity.takeoff.volumes import (
    average_end_area_cf,
    end_areas_with_pyramids_cf,
    four_corner_cf,
)
from tests.published.source import published


@published(
    source="scipy, integrate.dblquad",
    section="a heap whose height is its distance from the foot",
    status="derived",
)
def test_a_windrow_is_the_integral_of_its_height():
    from scipy.integrate import dblquad

    def height(y, x):
        along = max(abs(x) - 20.0, 0.0)
        return max(10.0 - (along**2 + y**2) ** 0.5, 0.0)

    quarter = sum(
        dblquad(height, near, far, 0, lambda x: (100 - max(x - 20, 0) ** 2) ** 0.5)[0]
        for near, far in [(0, 20), (20, 30)]
    )
    assert ridge_at_repose_cf(60.0, 20.0, 45.0) == pytest.approx(4 * quarter, rel=1e-6)


@published(
    source="Source not recorded: review problem for the engineers' examination",
    section="borrow for a lot of 50 by 50 ft, corners 87.6, 87.6, 87.6 and 88.6, to 90 ft",
    status="seen",
)
def test_raising_a_lot_to_ninety_feet_takes_199_yards():
    fill = [[90 - 87.6, 90 - 87.6], [90 - 87.6, 90 - 88.6]]
    assert borrow_pit_cf(fill, 50.0, 50.0) / 27 == pytest.approx(199.07, abs=0.005)
    assert four_corner_cf(2_500.0, np.ravel(fill)) / 27 == pytest.approx(199.07, abs=0.005)


@published(
    source="Source not recorded: borrow-pit method of surveying texts",
    section="a/4 (sum h1 + 2 sum h2 + 3 sum h3 + 4 sum h4)",
    status="from memory",
    note="an L of three squares of 20 ft; depths ours",
)
def test_a_borrow_pit_in_an_l_weighs_its_corners_one_to_three():
    depths = [[1.0, 2.0, 3.0], [2.0, 4.0, 6.0], [3.0, 5.0, 9.0]]
    by_hand = 400 / 4 * ((1.0 + 3.0 + 6.0 + 3.0 + 5.0) + 2 * (2.0 + 2.0) + 3 * 4.0)
    dug = [[True, True], [True, False]]
    assert borrow_pit_cf(depths, 20.0, 20.0, dug) == by_hand == 3800.0


@published(
    source="scipy, interpolate.RegularGridInterpolator",
    section="the mean of a bilinear surface over a grid",
    status="derived",
)
def test_a_borrow_pit_is_the_bilinear_surface_of_its_stakes():
    from scipy.interpolate import RegularGridInterpolator

    depths = np.array([[2.0, 3.5, 4.0, 1.0], [1.0, 2.5, 6.0, 2.0], [0.0, 1.5, 3.0, 2.5]])
    surface = RegularGridInterpolator((np.arange(3) * 25.0, np.arange(4) * 25.0), depths)
    rows, columns = np.meshgrid((np.arange(100) + 0.5) / 2, (np.arange(150) + 0.5) / 2)
    mean = surface(np.column_stack([rows.ravel(), columns.ravel()])).mean()
    assert borrow_pit_cf(depths, 25.0, 25.0) == pytest.approx(float(mean) * 50 * 75, rel=1e-9)


@published(
    source="scipy, LinearNDInterpolator",
    section="scipy.interpolate, the same floor with a pier and a hollow corner",
    status="derived",
    note="sampled over 250,000 points of the plan",
)
def test_a_sounded_floor_without_its_piers_is_what_linear_interpolation_leaves():
    from scipy.interpolate import LinearNDInterpolator

    x = np.array([0.0, 62.5, 60.0, 1.5, 21.0, 40.5, 33.0, 12.0])
    y = np.array([0.0, 1.0, 29.0, 31.0, 11.0, 17.5, 4.0, 22.0])
    depth = np.array([1.0, 7.25, 6.0, 2.0, 3.5, 5.25, 4.0, 2.5])
    across, down = np.meshgrid((np.arange(500) + 0.5) / 8, (np.arange(500) + 0.5) * 31 / 500)
    sampled = LinearNDInterpolator(np.column_stack([x, y]), depth)(across, down)
    pier = (across > 20) & (across < 30) & (down > 10) & (down < 20)
    corner = (across > 40) & (across < 50) & (down > 8) & (down < 24)
    corner &= (across < 44) | (down < 14)
    holes = [
        [(20, 10), (30, 10), (30, 20), (20, 20)],
        [(40, 8), (50, 8), (50, 14), (44, 14), (44, 24), (40, 24)],
    ]
    left = np.where(pier | corner, np.nan, sampled)
    surface = mean_spot_depth(x, y, depth, holes)
    assert surface.holes_sf == pytest.approx(100 + 100, rel=1e-9)
    assert surface.mean_depth_ft == pytest.approx(float(np.nanmean(left)), rel=1e-3)


@published(
    source="Vose, Handbook of Railroad Construction (1857)",
    section="art. 108, same peaked cut, its ends as pyramids",
    status="derived",
    note="the exact 52,500 lies between: the ends of this cut keep their base of 20 ft, so that "
    "they are neither pyramids nor prisms",
)
def test_the_ends_of_a_peaked_cut_lie_between_a_pyramid_and_an_average():
    stations, areas = [0, 50, 100, 150, 200], [0, 137.5, 350, 637.5, 0]
    pyramids = end_areas_with_pyramids_cf(stations, areas)
    assert pyramids == pytest.approx(49_791.667, abs=1e-3)
    assert pyramids < 52_500 < average_end_area_cf(stations, areas)


@published(
    source="scipy, ConvexHull",
    section="scipy.spatial, a pit with two piers in it",
    status="derived",
)
def test_a_pit_less_its_piers_is_the_hull_less_their_boxes():
    from scipy.spatial import ConvexHull

    corners = [
        [x, y, z]
        for z, length, width in [(0, 20, 12), (6, 29, 21)]
        for x in (-length / 2, length / 2)
        for y in (-width / 2, width / 2)
    ]
    left = ConvexHull(corners).volume - 2 * (2 * 2 * 6)
    pit = pit_cf(20.0, 12.0, 6.0, side_slope=0.75)
    assert net_volume_cf(pit, 2 * 24.0) == pytest.approx(left, rel=1e-12)
