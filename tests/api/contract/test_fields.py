"""Strict fields: money and quantities as decimal texts, and nothing that merely looks like them."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime
from decimal import Decimal

import marshmallow as ma
import pytest
from hypothesis import given
from hypothesis import strategies as st

from api.contract.fields import (
    Choice,
    Day,
    DecimalText,
    Figure,
    Fraction,
    Id,
    Moment,
    Money,
    Quantity,
    RatePerUnit,
    Whole,
    WholeInQuery,
    Words,
)


def refused(field, value):
    with pytest.raises(ma.ValidationError) as caught:
        field.deserialize(value)
    return caught.value.messages[0]


@pytest.mark.parametrize("text", ["0", "0.00", "12.5", "12.50", "999999999.99"])
def test_money_is_dollars_and_cents(text):
    assert Money().deserialize(text) == Decimal(text)


LOOKALIKES = [
    "1_000", " 1.5", "1.5 ", "1.5\n", "１２", "١٢", "1E+2", "1e5", "NaN", "Infinity", "+1",
    "01", "1.", ".5", "1,000", "$1", "0x1", "1.234", "1000000000", "", "-0",
]  # fmt: skip


def test_an_amount_below_zero_is_called_so():
    assert refused(Money(), "-1") == "is below zero; write it without a minus"


@pytest.mark.parametrize("text", ["--1", "-", "+1", "- 1", "1-"])
def test_an_amount_of_either_sign_has_one_minus_at_most(text):
    signed = DecimalText(9, 2, least=None)
    assert signed.deserialize("-1.50") == Decimal("-1.50")
    assert refused(signed, text).startswith("is not a decimal number")


@pytest.mark.parametrize("text", LOOKALIKES)
def test_what_merely_looks_like_money_is_refused(text):
    assert refused(Money(), text) == (
        'is not a decimal number; write up to 9 digits and 2 decimals, as "12.50"'
    )


@pytest.mark.parametrize("value", [1, 12.5, Decimal("12.50"), True, [], {}])
def test_a_bare_number_is_refused_as_such(value):
    expected = "is a bare number" if isinstance(value, int | Decimal) else "is not a decimal number"
    assert refused(Money(), value).startswith("is not a decimal" if value is True else expected)


def test_bounds_are_reported():
    assert refused(Fraction(), "1.01") == "is too large; 1 is the most"
    assert refused(Quantity(above="0"), "0.000") == "is too small; it must be above 0"
    assert refused(Quantity(least="2"), "1.99") == "is too small; 2 is the least"
    assert RatePerUnit().deserialize("0.0001") == Decimal("0.0001")
    assert refused(RatePerUnit(), "0.00001").startswith("is not a decimal number")


@given(st.text(max_size=20))
def test_the_pattern_of_the_specification_is_the_rule_of_the_code(text):
    field = Money()
    fits = re.search(field.pattern, text) is not None and not text.endswith("\n")
    try:
        field.deserialize(text)
    except ma.ValidationError:
        assert not fits
    else:
        assert fits


@given(st.decimals(allow_nan=False, allow_infinity=False, places=4))
def test_a_figure_comes_back_without_powers_of_ten(value):
    text = Figure().serialize("x", {"x": value})
    assert Decimal(text) == value
    assert re.fullmatch(r"-?[0-9]+([.][0-9]+)?", text)


@given(st.floats(allow_nan=False, allow_infinity=False, min_value=-1e15, max_value=1e15))
def test_a_float_comes_back_as_exactly_that_float(value):
    assert float(Figure().serialize("x", {"x": value})) == value


@pytest.mark.parametrize("text", ["a", " a ", "Ünïcode, 中文 😀", "a" * 10])
def test_words_are_kept_as_they_are(text):
    assert Words(10 if len(text) <= 10 else 40).deserialize(text) == text


@pytest.mark.parametrize(
    ("value", "told"),
    [
        ("", "has 0 letters; 1 to 5 are taken"),
        ("abcdef", "has 6 letters; 1 to 5 are taken"),
        ("   ", "is blank"),
        ("a\nb", "has control characters; type the text again, on one line"),
        ("a\x00", "has control characters; type the text again, on one line"),
        ("\x85", "has control characters; type the text again, on one line"),
        ("\ud800", "has control characters; type the text again, on one line"),
        (5, "is not text; write it in quotes"),
        (["a"], "is not text; write it in quotes"),
    ],
)
def test_words_of_another_kind_are_refused(value, told):
    assert refused(Words(5), value) == told


def test_a_choice_names_the_nearest_word():
    assert refused(Choice("owner", "lender"), "ower") == "is not known; did you mean 'owner'?"
    assert refused(Choice("owner", "lender"), ["owner"]).startswith("is not known")


@pytest.mark.parametrize("value", [True, "5", 5.0, Decimal(5), 0, 11, None, [5]])
def test_a_whole_number_is_an_integer_within_bounds(value):
    told = refused(Whole(1, 10), value)
    assert told == (
        "is null; leave it out, or give a value"
        if value is None
        else "is not right; give a whole number from 1 to 10"
    )


@pytest.mark.parametrize("text", ["", "05", "+5", "5.0", "５", "11", "9" * 30, " 5"])
def test_a_whole_number_in_a_query_is_plain_digits(text):
    assert WholeInQuery(1, 10).deserialize("5") == 5
    assert refused(WholeInQuery(1, 10), text).startswith("is not right")


@pytest.mark.parametrize(
    "value", ["2026-3-2", "2026-02-30", "20260302", "1899-12-31", "2200-01-01", 20260302, None, "x"]
)
def test_a_day_is_written_in_one_way(value):
    assert Day().deserialize("2026-03-02") == date(2026, 3, 2)
    assert refused(Day(), value)


def test_a_moment_is_written_in_utc():
    at = datetime.fromisoformat("2026-03-02T09:30:00+02:00")
    assert Moment().serialize("at", {"at": at}) == "2026-03-02T07:30:00Z"
    assert Moment().serialize("at", {"at": datetime(2026, 3, 2, tzinfo=UTC)}).endswith("00Z")
    assert Moment().serialize("at", {"at": None}) is None


def test_an_id_is_written_as_answers_tell_it():
    text = "3f1c0a52-6f0e-4b1d-9a66-1906a0000002"
    assert str(Id().deserialize(text)) == text
    strange = [text.upper(), text.replace("-", ""), f"{{{text}}}", f"urn:uuid:{text}", f"{text}\n"]
    for other in [*strange, "", 7, True, [text], {}]:
        assert refused(Id(), other) == "is not an id; copy the id from an answer"
