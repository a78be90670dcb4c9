"""States of earth and truckloads against field manuals and a textbook exercise."""

import pytest

from estimator.quantity.takeoff.soil import (
    BLASTED_ROCK,
    CLAY,
    COMMON_EARTH,
    SAND_OR_GRAVEL,
    SoilFactors,
    State,
    loads_by_volume,
    loads_by_weight,
    soil_from_weights,
    soil_volume_cy,
)
from estimator.quantity.takeoff.stone import shrinkage_fraction, swell_fraction
from tests.published.source import published

FM_5_434 = "US Army FM 5-434, Earthmoving Operations (2000)"


@published(source=FM_5_434, section="Table 1-1", status="second-hand")
@pytest.mark.parametrize(
    ("soil", "loose", "compacted"),
    [
        (SAND_OR_GRAVEL, 111.0, 95.0),
        (COMMON_EARTH, 125.0, 90.0),
        (CLAY, 143.0, 90.0),
        (BLASTED_ROCK, 150.0, 130.0),
    ],
)
def test_a_hundred_bank_yards_swell_and_shrink_by_their_soil(soil, loose, compacted):
    assert soil_volume_cy(100.0, soil, State.BANK, State.LOOSE) == pytest.approx(loose)
    assert soil_volume_cy(100.0, soil, State.BANK, State.COMPACTED) == pytest.approx(compacted)


@published(
    source=FM_5_434,
    section="Table 1-1, loose to compacted",
    status="derived",
    note="through the bank; two-decimal reciprocals, chained, would drift by half a percent",
)
@pytest.mark.parametrize(
    ("soil", "factor"),
    [
        (SAND_OR_GRAVEL, 0.8559),
        (COMMON_EARTH, 0.7200),
        (CLAY, 0.6294),
        (BLASTED_ROCK, 0.8667),
    ],
)
def test_loose_earth_is_compacted_through_the_bank_without_rounding(soil, factor):
    compacted = soil_volume_cy(1.0, soil, State.LOOSE, State.COMPACTED)
    assert compacted == pytest.approx(factor, abs=5e-5)


EXERCISE = SoilFactors("of the exercise: swell 20 %, shrinkage 25 %", 1.20, 0.75)


@published(
    source="Source not recorded: civil engineering exercise on hauling",
    section="5,400 compacted cy, swell 20 %, shrinkage 25 %",
    status="seen",
)
def test_5400_compacted_yards_are_7200_in_the_bank_and_8640_in_the_truck():
    bank = soil_volume_cy(5400.0, EXERCISE, State.COMPACTED, State.BANK)
    loose = soil_volume_cy(5400.0, EXERCISE, State.COMPACTED, State.LOOSE)
    assert (bank, loose) == (pytest.approx(7200.0), pytest.approx(8640.0))


@published(
    source="Source not recorded: civil engineering exercise on hauling",
    section="trucks of 30 loose cy and 40 tons, 3,000 lb per bank cy",
    status="seen",
)
def test_they_are_288_loads_by_volume_and_270_by_weight():
    loose = soil_volume_cy(5400.0, EXERCISE, State.COMPACTED, State.LOOSE)
    bank = soil_volume_cy(5400.0, EXERCISE, State.COMPACTED, State.BANK)
    assert loads_by_volume(loose, 30.0) == 288.0
    assert loads_by_weight(bank, 3000.0, 40.0) == 270.0


@published(
    source="Source not recorded: civil engineering exercise on soil weights",
    section="2,800 bank, 2,295 loose, 3,256 compacted lb/cy",
    status="seen",
    note="printed as whole percents: swell 22 %, shrinkage 14 %",
)
def test_weights_of_a_soil_give_22_percent_swell_and_14_percent_shrinkage():
    soil = soil_from_weights("of the exercise", 2800.0, 2295.0, 3256.0)
    assert soil.loose - 1 == pytest.approx(0.2200, abs=5e-5)
    assert 1 - soil.compacted == pytest.approx(0.1400, abs=6e-5)
    assert round(swell_fraction(2800.0, 2295.0), 2) == 0.22
    assert round(shrinkage_fraction(2800.0, 3256.0), 2) == 0.14
