"""Demolition debris against federal estimating rules."""

import pytest

from estimator.quantity.takeoff.debris import (
    DEBRIS_CF_PER_SF,
    boxes_needed,
    envelope_debris_cy,
    floor_debris_cy,
)
from tests.published.source import published

UFC = (
    "UFC 1-900-01, Selection of Methods for the Reduction, Reuse, and Recycling of Demolition "
    "Waste (2002)"
)


@published(source=UFC, section="Table 4-1, waste generation by building type", status="seen")
@pytest.mark.parametrize(("kind", "cf_per_sf"), [("wood", 4.5), ("brick", 3.0), ("concrete", 3.0)])
def test_wood_makes_four_and_a_half_feet_of_debris_and_brick_three(kind, cf_per_sf):
    assert DEBRIS_CF_PER_SF[kind] == cf_per_sf


@published(source=UFC, section="Table 4-1, applied to 10,000 sf of floor", status="derived")
@pytest.mark.parametrize(("kind", "debris_cy"), [("brick", 1111.1), ("wood", 1666.7)])
def test_ten_thousand_feet_of_floor_come_down_as_over_a_thousand_yards(kind, debris_cy):
    assert floor_debris_cy(10_000.0, DEBRIS_CF_PER_SF[kind]) == pytest.approx(debris_cy, abs=0.05)


@published(
    source="FEMA 329, Debris Estimating Field Guide (September 2010)",
    section="buildings and residences: outbuildings, L x W x H x 0.33 / 27",
    status="seen",
    note="the rule was read; 100 by 60 by 24 ft is our example",
)
def test_a_building_of_100_by_60_by_24_feet_is_1760_yards_of_debris():
    assert envelope_debris_cy(100.0, 60.0, 24.0) == pytest.approx(1760.0, rel=1e-12)


@published(
    source="Metro solid-waste department, Portland, Resource Efficient Building (1994)",
    section="rubble at 1,400 lb/cy, quoted by North Carolina State University extension (2002)",
    status="derived",
    note="the density was read, for rubble; the box of 20 cy limited to 10 tons is ours",
)
def test_forty_yards_of_brick_fill_two_boxes_but_load_three():
    assert boxes_needed(40.0, 0.15, 20.0, 10.0) == 2.0
    assert boxes_needed(40.0, 0.7, 20.0, 10.0) == 3.0
