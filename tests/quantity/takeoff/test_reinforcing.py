from decimal import Decimal

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import GeometryFaulty
from estimator.quantity.takeoff.reinforcing import (
    bar_lb_per_ft,
    bars_at_spacing,
    lapped_pieces,
    nominal_bar_lb_per_ft,
    wire_sheets,
)


def test_an_inch_bar_weighs_two_pounds_and_two_thirds_a_foot():
    assert bar_lb_per_ft(1.0) == pytest.approx(2.672535, abs=1e-6)


def test_a_bar_is_bought_by_its_nominal_weight():
    assert nominal_bar_lb_per_ft(5) == 1.043


@pytest.mark.parametrize("number", [0, 2, 12, 40])
def test_a_bar_that_is_not_rolled_is_refused(number):
    with pytest.raises(GeometryFaulty, match=f"#{number} is not a bar size"):
        nominal_bar_lb_per_ft(number)


@pytest.mark.parametrize(
    ("width_ft", "spacing_in", "cover_in", "bars"),
    [(10, 12, 0, 11), (10, 12, 3, 11), (10, 12, 6, 10), (10.1, 12, 0, 12), (0.5, 12, 3, 1)],
)
def test_there_is_one_bar_more_than_spaces(width_ft, spacing_in, cover_in, bars):
    assert bars_at_spacing(width_ft, spacing_in, cover_in) == bars


def test_cover_that_leaves_no_width_is_refused():
    with pytest.raises(GeometryFaulty, match="cover_in: leaves no width for bars"):
        bars_at_spacing(0.4, 12, 3)


@pytest.mark.parametrize(
    ("run", "stock", "lap", "pieces"),
    [(20, 20, 2, 1), (20.1, 20, 2, 2), (38, 20, 2, 2), (38.5, 20, 2, 3), (40, 20, 0, 2)],
)
def test_each_lap_costs_its_length_again(run, stock, lap, pieces):
    assert lapped_pieces(run, stock, lap) == pieces


def test_a_run_shorter_than_the_lap_takes_one_piece():
    assert lapped_pieces(1.0, 20.0, 2.0) == 1.0


@pytest.mark.parametrize("lap", [20.0, 25.0])
def test_a_lap_as_long_as_the_bar_is_refused(lap):
    with pytest.raises(GeometryFaulty, match="lap_ft: is as long as the piece"):
        lapped_pieces(100.0, 20.0, lap)


def test_wire_is_lapped_both_ways():
    # 20 ft sheets reach 39.5 ft in two; 8 ft sheets reach 15.5 ft in two and 23 ft in three
    assert wire_sheets(39.5, 16.0, 20.0, 8.0, 0.5) == 6.0


def test_bars_of_many_slabs_are_taken_together():
    np.testing.assert_array_equal(bars_at_spacing([10.0, 20.0], 12.0), [11.0, 21.0])
    np.testing.assert_array_equal(lapped_pieces([10.0, 38.5], 20.0, 2.0), [1.0, 3.0])
    np.testing.assert_allclose(bar_lb_per_ft([0.5, 1.0]), [0.668134, 2.672535], atol=1e-6)


@pytest.mark.parametrize("number", [4, 4.0, "4", "#4", Decimal(4)])
def test_a_bar_is_known_by_its_number_however_it_is_written(number):
    assert nominal_bar_lb_per_ft(number) == 0.668


@pytest.mark.parametrize("wrong", [0.0, -1.0, float("nan")])
def test_steel_of_no_size_is_refused(wrong):
    for count in (
        lambda: bar_lb_per_ft(wrong),
        lambda: bars_at_spacing(10.0, wrong),
        lambda: lapped_pieces(wrong, 20.0, 2.0),
        lambda: wire_sheets(10.0, 10.0, 5.0, wrong, 0.5),
    ):
        with pytest.raises(GeometryFaulty):
            count()


@given(st.floats(1, 500), st.floats(4, 60), st.floats(0, 3))
def test_the_pieces_reach_and_one_less_would_not(run, stock, lap):
    pieces = lapped_pieces(run, stock, lap)
    assert pieces * stock - (pieces - 1) * lap >= run - 1e-6
    assert pieces == 1 or (pieces - 1) * stock - (pieces - 2) * lap < run + 1e-6


@given(st.floats(1, 500), st.floats(3, 24))
def test_no_two_bars_are_farther_apart_than_asked(width_ft, spacing_in):
    bars = bars_at_spacing(width_ft, spacing_in)
    assert width_ft * 12 / (bars - 1) <= spacing_in + 1e-6
