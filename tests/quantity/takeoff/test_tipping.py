import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import GeometryFaulty
from estimator.quantity.takeoff.tipping import tipped_ton


def test_the_scale_charges_what_the_debris_weighs():
    assert tipped_ton(40.0, 0.7, loads=3.0) == 28.0


def test_a_light_load_pays_the_minimum():
    assert tipped_ton(20.0, 0.15, loads=2.0, least_ton=2.0) == 4.0


def test_nothing_is_charged_for_nothing():
    assert tipped_ton(0.0, 0.7, loads=3.0, least_ton=2.0) == 0.0


def test_arrays_give_what_their_numbers_give():
    tons = tipped_ton(np.array([40.0, 0.0]), 0.7, np.array([3.0, 1.0]), 1.0)
    assert tons.tolist() == [28.0, 0.0]


@given(st.floats(0, 1e4), st.floats(0.01, 2), st.floats(1, 50), st.floats(0, 10))
def test_it_is_never_less_than_the_weight(debris, density, loads, least):
    assert tipped_ton(debris, density, loads, least) >= debris * density


def test_impossible_numbers_are_refused_by_name():
    with pytest.raises(GeometryFaulty, match="ton_per_cy"):
        tipped_ton(40.0, -0.7)
