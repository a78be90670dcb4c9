"""Rounding once, half-up, through the hair that floats leave."""

from decimal import ROUND_HALF_UP, Decimal

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.quantity.rounding import scaled_half_up, up_to_multiple, whole_above, whole_below


@pytest.mark.parametrize(
    ("value", "whole"),
    [(8.4 / 2.8, 3), (3.0, 3), (3.0 + 1e-10, 3), (3.0 + 1e-8, 4), (2.999, 3), (0.0, 0), (1e-10, 0)],
)
def test_the_whole_above_ignores_a_hair(value, whole):
    assert whole_above(np.float64(value)) == whole


@pytest.mark.parametrize(
    ("value", "whole"),
    [((0.1 + 0.7) * 10, 8), (8.0, 8), (8.0 - 1e-10, 8), (8.0 - 1e-8, 7), (8.999, 8), (0.0, 0)],
)
def test_the_whole_below_ignores_a_hair(value, whole):
    assert whole_below(np.float64(value)) == whole


def test_eight_point_four_over_two_point_eight_is_really_above_three():
    assert 8.4 / 2.8 > 3.0
    assert np.ceil(8.4 / 2.8) == 4.0


@pytest.mark.parametrize(
    ("value", "decimals", "scaled"),
    [
        (1.005, 2, 101),
        (2.675, 2, 268),
        (1.0049, 2, 100),
        (0.5, 0, 1),
        (1.5, 0, 2),
        (2.5, 0, 3),
        (0.4999, 0, 0),
        (0.0, 2, 0),
        (12.5, 2, 1250),
        (1 / 3, 2, 33),
        (2 / 3, 2, 67),
        (1 / 3 + 1 / 6, 0, 1),
        (12345.6785, 3, 12345679),
        (0.00005, 4, 1),
        (999999.995, 2, 100000000),
    ],
)
def test_halves_go_up_at_the_last_printed_decimal(value, decimals, scaled):
    assert scaled_half_up(np.array([value]), decimals).tolist() == [scaled]


@given(st.integers(0, 10**7), st.integers(0, 4))
def test_a_tie_written_in_decimals_goes_up(whole, decimals):
    tie = Decimal(2 * whole + 1) / 2 / 10**decimals
    assert scaled_half_up(np.array([float(tie)]), decimals).tolist() == [whole + 1]


@given(st.decimals(0, 10**6, places=5), st.integers(0, 4))
def test_rounding_is_that_of_decimals(value, decimals):
    expected = int(value.scaleb(decimals).quantize(Decimal(1), rounding=ROUND_HALF_UP))
    assert scaled_half_up(np.array([float(value)]), decimals).tolist() == [expected]


@pytest.mark.parametrize(
    ("need", "multiple", "order"),
    [(2149, 50, 2150), (2150, 50, 2150), (2151, 50, 2200), (0, 50, 0), (7, 1, 7), (1, 1200, 1200)],
)
def test_an_order_is_raised_to_the_next_multiple_and_never_lowered(need, multiple, order):
    assert up_to_multiple(np.array([need]), np.array([multiple])).tolist() == [order]


@given(st.integers(0, 10**12), st.integers(1, 10**6))
def test_an_order_is_the_least_multiple_that_is_enough(need, multiple):
    order = int(up_to_multiple(np.array([need]), np.array([multiple]))[0])
    assert order % multiple == 0
    assert 0 <= order - need < multiple
