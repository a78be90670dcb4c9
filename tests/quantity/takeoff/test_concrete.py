import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import GeometryFaulty
from estimator.quantity.takeoff.concrete import concrete_order_cy, footing_cf, slab_cf, wall_cf
from tests.quantity.shapes import fractions, no_dimensions


def test_a_slab_is_its_area_by_its_inches():
    assert slab_cf(240.0, 5.0) == 100.0


def test_a_footing_is_measured_in_inches_across():
    assert footing_cf(30.0, 16.0, 9.0) == 30.0


def test_a_wall_is_its_face_by_its_inches():
    assert wall_cf(18.0, 4.0, 10.0) == 60.0


@pytest.mark.parametrize(
    ("volume_cf", "waste", "multiple", "ordered"),
    [
        (27.0, 0.0, 0.5, 1.0),
        (27.1, 0.0, 0.5, 1.5),
        (27.0, 0.10, 0.5, 1.5),
        (270.0, 0.10, 0.5, 11.0),
        (270.0, 0.10, 0.25, 11.0),
        (100.0, 0.0, 1.0, 4.0),
        (0.0, 0.10, 0.5, 0.0),
    ],
)
def test_an_order_goes_up_to_the_next_multiple(volume_cf, waste, multiple, ordered):
    assert concrete_order_cy(volume_cf, waste, multiple) == ordered


def test_orders_of_many_pours_are_taken_together():
    np.testing.assert_array_equal(concrete_order_cy([27.0, 28.0], 0.0, 0.5), [1.0, 1.5])


@pytest.mark.parametrize("wrong", no_dimensions)
@pytest.mark.parametrize(
    "volume",
    [
        lambda x: slab_cf(x, 4),
        lambda x: footing_cf(1, x, 1),
        lambda x: wall_cf(1, 1, x),
        lambda x: concrete_order_cy(x),
        lambda x: concrete_order_cy(1, x),
        lambda x: concrete_order_cy(1, 0, x),
    ],
)
def test_what_is_no_dimension_orders_no_concrete(volume, wrong):
    with pytest.raises(GeometryFaulty):
        volume(wrong)


@given(st.floats(0, 1e5), fractions, st.sampled_from([0.25, 0.5, 1.0]))
def test_an_order_is_enough_and_less_than_a_multiple_too_much(volume_cf, waste, multiple):
    spare = concrete_order_cy(volume_cf, waste, multiple) - volume_cf * (1 + waste) / 27
    assert -1e-6 <= spare < multiple + 1e-6
