import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import GeometryFaulty
from estimator.quantity.takeoff.framing import (
    fasteners_lb,
    floor_fasteners,
    grid_posts,
    joists,
    nails_per_lb,
    square_spikes_per_lb,
    strip_flooring_bf,
)
from tests.quantity.shapes import no_dimensions


def test_there_is_a_joist_at_each_end():
    assert joists(12.0, 1.0) == 13.0
    assert joists(12.5, 1.0) == 14.0
    assert joists(12.0, 1.0, extra=2) == 15.0
    assert joists(16.0, 4 / 3) == 13.0


@pytest.mark.parametrize(
    ("length", "width", "posts"), [(60, 40, 4), (60, 20, 0), (61, 41, 10), (10, 10, 0)]
)
def test_posts_stand_where_bays_meet(length, width, posts):
    assert grid_posts(length, width, 12.0, 20.0) == pytest.approx(posts)


def test_flooring_loses_its_tongue():
    assert strip_flooring_bf(650.0, 4.0, 3.25) == 800.0
    assert strip_flooring_bf(650.0, 4.0, 3.25, nominal_thickness_in=2.0) == 1600.0
    assert strip_flooring_bf(650.0, 4.0, 3.25, nominal_thickness_in=0.5) == 800.0
    assert strip_flooring_bf(0.0, 4.0, 3.25) == 0.0


def test_a_face_wider_than_the_strip_is_refused():
    with pytest.raises(GeometryFaulty, match="face_in: is wider than the strip is sold"):
        strip_flooring_bf(100.0, 3.25, 4.0)


def test_every_crossing_takes_its_spikes():
    assert floor_fasteners(600.0, 1.5, 0.5, 2) == 1600.0
    assert floor_fasteners(0.0, 1.5, 0.5, 2) == 0.0


def test_a_thicker_nail_weighs_by_its_square():
    assert nails_per_lb(0.1, 2.0) == pytest.approx(4 * nails_per_lb(0.2, 2.0), rel=1e-12)


def test_a_square_spike_is_four_over_pi_of_a_round_one():
    # half an inch square, 6 in long: 1.5 cu in
    assert square_spikes_per_lb(0.5, 6.0) == pytest.approx(2.351020, rel=1e-6)


def test_nails_are_bought_with_what_is_dropped():
    assert fasteners_lb(1600.0, 40.0) == 40.0
    assert fasteners_lb(1600.0, 40.0, loss_fraction=0.2) == 48.0
    assert fasteners_lb(0.0, 40.0) == 0.0


def test_floors_are_taken_together():
    np.testing.assert_array_equal(joists([12.0, 24.0], 1.0), [13.0, 25.0])
    np.testing.assert_array_equal(strip_flooring_bf([650.0, 0.0], 4.0, 3.25), [800.0, 0.0])


@pytest.mark.parametrize("wrong", no_dimensions)
@pytest.mark.parametrize(
    "count",
    [
        lambda x: joists(x, 1),
        lambda x: grid_posts(1, x, 1, 1),
        lambda x: strip_flooring_bf(x, 4, 3),
        lambda x: floor_fasteners(1, x, 1, 1),
        lambda x: nails_per_lb(x, 1),
        lambda x: square_spikes_per_lb(1, x),
        lambda x: fasteners_lb(1, x),
    ],
)
def test_what_is_no_dimension_frames_no_floor(count, wrong):
    with pytest.raises(GeometryFaulty):
        count(wrong)


@given(st.floats(1, 500), st.floats(0.5, 8))
def test_no_two_joists_stand_farther_apart_than_asked(run, spacing):
    assert run / (joists(run, spacing) - 1) <= spacing + 1e-6


@given(st.floats(0, 1e5), st.floats(1.5, 6), st.floats(0.01, 0.99))
def test_the_strips_bought_cover_the_floor(area, face, at):
    bought = strip_flooring_bf(area, face + 0.75, face)
    assert bought * face / (face + 0.75) == pytest.approx(area, rel=1e-12)
    parts = sum(strip_flooring_bf(area * part, face + 0.75, face) for part in (at, 1 - at))
    assert bought == pytest.approx(parts, rel=1e-9)
