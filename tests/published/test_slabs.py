"""Wire, membranes, joints, laps and forms against trade tables, manuals and the code."""

import pytest

from estimator.quantity.takeoff.bar_lists import lap_length_ft, stock_bars
from estimator.quantity.takeoff.concrete import short_load_cy, slab_cf
from estimator.quantity.takeoff.concrete_parts import thickened_edge_cf
from estimator.quantity.takeoff.forms import wall_form_sf
from estimator.quantity.takeoff.framing import joists
from estimator.quantity.takeoff.slab_accessories import (
    control_joint_lf,
    joint_filler_gal,
    lapped_rolls,
    lapped_sf,
)
from estimator.quantity.takeoff.welded_wire import mesh_lb
from tests.published.source import published


@published(
    source="Source not recorded: trade table of welded wire",
    section="lb per 100 sf by style",
    status="seen",
    note="overhangs and rounding add 4 to 10.2 % to the mesh: a misprinted weight does not pass",
)
@pytest.mark.parametrize(
    ("style", "pounds"),
    [
        ("6x6-W1.4xW1.4", 21), ("6x6-W2.0xW2.0", 29), ("6x6-W2.9xW2.9", 42), ("6x6-W4.0xW4.0", 58),
        ("4x4-W1.4xW1.4", 31), ("4x4-W2.0xW2.0", 43), ("4x4-W2.9xW2.9", 62), ("4x4-W4.0xW4.0", 85),
    ],
)  # fmt: skip
def test_every_weight_of_welded_wire_is_a_little_above_its_mesh(style, pounds):
    spacing, wire = float(style[0]), float(style.split("xW")[-1])
    assert mesh_lb(100, spacing, wire, 0.04) <= pounds <= mesh_lb(100, spacing, wire, 0.103)


@published(
    source="Source not recorded: a college text on estimating in building construction",
    section="rolls 5 ft wide, laps of 6 in and 4 in",
    status="seen",
    note="printed 10 % and almost 6.7 %, which is the lap by the roll; by the floor that the roll "
    "still covers it is 11.1 % and 7.1 %",
)
@pytest.mark.parametrize(
    ("lap_in", "of_roll", "of_floor"), [(6.0, 0.10, 0.111111), (4.0, 0.066667, 0.071429)]
)
def test_a_lap_is_a_tenth_of_the_roll_but_a_ninth_of_the_floor(lap_in, of_roll, of_floor):
    covered_ft = 5.0 - lap_in / 12
    floor_sf = 100.0 * (covered_ft * 1000 + lap_in / 12)
    bought_sf = lapped_sf(100.0, floor_sf / 100, 5.0, lap_in / 12)
    assert lap_in / 12 / 5.0 == pytest.approx(of_roll, abs=1e-6)
    assert bought_sf / floor_sf - 1 == pytest.approx(of_floor, rel=2e-3)


@published(
    source="ASTM E1643, Water Vapor Retarders Under Slabs",
    section="laps of 6 in",
    status="from memory",
    note="the lap is the standard's, the floor ours",
)
def test_a_floor_of_62_by_22_feet_takes_two_rolls_of_twelve_by_a_hundred():
    assert lapped_sf(62.5, 22.0, 12.0, 0.5) == 1500.0
    assert lapped_rolls(62.5, 22.0, 100.0, 12.0, 0.5) == 2.0


@published(
    source="ACI 302.1R and 360R, Slabs on Ground",
    section="joint spacing of 24 to 36 slab thicknesses",
    status="from memory",
    note="30 thicknesses of a 4 in slab are 10 ft; the length of joint is derived",
)
def test_a_slab_of_sixty_by_forty_feet_in_panels_of_ten_has_380_feet_of_joint():
    assert control_joint_lf(60.0, 40.0, 10.0) == 380.0


@published(
    source="NIST Handbook 44, App. C, General Tables of Units of Measurement",
    section="gallon of 231 cu in: 231 / (12 x width x depth) feet",
    status="derived",
)
@pytest.mark.parametrize(
    ("width_in", "depth_in", "feet"),
    [(1 / 4, 1 / 4, 308), (3 / 8, 1 / 4, 205), (1 / 2, 1 / 4, 154), (1 / 2, 1 / 2, 77),
     (3 / 4, 1 / 2, 51)],
)  # fmt: skip
def test_a_gallon_of_sealant_fills_231_cubic_inches_of_joint(width_in, depth_in, feet):
    assert int(1 / joint_filler_gal(1.0, width_in, depth_in)) == feet


