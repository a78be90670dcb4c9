import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import GeometryFaulty
from estimator.quantity.takeoff.welded_wire import mesh_lb
from tests.quantity.shapes import no_dimensions


def test_a_mesh_weighs_as_the_wires_of_both_ways():
    # W4 at 6 in: 400 ft of 0.04 sq in
    assert mesh_lb(100.0, 6.0, 4.0) == pytest.approx(54.444444, rel=1e-6)
    assert mesh_lb(100.0, 6.0, 4.0, overhang_fraction=0.10) == pytest.approx(59.888889, rel=1e-6)
    assert mesh_lb(0.0, 6.0, 4.0) == 0.0


def test_sheets_are_taken_together():
    np.testing.assert_allclose(mesh_lb([100.0, 0.0], 6.0, 4.0), [54.444444, 0.0], rtol=1e-6)


@pytest.mark.parametrize("wrong", no_dimensions)
@pytest.mark.parametrize(
    "weight",
    [
        lambda x: mesh_lb(x, 6, 1.4),
        lambda x: mesh_lb(1, x, 1.4),
        lambda x: mesh_lb(1, 6, x),
        lambda x: mesh_lb(1, 6, 1.4, x),
    ],
)
def test_what_is_no_dimension_is_no_wire(weight, wrong):
    with pytest.raises(GeometryFaulty):
        weight(wrong)


@given(st.floats(2, 12), st.floats(1, 20))
def test_half_the_spacing_is_twice_the_wire(spacing, wire):
    assert mesh_lb(100, spacing / 2, wire) == pytest.approx(
        2 * mesh_lb(100, spacing, wire), rel=1e-12
    )
