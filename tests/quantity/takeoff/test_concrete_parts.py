import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import GeometryFaulty
from estimator.quantity.takeoff.concrete import (
    footing_cf,
    short_load_cy,
    short_loads,
    truck_loads,
    wall_cf,
)
from estimator.quantity.takeoff.concrete_parts import (
    belled_pier_cf,
    round_pier_cf,
    square_pier_cf,
    stepped_footing_cf,
    thickened_edge_cf,
    thickened_pad_cf,
    wall_less_openings_cf,
)
from tests.quantity.shapes import feet, inches, no_dimensions


def test_an_upright_edge_is_a_strip_footing_under_the_slab():
    assert thickened_edge_cf(100.0, 12.0, 6.0) == 50.0


def test_a_sloped_edge_adds_half_its_square():
    assert thickened_edge_cf(144.0, 12.0, 6.0, side_slope=1.0) == 90.0


def test_a_pad_at_45_degrees_is_a_frustum():
    # 24 x 24 in below, 48 x 48 in above, 12 in deep: (4 + 16 + 8) / 3 cf
    assert thickened_pad_cf(24.0, 24.0, 12.0, side_slope=1.0) == pytest.approx(28 / 3, rel=1e-12)


def test_each_step_of_a_footing_hangs_a_leg():
    assert stepped_footing_cf(20.0, 24.0, 12.0, 0, 12.0, 8.0) == 40.0
    assert stepped_footing_cf(20.0, 24.0, 12.0, 3, 12.0, 6.0) == 43.0


def test_openings_are_taken_out_of_a_wall():
    assert wall_less_openings_cf(18.0, 4.0, 10.0, 0.0) == 60.0
    assert wall_less_openings_cf(18.0, 4.0, 10.0, 12.0) == 50.0


def test_openings_larger_than_the_wall_are_refused():
    with pytest.raises(GeometryFaulty, match="is more than there is: the result would be negative"):
        wall_less_openings_cf(18.0, 4.0, 10.0, 73.0)


def test_a_round_pier_is_pi_quarters_of_the_square_one():
    assert round_pier_cf(24.0, 10.0) == pytest.approx(31.41592653589793, rel=1e-14)
    assert square_pier_cf(24.0, 24.0, 10.0) == 40.0


def test_a_bell_is_a_frustum_on_a_toe():
    # pi/4 (4 x 10 + 2 (16 + 8 + 4) / 3 + 16 x 0.5)
    volume = belled_pier_cf(24.0, 10.0, 48.0, 2.0, toe_height_ft=0.5)
    assert volume == pytest.approx(52.35987755982989, rel=1e-12)


def test_a_bell_narrower_than_its_shaft_is_refused():
    with pytest.raises(GeometryFaulty, match="bell_diameter_in: is narrower than the shaft"):
        belled_pier_cf(24.0, 10.0, 18.0, 2.0)


@pytest.mark.parametrize(
    ("order", "loads", "short"),
    [
        (0.0, 0.0, 0.0),
        (2.5, 1.0, 1.5),
        (4.0, 1.0, 0.0),
        (10.0, 1.0, 0.0),
        (10.5, 2.0, 0.0),
        (21.5, 3.0, 0.0),
        (18.0, 2.0, 0.0),
    ],
)
def test_a_short_load_is_short_by_what_it_lacks(order, loads, short):
    assert truck_loads(order, 10.0) == loads
    assert short_load_cy(order, 10.0, 4.0) == pytest.approx(short, abs=1e-12)


@pytest.mark.parametrize(
    ("order", "short"),
    [
        (95.5, 0.0),  # ten of 9.55, though ten full ones would leave 5.5 for the last
        (17.0, 0.0),  # two of 8.5
        (15.5, 0.5),  # one of 8, and 7.5 in the other
        (11.0, 5.0),  # one of 8, and 3 in the other
    ],
)
def test_an_order_is_spread_so_that_no_truck_is_short_where_that_can_be(order, short):
    assert short_load_cy(order, 10.0, 8.0) == pytest.approx(short, abs=1e-12)


def test_a_plant_without_a_least_load_charges_for_none():
    assert short_load_cy(0.5, 10.0, 0.0) == 0.0