@published(
    source="ACI 318-19, Building Code Requirements for Structural Concrete",
    section="25.5.5.1, compression laps 0.0005 fy db, 12 in at least",
    status="from memory",
    note="for counting only: the engineer's drawing gives the lap",
)
@pytest.mark.parametrize(
    ("diameter_in", "lap_in"), [(0.375, 12.0), (0.5, 15.0), (0.625, 18.75), (1.0, 30.0)]
)
def test_compression_laps_of_grade_60_bars_are_30_diameters_or_a_foot(diameter_in, lap_in):
    assert lap_length_ft(diameter_in, 0.0005 * 60_000) * 12 == pytest.approx(lap_in, rel=1e-12)


@published(
    source="ACI 318-19, Building Code Requirements for Structural Concrete",
    section="25.4.2.3 and 25.5.2.1, class B tension laps of small bars in 4,000 psi concrete",
    status="from memory",
    note="1.3 x 60,000 / (25 sqrt(4,000)) = 49.3 diameters, for bars with the code's cover and "
    "spacing; for counting only",
)
def test_a_tension_lap_of_a_number_5_bar_is_31_inches():
    diameters = 1.3 * 60_000 / (25 * 4_000**0.5)
    assert diameters == pytest.approx(49.33, abs=0.005)
    assert lap_length_ft(0.625, diameters) * 12 == pytest.approx(30.83, abs=0.005)


@published(
    source="US Army EN5151, Form Design (edition not recorded)",
    section="number of studs: one more than spaces, the last one at the end",
    status="derived",
    note="spacing 24 in over 28 ft and 14 in over 24 ft were read, the answers worked out",
)
@pytest.mark.parametrize(("feet", "spacing_in", "studs"), [(28.0, 24.0, 15.0), (24.0, 14.0, 22.0)])
def test_a_form_has_a_stud_at_each_end(feet, spacing_in, studs):
    assert joists(feet, spacing_in / 12) == studs


@published(
    source="Source not recorded: a university course on formwork",
    section="wall of 9.5 by 25.33 ft, both faces",
    status="seen",
)
def test_a_wall_of_nine_and_a_half_by_25_feet_has_481_feet_of_form():
    assert round(wall_form_sf(25.33, 9.5)) == 481


@published(
    source="NAVEDTRA 14070, Engineering Aid (edition not recorded)",
    section="ch. 5, slab of a 20 by 32 ft building, with our edge under it",
    status="derived",
    note="a foot wide, 8 in below a 4 in slab: the edge is nearly a third of the slab again",
)
def test_a_thickened_edge_around_a_small_slab_is_a_third_more():
    slab = slab_cf(18.67 * 30.67, 0.33 * 12)
    edge = thickened_edge_cf(2 * (17.67 + 29.67), 12.0, 8.0)
    assert edge == pytest.approx(63.12, abs=1e-9)
    assert edge / slab == pytest.approx(0.334, abs=5e-4)


@published(
    source="Short loads of ready-mix",
    section="charged below four yards",
    status="common practice, no source",
    note="the least load differs from plant to plant, and 21.5 cy come in three even loads: ask",
)
@pytest.mark.parametrize(("ordered_cy", "short_cy"), [(2.5, 1.5), (4.0, 0.0), (21.5, 0.0)])
def test_a_load_of_less_than_four_yards_is_short(ordered_cy, short_cy):
    assert short_load_cy(ordered_cy, 10.0, 4.0) == short_cy


@published(
    source="Bar bending lists",
    section="pieces of 6 ft 6 in out of 20 ft bars",
    status="common practice, no source",
    note="31 pieces are 201.5 ft, which would fit 10.1 bars; each bar gives three pieces",
)
def test_31_pieces_of_six_and_a_half_feet_take_eleven_bars():
    assert stock_bars(31, 6.5, 20.0) == 11.0
