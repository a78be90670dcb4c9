"""Measures as a builder writes them, and what is said of those that are none."""

from contextlib import suppress
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import MeasureFaulty
from estimator.quantity.measures import read_measure
from estimator.quantity.units import unit

A_MEASURE = "write a number with its unit, such as '12 ft 6 in' or '1,900 sf'"
A_SUM = "write feet and inches such as '12 ft 6 in', the inches below 12"


@pytest.mark.parametrize(
    ("text", "wanted", "value"),
    [
        ("62 ft 6 in", "ft", "62.5"),
        ("12'-6 1/2\"", "ft", "301/24"),
        ("12' 6\"", "ft", "12.5"),
        ("12'6\"", "ft", "12.5"),
        ("12 feet 6 inches", "ft", "12.5"),
        ("12 ft - 6 in", "ft", "12.5"),
        ("12 ft 0 in", "ft", "12"),
        ("0 ft", "ft", "0"),
        ('4"', "ft", "1/3"),
        ('1/2"', "in", "1/2"),
        ("3-1/2 in", "in", "7/2"),
        ("3 1/2 in", "in", "7/2"),
        ("7/8 in", "in", "7/8"),
        ("5ft", "ft", "5"),
        ("  5   FT. ", "ft", "5"),
        (".5 ft", "ft", "1/2"),
        ("10,000.25 ft", "ft", "40001/4"),
        ("1,234,567 ft", "ft", "1234567"),
        ("1 yd 2 ft 3 in", "ft", "5.25"),
        ("0.5 m", "in", "2500/127"),
        ("2540 mm", "ft", "25/3"),
        ("1,900 sq ft", "sf", "1900"),
        ("1,900 sq. ft.", "sf", "1900"),
        ("5 sq yd", "sf", "45"),
        ("100 ft2", "sf", "100"),
        ("3 squares", "sf", "300"),
        ("18 cy", "cf", "486"),
        ("1 1/2 cubic yards", "cf", "40.5"),
        ("24 bf", "cf", "2"),
        ("2 ton 300 lb", "lb", "4300"),
        ("1.35 ton/cy", "ton/cy", "1.35"),
        ("1.35 tons per cy", "ton/cy", "1.35"),
        ("100 lb/cu ft", "ton/cy", "1.35"),
        ("1 hr 30 min", "hr", "1.5"),
        ("8 hr/day", "hr/day", "8"),
        ("480 min per day", "hr/day", "8"),
        ("2 week 3 day", "day", "17"),
        ("2 months", "week", "8"),
        ("$6,500", "$", "6500"),
        ("$ 12.50", "$", "12.5"),
        ("$40 / ton", "$/ton", "40"),
        ("310 $/day", "$/day", "310"),
        ("310 $ per day", "$/day", "310"),
        ("6,500.25 $", "$", "6500.25"),
        ("3 ea", "ea", "3"),
        ("3 ea", "blade", "3"),
        ("3 blades", "blade", "3"),
        ("3 loads", "ea", "3"),
        ("1 lump sum", "ls", "1"),
        ("70 %", "fraction", "0.7"),
        ("70%", "fraction", "0.7"),
        ("0.7", "fraction", "0.7"),
        ("7/10", "fraction", "0.7"),
        ("12 1/2 %", "fraction", "0.125"),
        ("12\u00bd ft", "ft", "12.5"),
        ("12 \u00be ft", "ft", "12.75"),
        ("5\u2032 3\u2033", "ft", "5.25"),
        ("5\u2019 3\u201d", "ft", "5.25"),
        ("1\u20442 in", "in", "1/2"),
        ("12'\u20136\"", "ft", "12.5"),
        ("5\u00a0ft", "ft", "5"),
        ("9 ft\u00b2", "sf", "9"),
        ("9 m\u00b3", "cu m", "9"),
    ],
)
def test_each_way_of_writing_gives_its_exact_value(text, wanted, value):
    assert read_measure(text, unit(wanted)).in_unit(unit(wanted)) == Fraction(value)


