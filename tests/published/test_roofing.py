"""Roofing squares against building trades texts and slaters' tables."""

import pytest

from estimator.quantity.measures import read_measure
from estimator.quantity.takeoff.dimensions import whole_count
from estimator.quantity.takeoff.roofing import (
    hip_factor,
    roof_sf,
    shingles_per_square,
    slates_per_square,
    slope_factor,
)
from estimator.quantity.units import unit
from tests.published.source import published


@published(
    source="Building Trades Pocketbook, c. 1900 (edition and page not recorded)",
    section="roofing, shingles",
    status="seen",
)
def test_shingles_five_inches_to_the_weather_are_720_to_a_square():
    assert shingles_per_square(5.0, 4.0) == 720.0


@published(
    source="Roofing square",
    section="100 square feet",
    status="common practice, no source",
)
def test_a_roof_of_forty_by_sixty_two_and_a_half_feet_is_25_squares():
    assert read_measure("2,500 sf", unit("square")).in_unit(unit("square")) == 25


SLATING = "Building Trades Pocketbook, c. 1900 (edition and page not recorded)"


@published(
    source=SLATING,
    section="slating, table for a 3 in lap",
    status="seen",
    note="printed to the slate, some cut short. Misprints: 9x18 218 for 213, 11x18 171 for 175",
)
@pytest.mark.parametrize(
    ("width_in", "length_in", "printed"),
    [
        (6, 12, 533), (8, 12, 400), (8, 16, 277), (10, 16, 221), (10, 18, 192), (12, 18, 160),
        (14, 20, 121), (12, 20, 141), (12, 22, 126), (14, 22, 108), (12, 24, 114), (16, 24, 86),
    ],
)  # fmt: skip
def test_slates_come_out_as_in_the_table_of_1900(width_in, length_in, printed):
    assert slates_per_square(length_in, width_in) == pytest.approx(printed, abs=0.8)


@published(
    source="Architectural Review and American Builders' Journal (1869), vol. 1",
    section="table of slates, 3 in over-lap",
    status="seen",
    note="its 8x16, 272, is a misprint for 277",
)
@pytest.mark.parametrize(
    ("width_in", "length_in", "printed"),
    [(7, 12, 457), (9, 12, 355), (10, 14, 261), (11, 18, 175), (10, 20, 169), (14, 24, 97)],
)
def test_slates_come_out_as_in_the_table_of_1869(width_in, length_in, printed):
    assert slates_per_square(length_in, width_in) == pytest.approx(printed, abs=1.01)


@published(
    source="Griffith, Carpentry (1916)",
    section="slate roof, 6 by 12 in slates on 16 by 20 ft",
    status="seen",
    note="its table has 377 for 7 by 14 in, where the rule gives 374",
)
def test_a_roof_of_sixteen_by_twenty_feet_takes_1707_small_slates():
    assert whole_count(16 * 20 / 100 * slates_per_square(12.0, 6.0)) == 1707.0


@published(
    source=SLATING,
    section="slating, the rule behind the table: a square over width x (length - lap) / 2",
    status="derived",
)
@pytest.mark.parametrize(("lap_in", "pieces"), [(2.0, 160), (3.0, 170), (4.0, 180)])
def test_a_flatter_roof_with_a_longer_lap_takes_more_slates(lap_in, pieces):
    assert whole_count(slates_per_square(20.0, 10.0, lap_in)) == pieces


@published(
    source="Source not recorded: a worked example of a roof",
    section="1,200 sf of plan at 6 in 12, 10 % waste",
    status="seen",
)
def test_a_plan_of_1200_feet_at_six_in_twelve_is_1342_feet_and_15_squares():
    area = roof_sf(1200.0, 6 / 12)
    assert area == pytest.approx(1341.6, abs=0.05)
    assert area * 1.10 / float(unit("square").factor) == pytest.approx(14.76, abs=0.005)
    assert 12 * slope_factor(6 / 12) == pytest.approx(13.42, abs=0.005)


@published(
    source="Source not recorded: rafter table stamped on framing squares",
    section="length of common and hip rafters per foot of run",
    status="from memory",
)
@pytest.mark.parametrize(
    ("rise_in", "common_in", "hip_in"),
    [(4, 12.65, 17.44), (6, 13.42, 18.00), (8, 14.42, 18.76), (12, 16.97, 20.78)],
)
def test_rafters_are_as_long_as_the_framing_square_says(rise_in, common_in, hip_in):
    assert 12 * slope_factor(rise_in / 12) == pytest.approx(common_in, abs=0.0051)
    assert 12 * hip_factor(rise_in / 12) == pytest.approx(hip_in, abs=0.0051)
