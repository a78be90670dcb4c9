"""Concrete volumes and orders against training manuals and the units of measure."""

import pytest

from estimator.quantity.takeoff.concrete import concrete_order_cy, footing_cf, slab_cf, wall_cf
from estimator.quantity.takeoff.concrete_parts import stepped_footing_cf
from estimator.quantity.takeoff.mortar import cell_grout_cf
from estimator.quantity.takeoff.volumes import coverage_sf_per_cy
from tests.published.source import published

NAVEDTRA_14070 = "NAVEDTRA 14070, Engineering Aid (edition not recorded)"
SECTION = "ch. 5, foundation and slab of a 20 by 32 ft building"


@published(
    source=NAVEDTRA_14070,
    section=SECTION,
    status="seen",
    note="one line is misprinted 133.032; its own total confirms 133.32",
)
@pytest.mark.parametrize(
    ("volume_cf", "printed"),
    [
        (wall_cf(32.00, 2.0, 0.67 * 12) * 2, "85.76"),
        (wall_cf(18.67, 2.0, 0.67 * 12) * 2, "50.04"),
        (footing_cf(33.33, 24.0, 12.0) * 2, "133.32"),
        (footing_cf(17.33, 24.0, 12.0) * 2, "69.32"),
        (slab_cf(18.67 * 30.67, 0.33 * 12), "188.96"),
    ],
)
def test_walls_footings_and_slab_of_a_small_building_come_out_as_printed(volume_cf, printed):
    assert f"{volume_cf:.2f}" == printed


@published(
    source=NAVEDTRA_14070,
    section=SECTION,
    status="seen",
    note="prints 21 cu yd, although 580.14 cf are 21.49: an order rounded down runs short",
)
def test_that_building_with_a_tenth_for_waste_orders_21_and_a_half_yards():
    assert concrete_order_cy(527.40, waste_fraction=0.10) == 21.5
    assert concrete_order_cy(527.40, waste_fraction=0.10, multiple_cy=1.0) == 22.0


@published(
    source="NIST Handbook 44, App. C, General Tables of Units of Measurement",
    section="27 cu ft to the cubic yard: 27 x 12 = 324 sf an inch thick",
    status="derived",
)
@pytest.mark.parametrize(("thickness_in", "area_sf"), [(2.0, 162.0), (4.0, 81.0), (6.0, 54.0)])
def test_a_yard_of_concrete_covers_324_feet_over_its_inches(thickness_in, area_sf):
    assert coverage_sf_per_cy(thickness_in) == area_sf


@published(
    source="NRMCA, Concrete in Practice 8, Discrepancies in Yield",
    section="over-depth of slabs",
    status="seen",
    note="its advice to order 4 to 10 % over plan is the owner's choice, never built in",
)
def test_an_eighth_of_an_inch_under_a_four_inch_slab_is_one_yard_in_32():
    extra_cf = slab_cf(2592.0, 4.125) - slab_cf(2592.0, 4.0)
    assert slab_cf(2592.0, 4.0) / 27 == 32.0
    assert extra_cf / 27 == pytest.approx(1.0, rel=1e-12)


@published(
    source="Griffith, Carpentry (1916)",
    section="estimating concrete, a wall of 10 in by 7 ft by 48 ft",
    status="seen",
)
def test_a_ten_inch_wall_seven_feet_high_and_48_long_is_280_cubic_feet():
    assert wall_cf(48.0, 7.0, 10.0) == 280.0


@published(
    source="Griffith, Carpentry (1916)",
    section="estimating cement mortar, topping of a cellar floor",
    status="seen",
)
def test_an_inch_of_topping_on_24_by_40_feet_is_80_cubic_feet():
    assert slab_cf(24.0 * 40.0, 1.0) == 80.0


@published(
    source="Ready-mix ordering",
    section="half yards, rounded up",
    status="common practice, no source",
)
@pytest.mark.parametrize(("volume_cy", "ordered"), [(3.0, 3.0), (3.01, 3.5), (3.51, 4.0)])
def test_ready_mix_is_ordered_up_to_the_half_yard(volume_cy, ordered):
    assert concrete_order_cy(volume_cy * 27) == ordered


@published(
    source="Surveyor's formula (shoelace): area of a polygon from its coordinates",
    section="a footing with two steps, seen from the side",
    status="derived",
    note="9, 16 and 15 ft long, 1 ft deep, two rises of 2 ft with legs 1 ft thick: 44 sf by 2 ft",
)
def test_a_footing_with_two_steps_is_the_area_of_its_side_by_its_width():
    side = [(0, 0), (9, 0), (9, 2), (25, 2), (25, 4), (40, 4), (40, 5), (24, 5), (24, 3), (8, 3),
            (8, 1), (0, 1)]  # fmt: skip
    twice = sum(x * b - a * y for (x, y), (a, b) in zip(side, side[1:] + side[:1], strict=True))
    assert twice / 2 == 44
    assert stepped_footing_cf(40, 24, 12, 2, 24, 12) == 44 * 2


@published(
    source="NIST Handbook 44, App. C, General Tables of Units of Measurement",
    section="1,728 cubic inches to the cubic foot: cells filled with grout",
    status="derived",
    note="twelve cells of 30 sq in, eight feet high: 34,560 cubic inches; the cell is measured",
)
def test_twelve_cells_of_thirty_square_inches_take_twenty_feet_of_grout():
    assert cell_grout_cf(12, 30, 8) == 12 * 30 * 8 * 12 / 1_728 == 20
