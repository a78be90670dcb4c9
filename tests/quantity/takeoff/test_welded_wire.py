import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import GeometryFaulty
from estimator.quantity.takeoff.welded_wire import (
    mesh_lb_per_100_sf,
    nominal_wire_lb_per_100_sf,
    wire_lb,
)
from tests.quantity.shapes import no_dimensions


def test_a_mesh_weighs_as_the_wires_of_both_ways():
    # W4 at 6 in: 400 ft of 0.04 sq in
    assert mesh_lb_per_100_sf(6.0, 0.04) == pytest.approx(54.444444, rel=1e-6)


def test_wire_is_bought_by_its_style():
    assert nominal_wire_lb_per_100_sf("4x4-W2.9xW2.9") == 62.0


def test_a_style_that_is_not_made_is_refused():
    with pytest.raises(
        GeometryFaulty, match=r"'6x6-W3\.0xW3\.0' is not a style of the table; did you"
    ):
        nominal_wire_lb_per_100_sf("6x6-W3.0xW3.0")


def test_wire_weighs_by_its_area():
    assert wire_lb(250.0, 42.0) == 105.0
    assert wire_lb(0.0, 42.0) == 0.0


def test_sheets_are_taken_together():
    np.testing.assert_array_equal(wire_lb([100.0, 50.0], 42.0), [42.0, 21.0])


@pytest.mark.parametrize("wrong", no_dimensions)
@pytest.mark.parametrize(
    "weight",
    [lambda x: mesh_lb_per_100_sf(x, 0.014), lambda x: wire_lb(x, 42), lambda x: wire_lb(1, x)],
)
def test_what_is_no_dimension_is_no_wire(weight, wrong):
    with pytest.raises(GeometryFaulty):
        weight(wrong)


@given(st.floats(2, 12), st.floats(0.01, 0.5))
def test_half_the_spacing_is_twice_the_wire(spacing, area):
    assert mesh_lb_per_100_sf(spacing / 2, area) == pytest.approx(
        2 * mesh_lb_per_100_sf(spacing, area), rel=1e-12
    )
