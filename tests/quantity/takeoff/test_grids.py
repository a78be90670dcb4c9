import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from estimator.errors import GeometryFaulty
from estimator.quantity.takeoff.grids import borrow_pit_cf
from estimator.quantity.takeoff.spot_depths import mean_spot_depth
from estimator.quantity.takeoff.volumes import four_corner_cf

depth_grids = arrays(
    np.float64, st.tuples(st.integers(2, 6), st.integers(2, 6)), elements=st.floats(0, 30)
)


def test_an_inner_stake_counts_for_the_four_squares_it_touches():
    depths = np.zeros((3, 3))
    for row, column, share in ((0, 0, 1), (0, 1, 2), (1, 1, 4), (2, 1, 2)):
        depths[row, column] = 3.0
        assert borrow_pit_cf(depths, 10, 10) == share * 3.0 * 25.0
        depths[row, column] = 0.0


def test_the_stake_in_a_hollow_corner_counts_three_times():
    dug = [[True, True], [True, False]]
    assert borrow_pit_cf([[0, 0, 0], [0, 2, 0], [0, 0, 9]], 10, 10, dug) == 3 * 2.0 * 25.0


def test_an_even_depth_is_a_prism():
    assert borrow_pit_cf(np.full((4, 3), 2.0), 10, 20) == 2400.0


def test_a_square_that_is_not_dug_does_not_count():
    depths = [[2.0, 2.0, 2.0], [2.0, 2.0, 2.0]]
    assert borrow_pit_cf(depths, 10, 10, dug=[[True, False]]) == 200.0


@pytest.mark.parametrize(
    ("depth", "length", "dug", "told"),
    [
        ([1, 2, 3], 10, None, "depth_ft: is not a grid"),
        ([[1, 2, 3]], 10, None, "depth_ft: is not a grid"),
        ([[1, 2], [3, -1]], 10, None, "depth_ft: is negative"),
        ([[1, 2], [3, 4]], 0, None, "cell_length_ft: is zero"),
        ([[1, 2], [3, 4]], [10, 10], None, "cell_length_ft: are lists"),
        ([[1, 2], [3, 4]], 10, [[True, True]], r"dug: has the shape \(1, 2\); it should be"),
        ([[1, 2], [3, 4]], 10, [[False]], "dug: counts no rectangle"),
    ],
)
def test_what_is_no_pit_is_refused(depth, length, dug, told):
    with pytest.raises(GeometryFaulty, match=told):
        borrow_pit_cf(depth, length, 10, dug)


@given(depth_grids, st.floats(1, 100), st.floats(1, 100))
def test_the_weights_add_up_the_squares(depths, length, width):
    corners = np.stack([depths[:-1, :-1], depths[1:, :-1], depths[:-1, 1:], depths[1:, 1:]], -1)
    squares = float(np.sum(four_corner_cf(length * width, corners)))
    assert borrow_pit_cf(depths, length, width) == pytest.approx(squares, rel=1e-12, abs=1e-9)


@given(depth_grids)
def test_a_grid_is_taken_as_its_spots_are(depths):
    y, x = (axis.ravel() * 10.0 for axis in np.mgrid[0 : depths.shape[0], 0 : depths.shape[1]])
    spots = mean_spot_depth(x, y, depths.ravel()).volume_cf
    assert borrow_pit_cf(depths, 10.0, 10.0) == pytest.approx(spots, rel=1e-9, abs=1e-6)


@given(depth_grids.filter(lambda grid: grid.shape[0] > 2), st.data())
def test_a_grid_cut_along_a_row_is_the_sum_of_its_parts(depths, data):
    row = data.draw(st.integers(1, depths.shape[0] - 2))
    parts = borrow_pit_cf(depths[: row + 1], 7, 9) + borrow_pit_cf(depths[row:], 7, 9)
    assert borrow_pit_cf(depths, 7, 9) == pytest.approx(parts, rel=1e-12, abs=1e-9)
