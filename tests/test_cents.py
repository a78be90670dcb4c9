"""Cents in arrays: rounding, extension and splitting, line by line as single sums are."""

from decimal import ROUND_HALF_UP, Decimal

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.cents import apportion_by_group, divide_half_up, extension_cents, whole_numbers
from estimator.errors import AmountFaulty, AmountTooLarge
from estimator.money import apportion


@pytest.mark.parametrize(
    ("numerator", "divisor", "quotient"),
    [(15, 10, 2), (-15, 10, -2), (14, 10, 1), (-14, 10, -1), (0, 10, 0), (5, 10, 1), (7, 1, 7)],
)  # fmt: skip
def test_whole_numbers_divide_half_up_on_both_sides_of_zero(numerator, divisor, quotient):
    assert divide_half_up(np.array([numerator]), divisor).tolist() == [quotient]


def test_the_largest_whole_number_is_taken_and_the_next_refused():
    assert whole_numbers([2**63 - 1, -(2**63)]).tolist() == [2**63 - 1, -(2**63)]
    for beyond in ([2**63], [2**64]):
        with pytest.raises(AmountFaulty, match="are not whole numbers of 63 bits"):
            whole_numbers(beyond)


@pytest.mark.parametrize(
    ("quantity", "decimals", "rate", "cents"),
    [
        (4619, 3, 336_000, 15_520),  # 4.619 x 33.60 = 155.1984
        (1, 0, 50, 1),  # 1 x 0.0050, a tie
        (1, 0, 49, 0),
        (-1, 0, 50, -1),
        (50, 2, 100, 1),  # 0.50 x 0.01 is half a cent
        (5, 1, 33_330, 167),  # 0.5 x 3.333 = 1.6665
        (5, 1, -33_330, -167),
        (12_50, 2, 1_411_250, 176_406),  # 12.50 x 141.125 = 1764.0625
        (10, 0, 15, 2),  # 10 x 0.0015 = 0.015, a tie
        (3, 4, 500_000, 2),  # 0.0003 x 50 = 0.015, a tie
        (0, 2, 999_999, 0),
    ],
)
def test_an_extension_is_carried_to_the_cent(quantity, decimals, rate, cents):
    extended = extension_cents(np.array([quantity]), np.array([decimals]), np.array([rate]))
    assert extended.tolist() == [cents]


def test_lines_of_different_precision_extend_side_by_side():
    extended = extension_cents(
        np.array([5, 50, 500, 5000, 50000]),
        np.array([0, 1, 2, 3, 4]),
        np.array([30_050, 30_050, 30_050, 30_050, 30_050]),
    )
    assert extended.tolist() == [1503, 1503, 1503, 1503, 1503]


def test_no_lines_extend_to_no_cents():
    nothing = np.array([], dtype=np.int64)
    assert extension_cents(nothing, nothing, nothing).tolist() == []


@pytest.mark.parametrize(("quantity", "rate"), [(2**31, 2**31), (-(2**40), 2**30), (10**18, 10**4)])
def test_a_product_beyond_62_bits_is_refused(quantity, rate):
    with pytest.raises(AmountTooLarge) as refusal:
        extension_cents(np.array([1, quantity]), np.array([0, 0]), np.array([1, rate]))
    assert str(refusal.value) == (
        "a quantity times its rate is too large to be priced to the cent; "
        "check the quantity and the rate, or split the item"
    )


@given(
    st.lists(
        st.tuples(st.integers(-(10**9), 10**9), st.integers(0, 4), st.integers(0, 10**8)),
        min_size=1,
        max_size=20,
    )
)
def test_extension_is_that_of_decimals(lines):
    quantity, decimals, rate = (np.array(column) for column in zip(*lines, strict=True))
    expected = [
        int((Decimal(q).scaleb(-d) * r).scaleb(-2).quantize(Decimal(1), rounding=ROUND_HALF_UP))
        for q, d, r in lines
    ]
    assert extension_cents(quantity, decimals, rate).tolist() == expected


@given(st.data())
def test_many_groups_are_split_as_each_by_itself(data):
    groups = data.draw(st.lists(st.integers(0, 4), min_size=1, max_size=30))
    weights = [data.draw(st.integers(1, 10**6)) for _ in groups]
    totals = [data.draw(st.integers(0, 10**6)) if n in groups else 0 for n in range(5)]
    together = apportion_by_group(np.array(groups), np.array(totals), np.array(weights))
    for group in set(groups):
        here = [n for n, other in enumerate(groups) if other == group]
        apart = apportion(totals[group], [weights[n] for n in here])
        assert together[here].tolist() == apart


def test_a_group_without_weight_shares_out_nothing():
    parts = apportion_by_group(np.array([0, 1, 0]), np.array([0, 9]), np.array([0, 3, 0]))
    assert parts.tolist() == [0, 9, 0]


@pytest.mark.parametrize(("total", "weight"), [(2**40, 2**40), (1, 2**53)])
def test_a_split_that_would_not_be_exact_is_refused(total, weight):
    with pytest.raises(AmountTooLarge, match="a sum is too large to be split exactly"):
        apportion_by_group(np.array([0]), np.array([total]), np.array([weight]))


def test_groups_with_totals_below_zero_get_the_mirrored_parts():
    parts = apportion_by_group(np.array([0, 0, 1]), np.array([-3, 5]), np.array([1, 1, 7]))
    assert parts.tolist() == [-2, -1, 5]


@pytest.mark.parametrize("weights", [[0, 0, 1], [-1, 2, 1]])
def test_a_group_is_refused_for_what_a_single_sum_is_refused_for(weights):
    with pytest.raises(AmountFaulty) as refusal:
        apportion_by_group(np.array([0, 0, 1]), np.array([3, 5]), np.array(weights))
    assert str(refusal.value) == "a sum cannot be split by weights that are negative or all zero"


def test_narrow_integers_are_widened_before_they_are_multiplied():
    narrow = np.array([60_000], dtype=np.int32)
    extended = extension_cents(narrow, np.array([0], dtype=np.int8), narrow)
    assert extended.tolist() == [36_000_000]
    assert divide_half_up(np.array([255], dtype=np.uint8), 10).tolist() == [26]
    total, weights = np.array([200], np.uint8), np.array([9, 1], np.int8)
    parts = apportion_by_group(np.array([0, 0]), total, weights)
    assert parts.tolist() == [180, 20]


@pytest.mark.parametrize(
    ("groups", "weights"), [([0, -1], [1, 1]), ([0, 2], [1, 1]), ([0, 1], [1])]
)
def test_a_part_without_a_weight_or_a_group_is_refused(groups, weights):
    with pytest.raises(AmountFaulty, match="each part needs a weight, and a group"):
        apportion_by_group(np.array(groups), np.array([3, 5]), np.array(weights))


@pytest.mark.parametrize("wrong", [np.array([1.5]), np.array([2**63], np.uint64), np.array(["5"])])
def test_arrays_that_are_no_whole_numbers_are_refused(wrong):
    one = np.array([1])
    for call in (
        lambda: divide_half_up(wrong, 10),
        lambda: extension_cents(one, one, wrong),
        lambda: apportion_by_group(np.array([0]), wrong, one),
    ):
        with pytest.raises(AmountFaulty, match="are not whole numbers of 63 bits"):
            call()
