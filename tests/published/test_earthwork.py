"""Volumes of cuts, fills and heaps against handbooks and older mathematics than those."""

import numpy as np
import pytest

from estimator.quantity.measures import read_measure
from estimator.quantity.takeoff.heaps_and_pits import cone_at_repose_cf, cone_cf, pit_cf, trench_cf
from estimator.quantity.takeoff.spot_depths import mean_spot_depth
from estimator.quantity.takeoff.volumes import (
    average_end_area_cf,
    end_pyramid_cf,
    prism_cf,
    prismoidal_cf,
    two_depth_cf,
)
from estimator.quantity.units import unit
from tests.published.source import published

VOSE = "Vose, Handbook of Railroad Construction (1857)"


@published(
    source="Source not recorded: a handbook of engineering calculations",
    section="earthwork by the prismoidal formula",
    status="seen",
    note="its printed expression for the middle area lost a digit; the metric area confirms 1,860",
)
def test_a_prismoid_of_1504_1860_and_2240_square_feet_is_6904_yards():
    assert prismoidal_cf(1504, 1860, 2240, 100) / 27 == pytest.approx(6903.7037, abs=1e-4)


@published(
    source="Source not recorded: a handbook of engineering calculations",
    section="earthwork by the prismoidal formula, same data",
    status="derived",
)
def test_averaging_its_end_areas_alone_would_give_6933_yards():
    assert average_end_area_cf([0, 100], [1504, 2240]) / 27 == pytest.approx(6933.3333, abs=1e-4)


@published(
    source=VOSE,
    section="art. 108, base 20 ft, slopes 1 1/2 to 1",
    status="seen",
    note="printed 56,200 from mean areas in whole feet (69, 244, 493, 318); exactly 56,250",
)
def test_a_peaked_cut_by_average_end_areas_is_56250_cubic_feet():
    # end areas d (20 + 1.5 d) for depths 0, 5, 10, 15, 0 ft
    volume = average_end_area_cf([0, 50, 100, 150, 200], [0, 137.5, 350, 637.5, 0])
    assert volume == 56_250.0


@published(
    source=VOSE,
    section="art. 108, same data by the prismoidal formula",
    status="derived",
    note="averaging overstates this cut by 7.1 %",
)
def test_the_same_cut_by_the_prismoidal_rule_is_52500_cubic_feet():
    ends = np.array([0, 137.5, 350, 637.5, 0])
    middles = np.array([59.375, 234.375, 484.375, 234.375])  # depths 2.5, 7.5, 12.5, 7.5 ft
    volumes = prismoidal_cf(ends[:-1], middles, ends[1:], 50.0)
    assert float(np.sum(volumes)) == pytest.approx(52_500.0, rel=1e-12)


@published(
    source="Source not recorded: a state mining regulator's take-off sheet",
    section="area by depth, 4.65 acre by 1 ft",
    status="seen",
)
def test_a_foot_of_earth_over_a_mined_field_is_7502_yards():
    area_sf = read_measure("4.65 acre", unit("sf")).base_value
    assert prism_cf(area_sf, 1.0, 1.0) / 27 == pytest.approx(7502.0, abs=1e-9)


@published(
    source="NIST Handbook 44, App. C, General Tables of Units of Measurement",
    section="43,560 sq ft to the acre, 27 cu ft to the cubic yard",
    status="derived",
)
def test_an_acre_ten_feet_high_is_16133_yards():
    area_sf = read_measure("1 acre", unit("sf")).base_value
    assert two_depth_cf(area_sf, 10.0, 10.0) / 27 == pytest.approx(16_133.33, abs=0.01)


@published(
    source="Source not recorded: table of conical stockpiles",
    section="conical piles, 37 degree slope",
    status="seen",
    note="printed to 5 yards: up to 0.5 % off",
)
@pytest.mark.parametrize(
    ("diameter", "height", "exact", "printed"),
    [
        (39.83, 15.0, 230.737, 230),
        (53.00, 20.0, 544.737, 545),
        (66.30, 25.0, 1065.545, 1065),
        (106.00, 40.0, 4357.893, 4370),
        (132.66, 50.0, 8532.079, 8540),
        (159.16, 60.0, 14737.505, 14755),
    ],
)
def test_a_conical_stockpile_is_pi_twelfths_of_d_squared_h(diameter, height, exact, printed):
    volume_cy = cone_cf(diameter, height) / 27
    assert volume_cy == pytest.approx(exact, abs=1e-3)
    assert volume_cy == pytest.approx(printed, rel=0.005)


