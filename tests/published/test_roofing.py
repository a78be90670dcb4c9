"""Roofing squares against building trades texts and slaters' tables."""

import pytest

from estimator.quantity.dimensions import whole_count
from estimator.quantity.measures import read_measure
from estimator.quantity.roofing import shingles_per_square
from estimator.quantity.units import unit
from tests.published.source import published


@published(
    source="Building Trades Pocketbook, c. 1900",
    section="roofing, shingles",
    status="seen",
)
def test_shingles_five_inches_to_the_weather_are_720_to_a_square():
    assert shingles_per_square(5.0, 4.0) == 720.0


@published(
    source="Wood shingles by exposure",
    section="table of 4 in shingles a square",
    status="from memory",
)
@pytest.mark.parametrize(
    ("exposure_in", "number"), [(4.0, 900), (4.5, 800), (5.0, 720), (5.5, 655), (6.0, 600)]
)
def test_shingles_a_square_fall_with_what_shows(exposure_in, number):
    assert whole_count(shingles_per_square(exposure_in)) == number


@published(
    source="Slaters' table, 3 in head lap",
    section="exposure = (length - 3) / 2, slates a square",
    status="from memory",
)
@pytest.mark.parametrize(
    ("length_in", "width_in", "number"),
    [(24, 12, 115), (22, 11, 138), (20, 10, 170), (18, 9, 214), (16, 8, 277)],
)
def test_slates_a_square_follow_from_their_head_lap(length_in, width_in, number):
    assert whole_count(shingles_per_square((length_in - 3) / 2, width_in)) == number


@published(
    source="Roofing square",
    section="100 square feet",
    status="common practice, no source",
)
def test_a_roof_of_forty_by_sixty_two_and_a_half_feet_is_25_squares():
    assert read_measure("2,500 sf", unit("square")).in_unit(unit("square")) == 25
