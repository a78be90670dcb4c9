import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from estimator.errors import GeometryFaulty
from estimator.quantity.takeoff.grids import borrow_pit_cf
from estimator.quantity.takeoff.volumes import (
    average_end_area_cf,
    coverage_sf_per_cy,
    end_areas_with_pyramids_cf,
    end_pyramid_cf,
    four_corner_cf,
    prism_cf,
    prismoidal_cf,
    two_depth_cf,
)
from tests.quantity.shapes import areas_sf, depths_ft, feet, no_dimensions


def test_a_prism_is_length_by_width_by_depth():
    assert prism_cf(62.5, 4.0, 3.0) == 750.0


def test_a_tapered_fill_is_its_mean_depth_over_the_area():
    assert two_depth_cf(250.0, 1.0, 7.25) == 1031.25


def test_a_fill_that_runs_out_is_half_a_prism():
    assert two_depth_cf(100.0, 0.0, 3.0) == 150.0


def test_a_fill_of_no_depth_is_no_volume():
    assert two_depth_cf(100.0, 0.0, 0.0) == 0.0


def test_four_corners_take_the_mean_of_their_depths():
    assert four_corner_cf(200.0, [1.0, 2.0, 2.5, 4.5]) == 500.0


def test_many_rectangles_of_four_corners_are_taken_together():
    volumes = four_corner_cf([100.0, 200.0], [[1, 1, 1, 1], [0, 0, 0, 2]])
    np.testing.assert_array_equal(volumes, [100.0, 100.0])


@pytest.mark.parametrize("depths", [2.0, [1.0, 2.0, 3.0], [[1.0], [2.0]]])
def test_other_than_four_corners_are_refused(depths):
    with pytest.raises(GeometryFaulty, match="corner_depths_ft: is not four depths"):
        four_corner_cf(100.0, depths)


def test_end_areas_are_averaged_between_unevenly_spaced_stations():
    assert average_end_area_cf([0, 20, 50, 100], [10, 30, 50, 0]) == 2850.0


@pytest.mark.parametrize(
    ("stations", "areas", "told"),
    [
        ([0, 50, 50], [1, 2, 3], "station_ft: does not rise"),
        ([50, 0], [1, 2], "station_ft: does not rise"),
        ([0], [1], "two stations or more"),
        (0, 1, "two stations or more"),
        ([0, 50], [1, -2], "area_sf: is negative"),
        ([0, 50, 100], [1, 2], "different numbers of values"),
        ([0, 50, 100], [1], "each with its area"),
    ],
)
def test_stations_without_order_or_area_are_refused(stations, areas, told):
    with pytest.raises(GeometryFaulty, match=told):
        average_end_area_cf(stations, areas)


def test_an_end_that_runs_out_to_a_point_is_a_third():
    assert end_pyramid_cf(90.0, 10.0) == 300.0


def test_the_prismoidal_rule_is_exact_for_a_pyramid():
    assert prismoidal_cf(0.0, 22.5, 90.0, 10.0) == 300.0


def test_the_prismoidal_rule_is_exact_for_a_half_ball():
    # radius 3 ft: 18 pi
    assert prismoidal_cf(9 * np.pi, 6.75 * np.pi, 0.0, 3.0) == pytest.approx(56.5486677646, 1e-12)


def test_one_yard_covers_an_inch_over_324_square_feet():
    assert coverage_sf_per_cy(1.0) == 324.0


@pytest.mark.parametrize("wrong", [*no_dimensions, 0.0])
@pytest.mark.parametrize(
    "volume",
    [
        lambda x: prism_cf(x, 1, 1),
        lambda x: two_depth_cf(x, 1, 1),
        lambda x: four_corner_cf(x, [1, 1, 1, 1]),
        lambda x: end_pyramid_cf(1, x),
        lambda x: prismoidal_cf(1, 1, 1, x),
        coverage_sf_per_cy,
    ],
)
def test_no_shape_has_a_side_that_is_nothing(volume, wrong):
    with pytest.raises(GeometryFaulty):
        volume(wrong)