@published(
    source="Source not recorded: table of conical stockpiles",
    section="conical piles, 37 degree slope, diameter alone",
    status="derived",
    note="tan 37 degrees x 26.5 ft is 19.97 ft, printed 20",
)
def test_a_stockpile_at_its_angle_of_repose_needs_no_height():
    assert cone_at_repose_cf(53.0, 37.0) / 27 == pytest.approx(543.897, abs=1e-3)


@published(
    source="Source not recorded: building construction text, c. 1900",
    section="estimate of excavation, 1,740.2 sf by 6.5 ft",
    status="seen",
)
def test_a_cellar_of_1740_square_feet_is_11311_cubic_feet():
    assert two_depth_cf(1740.2, 6.5, 6.5) == pytest.approx(11_311.3, rel=1e-12)


@published(
    source="NAVEDTRA 14081, Equipment Operator (edition not recorded)",
    section="fig. 15-21, cubic yards between two cross sections",
    status="seen",
    note="its factor 1.85 per 100 ft is 50/27 = 1.85185 cut short: it prints 1,480, 0.1 % low",
)
def test_two_cross_sections_a_hundred_feet_apart_take_fifty_twenty_sevenths():
    volume_cy = average_end_area_cf([0, 250], [120, 200]) / 27
    assert volume_cy == pytest.approx(1481.4815, abs=1e-4)


@published(
    source="Fundamentals of Transportation (Wikibooks)",
    section="Earthwork, solution",
    status="seen",
    note="the book counts in metric; the rules know no unit",
)
def test_cut_and_fill_that_run_out_take_pyramids_at_their_ends():
    fill = average_end_area_cf([0, 50, 75, 100], [60, 50, 25, 5]) + end_pyramid_cf(5, 15)
    cut = end_pyramid_cf(10, 25) + average_end_area_cf([100, 115, 150], [10, 15, 30])
    assert fill == 4087.5
    assert cut == pytest.approx(1058.333, abs=1e-3)
    assert fill - cut == pytest.approx(3029.167, abs=1e-3)


@published(
    source="Moscow Mathematical Papyrus (c. 1850 BC)",
    section="problem 14, a truncated pyramid",
    status="from memory",
)
def test_a_pit_six_deep_four_above_and_two_below_is_56():
    assert pit_cf(2.0, 2.0, 6.0, side_slope=1 / 6) == pytest.approx(56.0, rel=1e-12)


@published(
    source="Euclid, Elements",
    section="book XII, proposition 7",
    status="from memory",
    note="every pyramid is a third of its prism",
)
def test_a_pit_sounded_as_an_upturned_pyramid_is_a_third_of_its_box():
    surface = mean_spot_depth([0, 30, 30, 0, 15], [0, 0, 20, 20, 10], [0, 0, 0, 0, 6])
    assert surface.volume_cf == pytest.approx(1200.0, rel=1e-12)


@published(
    source="scipy, LinearNDInterpolator",
    section="scipy.interpolate",
    status="derived",
    note="sampled over 90,000 points of the plan; no four of its spots stand on one circle",
)
def test_a_sounded_surface_is_the_one_that_linear_interpolation_stretches():
    from scipy.interpolate import LinearNDInterpolator

    x = np.array([0.0, 62.5, 60.0, 1.5, 21.0, 40.5, 33.0, 12.0])
    y = np.array([0.0, 1.0, 29.0, 31.0, 11.0, 17.5, 4.0, 22.0])
    depth = np.array([1.0, 7.25, 6.0, 2.0, 3.5, 5.25, 4.0, 2.5])
    across, down = np.meshgrid(
        (np.arange(300) + 0.5) * 62.5 / 300, (np.arange(300) + 0.5) * 31 / 300
    )
    sampled = LinearNDInterpolator(np.column_stack([x, y]), depth)(across, down)
    surface = mean_spot_depth(x, y, depth)
    assert surface.mean_depth_ft == pytest.approx(float(np.nanmean(sampled)), rel=1e-3)
    assert surface.area_sf == pytest.approx(
        np.count_nonzero(~np.isnan(sampled)) * 62.5 * 31 / 90_000, rel=2e-3
    )


@published(
    source="29 CFR 1926 Subpart P, App. B",
    section="fig. B-1, slope 1 1/2 to 1 (type C soil)",
    status="from memory",
    note="the regulation gives the slope; the volume is derived. A competent person classifies "
    "the soil",
)
def test_a_trench_at_one_and_a_half_to_one_is_five_and_a_half_times_its_upright_self():
    assert trench_cf(10.0, 2.0, 6.0) == 120.0
    assert trench_cf(10.0, 2.0, 6.0, side_slope=1.5) == 660.0