@pytest.mark.parametrize(
    ("text", "wanted", "sentence"),
    [
        ("", "ft", "is empty; write a number with its unit, such as '12 ft 6 in'"),
        ("   ", "ft", "is empty; write a number with its unit, such as '12 ft 6 in'"),
        ("12", "ft", "'12' has no unit; write '12 ft'"),
        (" 12 ", "ton/cy", "' 12 ' has no unit; write '12 ton/cy'"),
        ("3", "ea", "'3' has no unit; write '3 ea'"),
        ("-5 ft", "ft", "'-5 ft' is negative; write it without the minus sign"),
        ("\u20135 ft", "ft", "'\u20135 ft' is negative; write it without the minus sign"),
        ("1/0 ft", "ft", "'1/0' divides by zero"),
        ("1 0/0 ft", "ft", "'1 0/0' divides by zero"),
        ("1e5 ft", "ft", "unknown unit 'e'; did you mean 'ea'?"),
        ("5 sf", "ft", "'5 sf' is an area, not a length; "
         "write it in ft or a unit that converts to it"),
        ("5 hr", "day", "'5 hr' is working time, not calendar time; "
         "write it in day or a unit that converts to it"),
        ("5 ft", "fraction", "'5 ft' is a length, not a count or proportion; "
         "write it in fraction or a unit that converts to it"),
        ("3 blade", "load", "'3 blade' counts blade, not load; write it in load or ea"),
        ("70 %", "ea", "'70 %' is not in ea"),
        ("3 ea", "fraction", "'3 ea' is not in fraction"),
        ("3 blade", "fraction", "'3 blade' is not in fraction"),
        ("2,000,000,000 ft", "ft", "'2,000,000,000 ft' is too large; at most 1,000,000,000"),
        ("3 perch", "cf", "unit 'perch' is ambiguous; "
         "a perch of stone is 22, 24.75 or 25 cubic feet by place; write cf or cy"),
        ("3 t", "ton", "unit 't' is ambiguous; a bare 't' may be a ton or a tonne; "
         "write 'ton' (2,000 lb) or 'tonne' (1,000 kg)"),
        ("3 furlongs", "ft", "unknown unit 'furlongs'; docs/units.md lists the units"),
    ],
)  # fmt: skip
def test_what_is_no_measure_of_that_kind_is_refused_in_a_sentence(text, wanted, sentence):
    with pytest.raises(MeasureFaulty) as refusal:
        read_measure(text, unit(wanted))
    assert str(refusal.value) == sentence


@pytest.mark.parametrize(
    ("text", "wanted", "sentence"),
    [
        ("4,5 ft", "ft", "has a comma where a decimal point belongs; write '4.5 ft'"),
        ("1,90 ft", "ft", "has a comma where a decimal point belongs; write '1.90 ft'"),
        ("$1,5", "$", "has a comma where a decimal point belongs; write '$1.5'"),
        ("43 ft x 40 ft", "sf", "is a multiplication; write '1,720 sf'"),
        ("43 by 40 ft", "sf", "is a multiplication; write '1,720 sf'"),
        ("6'-6\" x 3'", "sf", "is a multiplication; write '19.5 sf'"),
        ("9 ft x 6 ft x 18 in", "cy", "is a multiplication; write '3 cy'"),
        ("43 ft x 40 ft x 4 in", "cy", "is a multiplication; multiply, and write the result in cy"),
        ("43 ft x 40 ft", "cy", "is a multiplication; write a volume, in cy"),
        ("43 ft x 40 ft", "ft",
         "is more than one length; write each under the input that it belongs to"),
        ("2 ft, 6 ft 3 in", "ft",
         "is more than one measure; in a workbook write '2 ft; 6 ft 3 in', "
         "in YAML '[2 ft, 6 ft 3 in]'"),
        ("2 ft; 6 ft 3 in", "ft",
         "is more than one measure; in a workbook write '2 ft; 6 ft 3 in', "
         "in YAML '[2 ft, 6 ft 3 in]'"),
        ("5 ft, 3 in", "ft", "has a mark between feet and inches; write '5 ft 3 in'"),
    ],
)  # fmt: skip
def test_a_slip_of_the_pen_is_answered_with_what_was_meant(text, wanted, sentence):
    with pytest.raises(MeasureFaulty) as refusal:
        read_measure(text, unit(wanted))
    assert str(refusal.value) == f"'{text}' {sentence}"


