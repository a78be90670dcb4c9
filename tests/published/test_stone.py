"""Densities of stone, wet and dry, and debris by rule, against state and federal tables."""

import pytest

from estimator.quantity.takeoff.debris import element_debris_cf, house_debris_cy
from estimator.quantity.takeoff.soil import COMMON_EARTH, State
from estimator.quantity.takeoff.stated_volume import StatedVolume
from estimator.quantity.takeoff.stone import fill_lb
from tests.published.source import published

STATE_WEIGHTS = (
    "California Department of Resources Recycling and Recovery, Weights and Volumes for Project "
    "Estimates (undated page)"
)


@published(
    source=STATE_WEIGHTS,
    section="gravel or crushed stone, 2,600 lb per loose cy, 20 % more when wet",
    status="seen",
)
def test_a_yard_of_crushed_stone_is_1_30_tons_dry_and_1_56_wet():
    assert fill_lb(27.0, 2600 / 27) / 2000 == pytest.approx(1.30, rel=1e-12)
    wet_lb = fill_lb(27.0, 2600 / 27, moisture_fraction=0.20)
    assert wet_lb / 2000 == pytest.approx(1.56, rel=1e-12)


@published(
    source="Source not recorded: a state highway manual for the 2003 specifications, rev. 2-16-04",
    section="sec. 109.12, p. 100-140G, example III: 958.5 cy of aggregate at 1.406 tons",
    status="seen",
    note="paid as 1,348 tons",
)
def test_958_yards_of_weighed_aggregate_are_1348_tons():
    tons = fill_lb(958.5 * 27, 1.406 * 2000 / 27) / 2000
    assert tons == pytest.approx(1347.651, abs=1e-3)
    assert round(tons) == 1348


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
    source="FEMA 329, Debris Estimating Field Guide (September 2010)",
    section="buildings and residences: L x W x S x 0.20 x 1.3, 2,000 sf, medium cover",
    status="seen",
)
def test_a_house_of_2000_feet_among_trees_is_520_yards_of_debris():
    assert house_debris_cy(2000.0, 1.3) == 520.0


@published(
    source=STATE_WEIGHTS,
    section="construction debris, asphalt or concrete, loose: 2,400 lb per cy",
    status="derived",
    note="solid at 150 lb/cf, 4,050 lb/cy: a yard of it makes 1.69 yards of debris",
)
def test_broken_concrete_fills_two_thirds_more_than_its_place():
    bulking = 4050 / 2400 - 1
    assert element_debris_cf(27.0, bulking) / 27 == pytest.approx(1.6875, rel=1e-12)
