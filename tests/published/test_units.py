"""Units of measure against the exact yard and pound, and against a general-purpose library."""

from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING

import pytest

from estimator.errors import MeasureFaulty
from estimator.quantity.measures import read_measure
from estimator.quantity.units import unit
from tests.published.source import published

if TYPE_CHECKING:
    import pint

NIST_SP_811 = "NIST SP 811, Guide for the Use of the SI (2008)"


@cache
def oracle_registry() -> "pint.UnitRegistry":
    import pint

    return pint.UnitRegistry()


@published(source=NIST_SP_811, section="App. B: yard and pound, exact", status="derived")
@pytest.mark.parametrize(
    ("one", "other", "factor"),
    [
        ("1 ft", "m", "0.3048"),
        ("1 in", "mm", "25.4"),
        ("1 yd", "m", "0.9144"),
        ("1 mile", "m", "1609.344"),
        ("1 sq ft", "sq m", "0.09290304"),
        ("1 acre", "sq m", "4046.8564224"),
        ("1 cu ft", "cu m", "0.028316846592"),
        ("1 cu yd", "cu m", "0.764554857984"),
        ("1 gal", "liter", "3.785411784"),
        ("1 bf", "cu m", "0.002359737216"),
        ("1 lb", "kg", "0.45359237"),
        ("1 ton", "kg", "907.18474"),
    ],
)
def test_customary_units_are_exact_multiples_of_metric_ones(one, other, factor):
    assert read_measure(one, unit(other)).in_unit(unit(other)) == Fraction(factor)


@published(
    source="NIST Handbook 44, App. C, General Tables of Units of Measurement",
    section="sec. 2 and 4",
    status="from memory",
)
@pytest.mark.parametrize(
    ("one", "other", "number"),
    [
        ("1 gal", "cu in", 231),
        ("1 cu yd", "cu ft", 27),
        ("1 acre", "sq ft", 43_560),
        ("1 mile", "ft", 5_280),
        ("1 ton", "lb", 2_000),
        ("1 cwt", "lb", 100),
        ("1 sq yd", "sq ft", 9),
    ],
)
def test_customary_units_are_whole_multiples_of_each_other(one, other, number):
    assert read_measure(one, unit(other)).in_unit(unit(other)) == number


@published(
    source="Griffith, Carpentry (1916)",
    section="sec. 77, estimating lumber quantities",
    status="seen",
)
def test_a_board_foot_is_a_foot_by_a_foot_by_an_inch():
    assert read_measure("1 bf", unit("cu in")).in_unit(unit("cu in")) == 144
    assert read_measure("1 mbf", unit("bf")).in_unit(unit("bf")) == 1000


@published(
    source="pint, default unit registry",
    section="default_en.txt",
    status="derived",
    note="the oracle counts in floats, the house in fractions: equal within 1e-12",
)
@pytest.mark.parametrize(
    ("house", "oracle", "base"),
    [
        ("in", "inch", "foot"),
        ("yd", "yard", "foot"),
        ("mile", "mile", "foot"),
        ("m", "meter", "foot"),
        ("cm", "centimeter", "foot"),
        ("mm", "millimeter", "foot"),
        ("sy", "yard ** 2", "foot ** 2"),
        ("sq in", "inch ** 2", "foot ** 2"),
        ("sq m", "meter ** 2", "foot ** 2"),
        ("cy", "yard ** 3", "foot ** 3"),
        ("cu in", "inch ** 3", "foot ** 3"),
        ("gal", "gallon", "foot ** 3"),
        ("bf", "board_foot", "foot ** 3"),
        ("cu m", "meter ** 3", "foot ** 3"),
        ("liter", "liter", "foot ** 3"),
        ("ton", "short_ton", "pound"),
        ("kg", "kilogram", "pound"),
        ("tonne", "metric_ton", "pound"),
        ("cwt", "US_hundredweight", "pound"),
        ("min", "minute", "hour"),
        ("sec", "second", "hour"),
        ("week", "week", "day"),
        ("ton/cy", "short_ton / yard ** 3", "pound / foot ** 3"),
        ("lb/sf", "pound / foot ** 2", "pound / foot ** 2"),
    ],
)
def test_a_general_purpose_library_has_the_same_units(house, oracle, base):
    factor = oracle_registry().Quantity(1.0, oracle).to(base).magnitude
    assert float(unit(house).factor) == pytest.approx(factor, rel=1e-12)


@published(
    source="pint, default unit registry",
    section="default_en.txt, US survey units",
    status="derived",
    note="its acre still stands on the US survey foot, 2 parts in a million longer, which NIST "
    "retired at the end of 2022 (from memory); ours on the international foot",
)
def test_an_acre_of_the_international_foot_is_four_millionths_below_the_survey_acre():
    survey = oracle_registry().Quantity(1.0, "acre").to("foot ** 2").magnitude
    assert survey == pytest.approx(43_560.174240522705, rel=1e-12)
    assert unit("acre").factor == 43_560


@published(
    source=NIST_SP_811,
    section="App. B: pound, exact",
    status="derived",
    note="an offer per tonne looks a tenth dearer than the same stone per ton",
)
def test_a_price_per_tonne_is_nine_tenths_of_it_per_ton():
    price = read_measure("$40 / tonne", unit("$/ton")).in_unit(unit("$/ton"))
    assert price == Fraction("36.2873896")


@published(
    source="NIST Handbook 44, App. C, General Tables of Units of Measurement",
    section="gallon of 231 cu in: 1,728 / 231 gallons to the cubic foot",
    status="derived",
    note="ready-mix lessons print 7.5 gallons to the cubic foot, 0.26 % more than there are",
)
def test_a_cubic_foot_holds_seven_and_a_half_gallons_nearly():
    held = read_measure("1 cf", unit("gal")).in_unit(unit("gal"))
    assert held == Fraction(576, 77)
    assert float(held) == pytest.approx(7.480519, abs=1e-6)


@published(
    source="Source not recorded: building trades manuals, c. 1900 to 1916",
    section="measurement of stonework",
    status="seen",
    note="24.75, 22 or 25 cubic feet, depending on the place: not a unit",
)
def test_a_perch_of_stone_is_refused():
    with pytest.raises(MeasureFaulty, match=r"22, 24\.75 or 25 cubic feet"):
        read_measure("3 perch", unit("cy"))


@published(
    source="Carpenter's table of inches in decimals of a foot",
    section="inches and eighths",
    status="common practice, no source",
)
@pytest.mark.parametrize(
    ("written", "decimal_ft"),
    [
        ("1/8 in", "0.0104"),
        ("1 in", "0.0833"),
        ("3 1/2 in", "0.2917"),
        ("6 1/4 in", "0.5208"),
        ("7 5/8 in", "0.6354"),
        ("11 7/8 in", "0.9896"),
    ],
)
def test_inches_are_the_decimals_of_a_foot_that_carpenters_carry(written, decimal_ft):
    assert f"{read_measure(written, unit('ft')).base_value:.4f}" == decimal_ft