@given(areas_sf, depths_ft, depths_ft)
def test_a_taper_lies_between_its_shallow_and_its_deep_prism(area, near, far):
    volume = two_depth_cf(area, near, far)
    assert area * min(near, far) * (1 - 1e-12) <= volume <= area * max(near, far) * (1 + 1e-12)


@given(areas_sf, depths_ft, depths_ft)
def test_two_end_depths_are_four_corners_in_pairs(area, near, far):
    corners = four_corner_cf(area, [near, near, far, far])
    assert corners == pytest.approx(two_depth_cf(area, near, far), rel=1e-12)


@given(areas_sf, areas_sf, feet)
def test_an_evenly_changing_area_needs_no_prismoidal_rule(first, last, length):
    prismoidal = prismoidal_cf(first, (first + last) / 2, last, length)
    assert average_end_area_cf([0, length], [first, last]) == pytest.approx(prismoidal, rel=1e-9)


@given(feet, feet, feet)
def test_an_array_gives_what_its_numbers_give(length, width, depth):
    together = prism_cf(np.array([length, 1.0]), width, np.array([depth, 2.0]))
    np.testing.assert_array_equal(
        together, [prism_cf(length, width, depth), prism_cf(1.0, width, 2.0)]
    )


def test_a_cut_that_runs_out_at_both_ends_has_pyramids_there():
    assert end_areas_with_pyramids_cf([0, 30, 60, 90], [0, 60, 20, 0]) == 2000.0


def test_between_two_stations_of_nothing_lies_nothing():
    assert end_areas_with_pyramids_cf([0, 50, 100, 160], [0, 0, 0, 30]) == 600.0


@pytest.mark.parametrize(("stations", "areas"), [([0, 50, 50], [1, 2, 3]), ([0], [1])])
def test_pyramids_need_stations_in_order_too(stations, areas):
    with pytest.raises(GeometryFaulty):
        end_areas_with_pyramids_cf(stations, areas)


@given(
    st.lists(st.tuples(feet, st.floats(0.001, 1e4)), min_size=3, max_size=8),
    st.integers(1, 6),
)
def test_sections_cut_at_a_station_are_the_sum_of_their_parts(sections, at):
    assume(at < len(sections) - 1)
    stations = np.cumsum([length for length, _ in sections])
    areas = np.array([area for _, area in sections])
    for volume in (average_end_area_cf, end_areas_with_pyramids_cf):
        parts = volume(stations[: at + 1], areas[: at + 1]) + volume(stations[at:], areas[at:])
        assert volume(stations, areas) == pytest.approx(parts, rel=1e-9)


@given(st.floats(0, 0.5), st.floats(0, 0.5), feet, feet, st.floats(0, 20))
def test_every_method_is_exact_for_an_even_slope(along, across, length, width, corner):
    near, far = corner, corner + along * length
    deep = across * width
    corners = [near, far, far + deep, near + deep]
    exact = length * width * (corner + along * length / 2 + across * width / 2)
    ends = [width * (near + deep / 2), width * (far + deep / 2)]
    volumes = [
        four_corner_cf(length * width, corners),
        two_depth_cf(length * width, near + deep / 2, far + deep / 2),
        prismoidal_cf(ends[0], sum(ends) / 2, ends[1], length),
        average_end_area_cf([0, length], ends),
        borrow_pit_cf([[corners[0], corners[3]], [corners[1], corners[2]]], length, width),
    ]
    assert volumes == pytest.approx([exact] * 5, rel=1e-9, abs=1e-9)


def test_a_four_corner_volume_is_the_integral_of_its_ruled_surface():
    from scipy.integrate import dblquad

    corners = [1.0, 4.0, 2.5, 3.0]  # at (0,0) (30,0) (30,20) (0,20)

    def ruled(y, x):
        u, v = x / 30, y / 20
        near, far = corners[0] * (1 - u) + corners[1] * u, corners[3] * (1 - u) + corners[2] * u
        return near * (1 - v) + far * v

    integral, _ = dblquad(ruled, 0, 30, 0, 20)
    assert four_corner_cf(600.0, corners) == pytest.approx(integral, rel=1e-12)
