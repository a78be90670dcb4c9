import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import GeometryFaulty
from estimator.quantity.takeoff.deductions import deducted_openings_sf, net_area_sf, net_volume_cf
from tests.quantity.shapes import no_dimensions


def test_piers_are_taken_out_of_a_fill():
    assert net_volume_cf(750.0, 48.0) == 702.0


def test_a_pit_full_of_piers_has_room_for_nothing():
    assert net_volume_cf(48.0, 48.0) == 0.0
    assert net_area_sf(0.0, 0.0) == 0.0


def test_a_last_digit_does_not_make_a_volume_negative():
    assert net_volume_cf(0.3, 0.1 + 0.2) == 0.0


@pytest.mark.parametrize("net", [net_volume_cf, net_area_sf])
def test_more_than_all_cannot_be_deducted(net):
    with pytest.raises(GeometryFaulty, match="is more than there is: the result would be negative"):
        net([100.0, 10.0], 10.5)


def test_small_openings_are_measured_solid():
    assert deducted_openings_sf(3.9, 10, least_deducted_sf=4.0) == 0.0
    assert deducted_openings_sf(4.0, 10, least_deducted_sf=4.0) == 40.0
    assert deducted_openings_sf(3.9, 10) == 39.0


def test_kinds_of_openings_are_taken_together():
    np.testing.assert_array_equal(deducted_openings_sf([2, 5], [3, 3], 4), [0.0, 15.0])
    np.testing.assert_array_equal(net_area_sf([100, 200], [10, 20]), [90.0, 180.0])


@pytest.mark.parametrize("wrong", no_dimensions)
@pytest.mark.parametrize(
    "count",
    [
        lambda x: net_volume_cf(x, 1),
        lambda x: net_area_sf(1e9, x),
        lambda x: deducted_openings_sf(x),
        lambda x: deducted_openings_sf(1, x),
    ],
)
def test_what_is_no_dimension_deducts_nothing(count, wrong):
    with pytest.raises(GeometryFaulty):
        count(wrong)


@given(st.floats(0, 1e6), st.floats(0, 1))
def test_net_and_deduction_are_the_gross(gross, share):
    net = net_volume_cf(gross, gross * share)
    assert net >= 0
    assert net + gross * share == pytest.approx(gross, rel=1e-12)
