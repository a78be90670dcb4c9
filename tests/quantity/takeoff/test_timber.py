import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import GeometryFaulty
from estimator.quantity.takeoff.timber import board_feet, matched_flooring_bf
from tests.quantity.shapes import feet, no_dimensions


def test_a_board_foot_is_a_foot_square_and_an_inch_thick():
    assert board_feet(1.0, 12.0, 1.0) == 1.0


def test_a_post_of_heavy_timber_counts_its_full_section():
    assert board_feet(12.0, 12.0, 14.0, pieces=6) == 1008.0


def test_thin_boards_count_as_an_inch():
    assert board_feet(0.75, 6.0, 10.0) == 5.0


def test_no_pieces_are_no_lumber():
    assert board_feet(2.0, 4.0, 8.0, pieces=0) == 0.0


@pytest.mark.parametrize(("face", "bought"), [(2.25, 1200.0), (3.0, 1125.0), (5.25, 1125.0)])
def test_narrow_matched_strips_lose_more_to_the_tongue(face, bought):
    assert matched_flooring_bf(900.0, face) == bought


def test_lists_of_lumber_are_taken_together():
    np.testing.assert_array_equal(board_feet([1, 2], [12, 6], [10, 10]), [10.0, 10.0])
    np.testing.assert_array_equal(matched_flooring_bf(300.0, [2.0, 3.0]), [400.0, 375.0])


@pytest.mark.parametrize("wrong", no_dimensions)
@pytest.mark.parametrize(
    "count",
    [
        lambda x: board_feet(x, 1, 1),
        lambda x: board_feet(1, 1, 1, x),
        lambda x: matched_flooring_bf(x, 3),
    ],
)
def test_what_is_no_dimension_is_no_lumber(count, wrong):
    with pytest.raises(GeometryFaulty):
        count(wrong)


@given(st.floats(1, 24), st.floats(1, 24), feet, st.integers(1, 500))
def test_many_pieces_are_many_times_one(thickness, width, length, pieces):
    one = board_feet(thickness, width, length)
    assert board_feet(thickness, width, length, pieces) == pytest.approx(pieces * one, rel=1e-12)