@pytest.mark.parametrize(
    "text",
    [
        "ft", "nan ft", "inf ft", "NaN", "+5 ft", "1,000,00 ft", "10.000,25 ft", "5. ft",
        "$-5", "\u0663 ft", "\u22125 ft", "5 ft\x00", "=5 ft",
        "__import__('os')", '"', "%",
    ],
)  # fmt: skip
def test_what_is_not_a_number_with_a_unit_is_not_a_measure(text):
    with pytest.raises(MeasureFaulty) as refusal:
        read_measure(text, unit("ft"))
    assert str(refusal.value).endswith(f"is not a measure; {A_MEASURE}")


@pytest.mark.parametrize(
    "text",
    [
        "12 ft 13 in", "12 ft 12 in", "6 in 1 ft", "1 ft 2 lb", "5-6 ft", "1.5.2 ft", "5 ft 3",
        "1 000 ft", "3 ft 3 ft", "3 ft 1 lf", "2 ft 50 cm",
    ],
)  # fmt: skip
def test_what_does_not_add_up_like_feet_and_inches_is_refused(text):
    with pytest.raises(MeasureFaulty) as refusal:
        read_measure(text, unit("ft"))
    assert str(refusal.value) == f"'{text}' does not add up to one measure; {A_SUM}"


@pytest.mark.parametrize("text", ["3 ea 2 ea", "50 % 20 %", "3 load 2 ea"])
def test_counts_and_proportions_have_no_smaller_part(text):
    with pytest.raises(MeasureFaulty, match="does not add up to one measure"):
        read_measure(text, unit("ea"))


def test_a_text_of_more_than_sixty_characters_is_no_measure():
    with pytest.raises(MeasureFaulty) as refusal:
        read_measure("1" * 61, unit("ft"))
    assert str(refusal.value) == f"'{'1' * 60}...' is too long for a measure"


def test_a_measure_keeps_the_text_and_the_first_unit():
    measure = read_measure("12'-6\"", unit("in"))
    assert (measure.text, measure.unit.name, measure.value) == ("12'-6\"", "ft", Fraction("12.5"))
    assert measure.base_value == 12.5


def test_a_measure_is_not_expressed_in_another_dimension():
    with pytest.raises(MeasureFaulty) as refusal:
        read_measure("5 ft", unit("ft")).in_unit(unit("sf"))
    assert str(refusal.value) == "'5 ft' cannot be expressed in sf"


whole_feet = st.integers(0, 5000)
sixteenths = st.integers(0, 12 * 16 - 1)


@given(whole_feet, sixteenths)
def test_feet_inches_and_sixteenths_read_back_exactly(feet, parts):
    inches, rest = divmod(parts, 16)
    expected = feet + Fraction(parts, 192)
    for text in (f"{feet}'-{inches} {rest}/16\"", f"{feet:,} ft {inches} {rest}/16 in"):
        assert read_measure(text, unit("ft")).in_unit(unit("ft")) == expected


@given(st.decimals(0, 10**6, places=4))
def test_decimals_read_back_exactly_with_and_without_commas(number):
    for text in (f"{number} sf", f"{number:,} sq ft"):
        assert read_measure(text, unit("sf")).value == Fraction(number)


@given(st.decimals(0, 10**6, places=3), st.sampled_from(["ft", "in", "yd", "m", "cm", "mm", "lf"]))
def test_a_length_survives_the_way_to_another_unit_and_back(number, name):
    there = read_measure(f"{number} {name}", unit("ft")).in_unit(unit("m"))
    assert there * unit("m").factor / unit(name).factor == Fraction(number)


@given(st.text(max_size=70), st.sampled_from(["ft", "ea", "fraction", "ton/cy", "$"]))
def test_no_text_breaks_the_reader_of_measures(text, wanted):
    with suppress(MeasureFaulty):
        assert read_measure(text, unit(wanted)).value >= 0


@given(st.from_regex(r"\A[0-9.,/ '\"%$ftinmcyea-]{1,30}\Z"))
def test_nothing_made_of_the_signs_of_measures_breaks_the_reader(text):
    with suppress(MeasureFaulty):
        assert read_measure(text, unit("ft")).value >= 0
