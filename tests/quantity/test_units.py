"""Units as docs/units.md lists them."""

from contextlib import suppress
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import MeasureFaulty
from estimator.quantity.units import COUNTS, NO_DIMENSION, dimension_words, unit

WRITTEN_FORMS = {
    "ft": (1, ["ft", "foot", "feet", "'", "FT", "ft.", " ft "]),
    "in": (Fraction(1, 12), ["in", "inch", "inches", '"', "in."]),
    "yd": (3, ["yd", "yard", "yards"]),
    "lf": (1, ["lf", "lin ft", "LF"]),
    "mile": (5280, ["mile", "miles", "mi"]),
    "m": (Fraction(1250, 381), ["m", "meter", "meters", "metre"]),
    "cm": (Fraction(25, 762), ["cm"]),
    "mm": (Fraction(5, 1524), ["mm"]),
    "sf": (1, ["sf", "sq ft", "ft2", "ft^2", "sqft", "sq. ft.", "square feet", "square foot"]),
    "sy": (9, ["sy", "sq yd", "square yards", "yd2"]),
    "sq in": (Fraction(1, 144), ["sq in", "square inches", "in2"]),
    "square": (100, ["square", "squares"]),
    "acre": (43560, ["acre", "acres"]),
    "sq m": (Fraction(1562500, 145161), ["sq m", "m2", "square meters"]),
    "cf": (1, ["cf", "cu ft", "ft3", "cubic feet", "cu. ft."]),
    "cy": (27, ["cy", "cu yd", "yd3", "cubic yard", "CY"]),
    "gal": (Fraction(77, 576), ["gal", "gallon", "gallons"]),
    "bf": (Fraction(1, 12), ["bf", "board foot", "board feet"]),
    "mbf": (Fraction(1000, 12), ["mbf"]),
    "cu m": (Fraction(1953125000, 55306341), ["cu m", "m3", "cubic meters"]),
    "liter": (Fraction(1953125, 55306341), ["liter", "liters", "litre"]),
    "lb": (1, ["lb", "lbs", "pound", "pounds"]),
    "ton": (2000, ["ton", "tons", "Ton"]),
    "tonne": (Fraction(100000000000, 45359237), ["tonne", "tonnes"]),
    "kg": (Fraction(100000000, 45359237), ["kg"]),
    "cwt": (100, ["cwt"]),
    "hr": (1, ["hr", "hour", "hours", "hrs", "h"]),
    "min": (Fraction(1, 60), ["min", "minute", "minutes"]),
    "day": (1, ["day", "days"]),
    "week": (7, ["week", "weeks"]),
    "month": (28, ["month", "months"]),
    "$": (1, ["$", "dollar", "dollars"]),
    "fraction": (1, ["fraction"]),
    "%": (Fraction(1, 100), ["%", "percent"]),
    "ls": (1, ["ls", "lump sum"]),
}

FORMS = [
    (written, name, factor) for name, (factor, forms) in WRITTEN_FORMS.items() for written in forms
]


@pytest.mark.parametrize(("written", "name", "factor"), FORMS)
def test_each_written_form_is_its_unit_exactly(written, name, factor):
    assert unit(written).name == name
    assert unit(written).factor == factor


@pytest.mark.parametrize(
    "count",
    [
        "ea", "load", "trip", "visit", "test", "permit", "blade", "bit", "sheet", "roll", "bag",
        "bar", "brick", "block", "pocket", "post", "box", "ls",
    ],
)  # fmt: skip
def test_counts_are_whole_things_without_dimension(count):
    assert unit(count).is_count
    assert unit(count).factor == 1
    assert unit(count).dimension == NO_DIMENSION


def test_a_proportion_is_no_count():
    assert unit("%").is_proportion
    assert unit("fraction").is_proportion
    assert not unit("%").is_count
    assert not unit("ea").is_proportion


@pytest.mark.parametrize(
    ("written", "name", "factor"),
    [
        ("ton/cy", "ton/cy", Fraction(2000, 27)),
        ("ft/blade", "ft/blade", 1),
        ("hr/day", "hr/day", 1),
        ("lbs / sq ft", "lb/sf", 1),
        ("sf/hr", "sf/hr", 1),
        ("cy/hr/day", "cy/hr/day", 27),
        ("$/ton", "$/ton", Fraction(1, 2000)),
    ],
)
def test_quotients_are_written_with_a_slash(written, name, factor):
    assert unit(written).name == name
    assert unit(written).factor == factor


@pytest.mark.parametrize(
    ("written", "sentence"),
    [
        (
            "perch",
            "unit 'perch' is ambiguous; "
            "a perch of stone is 22, 24.75 or 25 cubic feet by place; write cf or cy",
        ),
        (
            "T",
            "unit 'T' is ambiguous; a bare 't' may be a ton or a tonne; "
            "write 'ton' (2,000 lb) or 'tonne' (1,000 kg)",
        ),
        ("kft", "unknown unit 'kft'; did you mean 'ft'?"),
        ("blede", "unknown unit 'blede'; did you mean 'blade'?"),
        ("radian", "unknown unit 'radian'; docs/units.md lists the units"),
        ("dimensionless", "unknown unit 'dimensionless'; docs/units.md lists the units"),
        ("", "unknown unit ''; docs/units.md lists the units"),
        ("sf/", "unknown unit ''; docs/units.md lists the units"),
        ("ft2/", "unknown unit ''; docs/units.md lists the units"),
        ("ft*ft", "unknown unit 'ft*ft'; docs/units.md lists the units"),
        ("__class__", "unknown unit '__class__'; docs/units.md lists the units"),
        ("ft/ft/ft/ft", "unit 'ft/ft/ft/ft' has too many slashes"),
    ],
)
def test_an_unfit_unit_is_refused_in_a_sentence(written, sentence):
    with pytest.raises(MeasureFaulty) as refusal:
        unit(written)
    assert str(refusal.value) == sentence


@pytest.mark.parametrize(
    ("written", "words"),
    [
        ("in", "a length"),
        ("square", "an area"),
        ("gal", "a volume"),
        ("ton", "a weight"),
        ("min", "working time"),
        ("week", "calendar time"),
        ("$", "money"),
        ("%", "a count or proportion"),
        ("ton/cy", "weight per volume"),
        ("lb/sf", "weight per area"),
        ("lb/ft", "weight per length"),
        ("hr/day", "hours per day"),
        ("sf/hr", "ft**2 * hr**-1"),
        ("$/cy", "ft**-3 * $"),
    ],
)
def test_dimensions_are_said_in_words(written, words):
    assert dimension_words(unit(written).dimension) == words


def test_an_hour_of_work_is_not_a_part_of_a_calendar_day():
    assert unit("hr").dimension != unit("day").dimension
    assert unit("day").dimension.times(unit("hr/day").dimension) == unit("hr").dimension


def test_the_documented_counts_are_all_there_are():
    assert len(COUNTS) == 18


@given(st.text(max_size=30))
def test_no_text_breaks_the_reader_of_units(text):
    with suppress(MeasureFaulty):
        assert unit(text).factor > 0


names = st.sampled_from(sorted(WRITTEN_FORMS))


@given(names, names)
def test_a_quotient_undoes_its_product(first, second):
    quotient = unit(f"{first}/{second}")
    assert quotient.factor * unit(second).factor == unit(first).factor
    assert quotient.dimension.times(unit(second).dimension) == unit(first).dimension
