import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import GeometryFaulty
from estimator.quantity.takeoff.stone import (
    fill_lb,
    lift_count,
    shrinkage_fraction,
    swell_fraction,
)
from tests.quantity.shapes import fractions, no_dimensions


def test_rock_shrinks_by_less_than_nothing():
    assert swell_fraction(4000.0, 2500.0) == pytest.approx(0.6)
    assert shrinkage_fraction(4000.0, 3200.0) == pytest.approx(-0.25)


def test_settled_stone_takes_more_and_wet_stone_weighs_more():
    assert fill_lb(100.0, 96.0) == 9600.0
    assert fill_lb(100.0, 96.0, settlement_fraction=0.10) == pytest.approx(10_560.0)
    assert fill_lb(100.0, 96.0, 0.10, moisture_fraction=0.05) == pytest.approx(11_088.0)
    assert fill_lb(0.0, 96.0) == 0.0


@pytest.mark.parametrize(
    ("depth", "lift", "lifts"), [(0, 0.5, 0), (3, 0.5, 6), (3.01, 0.5, 7), (0.9, 0.3, 3)]
)
def test_a_started_lift_is_a_lift(depth, lift, lifts):
    assert lift_count(depth, lift) == lifts


def test_fills_are_taken_together():
    np.testing.assert_array_equal(fill_lb([1.0, 0.0], 96.0), [96.0, 0.0])
    np.testing.assert_array_equal(lift_count([1.0, 2.1], 1.0), [1.0, 3.0])


def test_a_percent_is_no_share():
    with pytest.raises(GeometryFaulty, match="moisture_fraction: is above 1"):
        fill_lb(1.0, 96.0, moisture_fraction=20)


@pytest.mark.parametrize("wrong", no_dimensions)
@pytest.mark.parametrize(
    "count",
    [
        lambda x: swell_fraction(x, 1),
        lambda x: shrinkage_fraction(1, x),
        lambda x: fill_lb(x, 1),
        lambda x: fill_lb(1, 1, x),
        lambda x: lift_count(1, x),
    ],
)
def test_what_is_no_dimension_weighs_nothing(count, wrong):
    with pytest.raises(GeometryFaulty):
        count(wrong)


@given(st.floats(0, 1e6), st.floats(1, 300), fractions, fractions)
def test_no_fill_weighs_less_than_nothing_or_than_it_does_dry(volume, density, settled, water):
    weight = fill_lb(volume, density, settled, water)
    assert weight >= volume * density * (1 - 1e-12) >= 0
