import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import GeometryFaulty
from estimator.quantity.takeoff.sawing import blades_needed, worn_ft
from tests.quantity.shapes import no_dimensions


@pytest.mark.parametrize(("cut", "blades"), [(0.0, 0.0), (30.0, 1.0), (30.1, 2.0)])
def test_a_started_blade_is_a_blade(cut, blades):
    assert blades_needed(cut, 30.0) == blades


def test_a_spike_costs_the_blade_some_feet():
    assert worn_ft(100.0, 10.0, 5.0) == 150.0
    assert worn_ft(100.0, 0.0, 5.0) == 100.0
    assert blades_needed(worn_ft(100.0, 10.0, 5.0), 100.0) == 2.0


def test_cuts_are_taken_together():
    np.testing.assert_array_equal(worn_ft([100.0, 0.0], [2.0, 0.0], 5.0), [110.0, 0.0])
    np.testing.assert_array_equal(blades_needed([0.0, 31.0], 30.0), [0.0, 2.0])


@pytest.mark.parametrize("wrong", no_dimensions)
@pytest.mark.parametrize(
    "count", [lambda x: blades_needed(1, x), lambda x: worn_ft(x, 1, 1), lambda x: worn_ft(1, 1, x)]
)
def test_what_is_no_dimension_wears_no_blade(count, wrong):
    with pytest.raises(GeometryFaulty):
        count(wrong)


@given(st.floats(0, 1e4), st.floats(0, 500), st.floats(0, 20), st.floats(5, 500))
def test_spikes_never_save_a_blade(cut, spikes, lost, life):
    assert blades_needed(worn_ft(cut, spikes, lost), life) >= blades_needed(cut, life)
