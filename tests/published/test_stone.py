"""Densities of stone, wet and dry, and debris by rule, against state tables."""

import pytest

from estimator.quantity.takeoff.debris import element_debris_cf, house_debris_cy
from estimator.quantity.takeoff.soil import COMMON_EARTH, State
from estimator.quantity.takeoff.stated_volume import StatedVolume
from estimator.quantity.takeoff.stone import (
    fill_lb,
    shrinkage_fraction,
    swell_fraction,
    wet_density,
)
from tests.published.source import published


@published(
    source="State waste agency, table of weights and volumes",
    section="crushed stone, 2,600 lb per loose cy, 20 % more when wet",
    status="seen",
)
def test_a_yard_of_crushed_stone_is_1_30_tons_dry_and_1_56_wet():
    assert fill_lb(27.0, 2600 / 27) / 2000 == pytest.approx(1.30, rel=1e-12)
    assert wet_density(1.30, 0.20) == pytest.approx(1.56, rel=1e-12)


@published(
    source="State highway construction manual, 2003 specifications",
    section="sec. 109, 958.5 cy of aggregate at 1.406 tons",
    status="seen",
    note="paid as 1,348 tons",
)
def test_958_yards_of_weighed_aggregate_are_1348_tons():
    tons = fill_lb(958.5 * 27, 1.406 * 2000 / 27) / 2000
    assert tons == pytest.approx(1347.651, abs=1e-3)
    assert round(tons) == 1348


@published(
    source="Civil engineering exercise on soil weights",
    section="swell and shrinkage as shares",
    status="seen",
)
def test_earth_of_2800_pounds_swells_22_percent_and_shrinks_14():
    assert round(swell_fraction(2800.0, 2295.0), 2) == 0.22
    assert round(shrinkage_fraction(2800.0, 3256.0), 2) == 0.14


@published(
    source="US Army FM 5-434, Earthmoving Operations (2000)",
    section="Table 1-1, adding loose to bank without conversion",
    status="derived",
    note="100 bank and 100 loose yards of common earth are 180 in the bank, not 200",
)
def test_a_hundred_loose_yards_in_a_heap_are_eighty_in_the_bank():
    bank = StatedVolume(100.0, State.BANK, COMMON_EARTH)
    heap = StatedVolume(100.0, State.LOOSE, COMMON_EARTH)
    assert (bank + heap.in_state(State.BANK)).volume_cy == 180.0


@published(
    source="FEMA 325 and 329, Debris Estimating Field Guide",
    section="one-family house of 2,000 sf, medium cover",
    status="seen",
)
def test_a_house_of_2000_feet_among_trees_is_520_yards_of_debris():
    assert house_debris_cy(2000.0, 1.3) == 520.0


@published(
    source="State and city tables of debris densities",
    section="broken concrete, 0.9 to 1.2 tons a yard",
    status="derived",
    note="solid at 150 lb/cf: a yard of it makes 1.7 to 2.25 yards of debris",
)
@pytest.mark.parametrize(("broken_ton_per_cy", "times"), [(1.2, 1.6875), (0.9, 2.25)])
def test_broken_concrete_fills_up_to_twice_its_place(broken_ton_per_cy, times):
    bulking = 150 * 27 / 2000 / broken_ton_per_cy - 1
    assert element_debris_cf(27.0, bulking) / 27 == pytest.approx(times, rel=1e-12)
