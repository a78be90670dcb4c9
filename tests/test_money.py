"""One sum of money: rounding, splitting, printing."""

import subprocess
import sys
from dataclasses import dataclass
from decimal import Decimal, localcontext
from functools import cached_property

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator import money
from estimator.errors import AmountFaulty, AmountTooLarge
from estimator.money import (
    apportion,
    dollars,
    exact_arithmetic,
    fixed_point,
    money_text,
    rate_text,
    round_to_cent,
    to_cents,
)


@pytest.mark.parametrize(
    ("amount", "rounded"),
    [
        ("2.675", "2.68"),
        ("2.665", "2.67"),
        ("-2.675", "-2.68"),
        ("0.005", "0.01"),
        ("-0.005", "-0.01"),
        ("0.0049999", "0.00"),
        ("1", "1.00"),
        ("123456789012.345", "123456789012.35"),
    ],
)
def test_halves_of_a_cent_go_away_from_zero(amount, rounded):
    assert str(round_to_cent(Decimal(amount))) == rounded


def test_cents_and_dollars_say_the_same():
    assert to_cents(Decimal("19.995")) == 2000
    assert to_cents(Decimal("-0.015")) == -2
    assert str(dollars(5)) == "0.05"
    assert str(dollars(-123456)) == "-1234.56"
    assert str(dollars(0)) == "0.00"
    assert str(dollars(np.int64(250))) == "2.50"


@pytest.mark.parametrize(
    ("amount", "printed"),
    [
        ("1234.5", "$1,234.50"),
        ("-1234.5", "-$1,234.50"),
        ("0", "$0.00"),
        ("-0.001", "$0.00"),
        ("-0.005", "-$0.01"),
        ("1000000", "$1,000,000.00"),
        ("999.995", "$1,000.00"),
    ],
)
def test_money_is_printed_with_commas_and_no_negative_nothing(amount, printed):
    assert money_text(Decimal(amount)) == printed


@pytest.mark.parametrize(
    ("total", "weights", "parts"),
    [
        (100, [1, 1, 1], [34, 33, 33]),
        (101, [1, 1, 1], [34, 34, 33]),
        (-100, [1, 1, 1], [-34, -33, -33]),
        (10, [0, 1, 0], [0, 10, 0]),
        (1, [1, 1], [1, 0]),
        (0, [3, 4], [0, 0]),
        (7, [1, 2, 4], [1, 2, 4]),
        (10, [15, 15, 70], [2, 1, 7]),
        (5, [7], [5]),
    ],
)
def test_a_sum_is_split_by_largest_remainder_and_ties_by_order(total, weights, parts):
    assert apportion(total, weights) == parts


@pytest.mark.parametrize("weights", [[], [0, 0], [-1, 2]])
def test_weights_that_are_no_proportion_are_refused(weights):
    with pytest.raises(AmountFaulty) as refusal:
        apportion(100, weights)
    assert str(refusal.value) == ("a sum cannot be split by weights that are negative or all zero")


weight_lists = st.lists(st.integers(0, 10**6), min_size=1, max_size=12).filter(any)


@given(st.integers(-(10**9), 10**9), weight_lists)
def test_parts_add_up_and_none_is_a_unit_off_its_share(total, weights):
    parts = apportion(total, weights)
    assert sum(parts) == total
    for part, weight in zip(parts, weights, strict=True):
        assert abs(part * sum(weights) - total * weight) < sum(weights)


@given(st.integers(0, 10**6), weight_lists, st.integers(2, 9))
def test_parts_depend_on_proportions_only(total, weights, times):
    assert apportion(total, weights) == apportion(total, [weight * times for weight in weights])


@given(st.integers(0, 10**6), weight_lists)
def test_more_weight_never_gets_less(total, weights):
    ranked = sorted(zip(weights, apportion(total, weights), strict=True))
    assert [part for _, part in ranked] == sorted(part for _, part in ranked)


@pytest.mark.parametrize(
    ("amount", "error", "said"),
    [
        (Decimal("1e30"), AmountTooLarge, "a sum is too large; at most 1,000,000,000,000,000 dol"),
        (
            1e30,
            AmountFaulty,
            "is not an exact number; write Decimal",
        ),
        (0.1, AmountFaulty, "is not an exact number"),
        ("12", AmountFaulty, "is not an exact number"),
        (True, AmountFaulty, "is not an exact number"),
        (Decimal("NaN"), AmountFaulty, "is not a finite number"),
        (Decimal("-Infinity"), AmountFaulty, "is not a finite number"),
    ],
)
@pytest.mark.parametrize("to", [round_to_cent, to_cents, money_text])
def test_what_is_no_sum_is_refused_with_its_fault(to, amount, error, said):
    with pytest.raises(error, match=said):
        to(amount)


def test_whole_numbers_are_sums_too():
    assert str(round_to_cent(12)) == "12.00"
    assert to_cents(np.int64(12)) == 1200
    assert money_text(-3) == "-$3.00"
    assert (fixed_point(33, 4), str(money.rounded(7, 2)), rate_text(36)) == (
        330_000,
        "7.00",
        "36.00",
    )


@pytest.mark.parametrize(("total", "weights"), [(0.5, [1, 1]), (1, [0.5, 0.5])])
def test_a_sum_is_split_in_whole_numbers_only(total, weights):
    with pytest.raises(AmountFaulty, match="a sum is split in whole numbers"):
        apportion(total, weights)


def test_one_sum_needs_no_arrays():
    code = "import sys, estimator.money; sys.exit('numpy' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_a_sum_of_ten_to_the_fifteenth_is_the_largest_that_is_rounded():
    largest = Decimal("1000000000000000")
    assert (round_to_cent(largest), round_to_cent(-largest)) == (largest, -largest)
    for beyond in (largest + Decimal("0.01"), -largest - Decimal("0.01")):
        with pytest.raises(AmountTooLarge):
            round_to_cent(beyond)


@exact_arithmetic
@dataclass
class Share:
    """A third of a sum, worked out in every way that a class can."""

    amount: Decimal

    def __post_init__(self):
        self.at_once = self.amount / 3

    @property
    def third(self):
        return self.amount / 3

    @cached_property
    def remembered(self):
        return self.amount / 3

    def times(self, factor):
        return self.amount * factor / 3

    def __abs__(self):
        return self.amount / 3


def test_all_that_a_class_works_out_by_name_has_34_digits_whatever_the_caller_sets():
    third = Decimal("0.3333333333333333333333333333333333")
    with localcontext(prec=3):
        share = Share(Decimal(1))
        results = (share.at_once, share.third, share.remembered, share.times(1))
        operator = abs(share)
    assert results == (third, third, third, third)
    assert operator == Decimal("0.333")