def test_a_least_load_above_the_truck_is_refused():
    with pytest.raises(GeometryFaulty, match="least_load_cy: is more than a truck brings"):
        short_load_cy(5.0, 4.0, 10.0)


def test_pours_are_taken_together():
    np.testing.assert_array_equal(short_load_cy([0.0, 2.5], 10.0, 4.0), [0.0, 1.5])
    np.testing.assert_allclose(round_pier_cf([12.0, 24.0], 10.0), [7.853982, 31.415927], rtol=1e-6)
    np.testing.assert_array_equal(stepped_footing_cf(20.0, 24.0, 12.0, [0, 3], 12, 6), [40, 43])


@pytest.mark.parametrize("wrong", no_dimensions)
@pytest.mark.parametrize(
    "volume",
    [
        lambda x: thickened_edge_cf(x, 1, 1),
        lambda x: thickened_edge_cf(1, 1, 1, x),
        lambda x: thickened_pad_cf(1, 1, x),
        lambda x: stepped_footing_cf(1, 1, 1, x, 1, 1),
        lambda x: wall_less_openings_cf(1, 1, x, 0),
        lambda x: round_pier_cf(x, 1),
        lambda x: square_pier_cf(1, x, 1),
        lambda x: belled_pier_cf(1, 1, 1, x),
        lambda x: truck_loads(x, 1),
        lambda x: short_load_cy(1, x, 0),
    ],
)
def test_what_is_no_dimension_is_no_concrete(volume, wrong):
    with pytest.raises(GeometryFaulty):
        volume(wrong)


@given(feet, inches, inches, st.floats(0, 3), st.floats(0.01, 0.99))
def test_an_edge_cut_in_two_is_the_sum_of_its_parts(length, width, depth, slope, at):
    parts = thickened_edge_cf(length * at, width, depth, slope)
    parts += thickened_edge_cf(length * (1 - at), width, depth, slope)
    assert thickened_edge_cf(length, width, depth, slope) == pytest.approx(parts, rel=1e-9)


@given(feet, inches, inches)
def test_a_footing_without_steps_is_a_footing(length, width, depth):
    assert stepped_footing_cf(length, width, depth, 0, 1, 1) == footing_cf(length, width, depth)


@given(feet, feet, inches, st.floats(0, 1))
def test_wall_and_openings_are_the_whole_wall(length, height, thickness, share):
    openings = length * height * share
    filled = wall_less_openings_cf(length, height, thickness, openings) + openings * thickness / 12
    assert filled == pytest.approx(wall_cf(length, height, thickness), rel=1e-9)


@given(st.floats(6, 60), feet, st.floats(1, 3), feet)
def test_a_bell_holds_more_than_its_shaft_and_less_than_its_foot(shaft, height, wider, bell):
    volume = belled_pier_cf(shaft, height, shaft * wider, bell)
    assert volume >= round_pier_cf(shaft, height + bell) * (1 - 1e-12)
    assert volume <= round_pier_cf(shaft * wider, height + bell) * (1 + 1e-12)


@given(st.floats(0, 200), st.floats(1, 12), st.floats(0, 1))
def test_what_is_short_is_never_more_than_the_least_load(order, truck, share):
    short = short_load_cy(order, truck, truck * share)
    assert 0 <= short <= truck * share + 1e-9


@pytest.mark.parametrize(
    ("cy", "waste", "pours", "short"),
    [
        (1, 0.0, 1, 1),  # one yard in one truck
        (95.5, 0.0, 1, 0),  # ten trucks of 9.55
        (11, 0.0, 1, 1),  # two trucks; it takes sixteen yards that neither is short
        (100, 0.0, 1, 0),
        (30, 0.0, 2, 2),  # 15 twice, in two trucks of 7.5
        (34, 0.0, 2, 0),  # 17 twice, in two trucks of 8.5
        (30, 0.0, 0, 0),  # poured together with other concrete
        (0, 0.0, 1, 0),
    ],
)
def test_short_loads_follow_the_order_of_each_pour(cy, waste, pours, short):
    """Trucks of ten yards, of which the plant charges for less than eight."""
    assert short_loads(27.0 * cy, waste, pours, 10.0, 8.0) == short
