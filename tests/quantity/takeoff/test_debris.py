import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import GeometryFaulty
from estimator.quantity.takeoff.debris import (
    boxes_needed,
    element_debris_cf,
    envelope_debris_cy,
    floor_cut_ft,
    floor_debris_cy,
    house_debris_cy,
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


def test_a_box_is_limited_by_what_is_known_of_it():
    assert boxes_needed(40.0, 0.7, box_cy=20.0) == 2.0
    assert boxes_needed(40.0, 0.7, limit_ton=10.0) == 3.0


def test_a_box_with_neither_limit_is_refused():
    with pytest.raises(GeometryFaulty, match="has neither a volume nor a weight limit"):
        boxes_needed(40.0, 0.7)


def test_a_house_comes_down_with_its_trees():
    assert house_debris_cy(1000.0, 1.5) == 300.0


def test_broken_work_makes_a_larger_heap_and_what_is_kept_makes_none():
    assert element_debris_cf(100.0, 0.5) == 150.0
    assert element_debris_cf(100.0, 0.5, reused_fraction=0.4) == 90.0
    assert element_debris_cf(100.0, 0.0, reused_fraction=1.0) == 0.0
    assert element_debris_cf(0.0, 0.5) == 0.0


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
        lambda x: house_debris_cy(x, 1.3),
        lambda x: element_debris_cf(1, x),
        lambda x: boxes_needed(1, 1, x),
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


@given(st.floats(0, 1e5), st.floats(0, 2), st.floats(0, 1), st.floats(0.01, 0.99))
def test_a_wall_broken_out_in_two_goes_makes_the_same_heap(solid, bulking, kept, at):
    parts = sum(element_debris_cf(solid * part, bulking, kept) for part in (at, 1 - at))
    assert element_debris_cf(solid, bulking, kept) == pytest.approx(parts, rel=1e-9)
