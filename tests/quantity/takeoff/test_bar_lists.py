import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import GeometryFaulty
from estimator.quantity.takeoff.bar_lists import (
    bar_mat_lf,
    bars_lb,
    lap_length_ft,
    lapped_length_ft,
    pieces_from_stock,
    stock_bars,
)
from tests.quantity.shapes import no_dimensions


def test_a_lap_of_diameters_is_a_foot_at_least():
    assert lap_length_ft(0.5, 48) == 2.0
    assert lap_length_ft(0.375, 30) == 1.0
    assert lap_length_ft(0.375, 32, least_in=6) == 1.0


def test_each_joint_of_a_run_takes_its_lap_again():
    assert lapped_length_ft(20.0, 20.0, 2.0) == 20.0
    assert lapped_length_ft(38.0, 20.0, 2.0) == 40.0
    assert lapped_length_ft(60.0, 20.0, 2.0) == 66.0


def test_a_lap_longer_than_the_bar_is_refused():
    with pytest.raises(GeometryFaulty, match="lap_ft: is as long as the piece"):
        lapped_length_ft(60.0, 20.0, 21.0)


def test_a_mat_has_bars_both_ways_short_of_the_faces():
    # 10 x 6 ft at 12 in, 3 in cover: 7 bars of 9.5 ft and 11 of 5.5 ft
    assert bar_mat_lf(10.0, 6.0, 12.0, 3.0) == 127.0


def test_cover_that_leaves_no_bar_is_refused():
    with pytest.raises(GeometryFaulty, match="cover_in: leaves no width for bars"):
        bar_mat_lf(10.0, 0.4, 12.0, 3.0)


@pytest.mark.parametrize(
    ("piece", "stock", "pieces"), [(6.5, 20, 3), (5, 20, 4), (20, 20, 1), (0.1, 0.3, 3)]
)
def test_ends_of_a_bar_make_no_piece(piece, stock, pieces):
    assert pieces_from_stock(piece, stock) == pieces


def test_a_piece_longer_than_the_stock_is_refused():
    with pytest.raises(GeometryFaulty, match="piece_ft: is longer than the stock"):
        stock_bars(4, 20.5, 20.0)


@pytest.mark.parametrize(("pieces", "bars"), [(0, 0), (1, 1), (3, 1), (4, 2), (31, 11)])
def test_a_started_bar_is_a_bar(pieces, bars):
    assert stock_bars(pieces, 6.5, 20.0) == bars


def test_bars_weigh_by_the_foot():
    assert bars_lb(250.0, 0.376) == 94.0
    assert bars_lb(0.0, 0.376) == 0.0


def test_lists_of_bars_are_taken_together():
    np.testing.assert_array_equal(stock_bars([3, 4], [6.5, 10.0], 20.0), [1.0, 2.0])
    np.testing.assert_array_equal(lapped_length_ft([20.0, 38.0], 20.0, 2.0), [20.0, 40.0])
    np.testing.assert_array_equal(lap_length_ft([0.5, 0.375], 32), [16 / 12, 1.0])


@pytest.mark.parametrize("wrong", no_dimensions)
@pytest.mark.parametrize(
    "count",
    [
        lambda x: lap_length_ft(x, 40),
        lambda x: lapped_length_ft(x, 20, 2),
        lambda x: bar_mat_lf(x, 10, 12, 3),
        lambda x: pieces_from_stock(1, x),
        lambda x: stock_bars(x, 1, 20),
        lambda x: bars_lb(x, 1),
    ],
)
def test_what_is_no_dimension_is_no_bar(count, wrong):
    with pytest.raises(GeometryFaulty):
        count(wrong)


@given(st.floats(1, 500), st.floats(10, 60), st.floats(0, 3))
def test_the_steel_is_within_the_bars_bought(run, stock, lap):
    length = lapped_length_ft(run, stock, lap)
    assert length >= run
    assert stock_bars(1, min(run, stock), stock) == 1


@given(st.integers(0, 500), st.floats(0.5, 20))
def test_the_bars_bought_give_the_pieces(pieces, piece):
    bars = stock_bars(pieces, piece, 20.0)
    assert bars * pieces_from_stock(piece, 20.0) >= pieces
    assert bars * 20.0 >= pieces * piece - 1e-6


@given(st.floats(0, 1e5), st.floats(0.1, 20))
def test_no_bar_weighs_less_than_nothing(length, weight):
    assert bars_lb(length, weight) >= 0
