import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import GeometryFaulty
from estimator.quantity.debris import (
    blades_needed,
    boxes_needed,
    envelope_debris_cy,
    floor_cut_ft,
    floor_debris_cy,
)
from tests.quantity.shapes import no_dimensions


def test_a_wooden_floor_makes_four_and_a_half_feet_of_debris_a_foot():
    assert floor_debris_cy(600.0, 4.5) == 100.0


def test_a_building_that_is_half_air_fills_half_its_envelope():
    assert envelope_debris_cy(27.0, 10.0, 10.0, solid_fraction=0.5) == 50.0


@pytest.mark.parametrize(
    ("debris_cy", "density", "boxes"),
    [(40.0, 0.15, 2.0), (40.0, 0.7, 3.0), (41.0, 0.15, 3.0), (0.0, 0.7, 0.0)],
)
def test_the_first_limit_that_is_reached_fills_the_box(debris_cy, density, boxes):
    assert boxes_needed(debris_cy, density, 20.0, 10.0) == boxes


@pytest.mark.parametrize(
    ("length", "piece", "ends", "cut"),
    [(16.0, 8.0, 0, 4.0), (16.0, 8.0, 2, 12.0), (17.0, 8.0, 0, 8.0), (6.0, 8.0, 0, 0.0)],
)
def test_boards_are_cut_between_pieces_and_where_ends_are_held(length, piece, ends, cut):
    assert floor_cut_ft(length, 4.0, piece, cut_ends=ends) == cut


@pytest.mark.parametrize(("cut", "blades"), [(0.0, 0.0), (30.0, 1.0), (30.1, 2.0)])
def test_a_started_blade_is_a_blade(cut, blades):
    assert blades_needed(cut, 30.0) == blades


def test_heaps_are_taken_together():
    np.testing.assert_array_equal(boxes_needed([40.0, 0.0], 0.7, 20.0, 10.0), [3.0, 0.0])


@pytest.mark.parametrize("wrong", no_dimensions)
@pytest.mark.parametrize(
    "count",
    [
        lambda x: floor_debris_cy(x, 3),
        lambda x: envelope_debris_cy(x, 1, 1),
        lambda x: boxes_needed(x, 1, 1, 1),
        lambda x: boxes_needed(1, 1, 1, x),
        lambda x: floor_cut_ft(1, 1, x),
        lambda x: blades_needed(1, x),
    ],
)
def test_what_is_no_dimension_makes_no_debris(count, wrong):
    with pytest.raises(GeometryFaulty):
        count(wrong)


@given(st.floats(0, 1e4), st.floats(0.05, 2), st.floats(5, 40), st.floats(1, 15))
def test_no_box_is_over_its_volume_or_its_weight(debris, density, box, limit):
    boxes = boxes_needed(debris, density, box, limit)
    assert boxes * box >= debris - 1e-6
    assert boxes * limit >= debris * density - 1e-6
