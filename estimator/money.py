"""Cents: rounding, extension of quantity by rate, and splitting a sum so that the parts add up.

Ground floor: imports only the error family. One sum is a `Decimal` of dollars; many are whole
cents in an int64 array. Binary floating point never holds money.
"""

from __future__ import annotations

from collections.abc import Sequence
from decimal import ROUND_HALF_UP, Decimal

import numpy as np
import numpy.typing as npt

from estimator.errors import AmountTooLarge, fault

CENT = Decimal("0.01")
RATE_DECIMALS = 4

Cents = npt.NDArray[np.int64]

_LARGEST = 2**62
_LARGEST_EXACT_FLOAT = 2**53


def round_to_cent(amount: Decimal) -> Decimal:
    """Return dollars rounded half-up (halves away from zero) to the cent.

    Examples
    --------
    >>> round_to_cent(Decimal("2.675"))
    Decimal('2.68')
    """
    return amount.quantize(CENT, rounding=ROUND_HALF_UP)


def dollars(cents: int) -> Decimal:
    """Return whole cents as dollars with two decimals.

    Examples
    --------
    >>> dollars(-150)
    Decimal('-1.50')
    """
    return Decimal(int(cents)).scaleb(-2)


def to_cents(amount: Decimal) -> int:
    """Return dollars as whole cents, rounded half-up.

    Examples
    --------
    >>> to_cents(Decimal("19.995"))
    2000
    """
    return int(round_to_cent(amount).scaleb(2))


def divide_half_up(numerator: Cents, divisor: int) -> Cents:
    """Return numerator / divisor rounded to whole numbers, halves away from zero.

    Parameters
    ----------
    numerator : int64 array
        Scaled amounts of any sign.
    divisor : int
        Positive power of ten that takes the scale away.
    """
    magnitude = (np.abs(numerator) + divisor // 2) // divisor
    return np.where(numerator < 0, -magnitude, magnitude)


def extension_cents(quantity: Cents, decimals: npt.NDArray[np.int64], rate: Cents) -> Cents:
    """Return quantity x rate to the cent, half-up, line by line.

    Parameters
    ----------
    quantity : int64 array, shape (n,)
        Quantities as whole numbers of their last printed decimal (12.50 cy is 1250).
    decimals : int64 array, shape (n,)
        How many decimals each quantity prints with, 0 to 6.
    rate : int64 array, shape (n,)
        Rates in ten-thousandths of a dollar per unit.

    Returns
    -------
    int64 array, shape (n,)
        Cents.

    Raises
    ------
    AmountTooLarge
        If a product does not fit 62 bits.

    Notes
    -----
    Standard bid clauses: the unit price governs, the extension is carried to the cent.

    Examples
    --------
    >>> extension_cents(np.array([4619]), np.array([3]), np.array([336000]))  # 4.619 x 33.60
    array([15520])
    """
    largest = np.abs(quantity).astype(float) * np.abs(rate).astype(float)
    if np.any(largest >= _LARGEST):
        raise fault(
            AmountTooLarge,
            "a quantity times its rate is too large to be priced to the cent",
            "check the quantity and the rate, or split the item",
        )
    product = quantity * rate
    cents = np.empty_like(product)
    for places in np.unique(decimals):
        here = decimals == places
        cents[here] = divide_half_up(product[here], 10 ** (int(places) + RATE_DECIMALS - 2))
    return cents


def apportion(total: int, weights: Sequence[int]) -> list[int]:
    """Return whole parts of a total in proportion to weights, adding up to it exactly.

    Each part is first rounded down; what remains goes, one unit each, to the parts with the
    largest remainders, ties by order (the largest-remainder or Hamilton method). A negative total
    gives the mirrored parts.

    Parameters
    ----------
    total : int
        What is split, in whole cents or whole units of a last decimal.
    weights : sequence of int
        Non-negative, at least one of them positive.

    Raises
    ------
    AmountTooLarge
        If the weights are all zero or one is negative: there is no proportion to split by.

    References
    ----------
    M. L. Balinski and H. P. Young, "Fair Representation", 2nd ed. 2001, ch. 3 (from memory).

    Examples
    --------
    >>> apportion(100, [1, 1, 1])
    [34, 33, 33]
    """
    whole = sum(weights)
    if whole <= 0 or min(weights) < 0:
        raise fault(
            AmountTooLarge, "a sum cannot be split by weights that are negative or all zero"
        )
    if total < 0:
        return [-part for part in apportion(-total, weights)]
    parts = [total * weight // whole for weight in weights]
    by_remainder = sorted(range(len(weights)), key=lambda i: -(total * weights[i] % whole))
    for i in by_remainder[: total - sum(parts)]:
        parts[i] += 1
    return parts


def apportion_by_group(
    groups: npt.NDArray[np.int64], totals: npt.NDArray[np.int64], weights: npt.NDArray[np.int64]
) -> npt.NDArray[np.int64]:
    """Return `apportion` for many groups at once.

    Parameters
    ----------
    groups : int64 array, shape (n,)
        The group of each part, 0 to m - 1.
    totals : int64 array, shape (m,)
        What each group shares out, non-negative.
    weights : int64 array, shape (n,)
        Non-negative; a group whose weights are all zero must have nothing to share out.

    Returns
    -------
    int64 array, shape (n,)
        The parts; those of a group add up to its total.

    Raises
    ------
    AmountTooLarge
        If a total times a weight does not fit 62 bits, or weights do not add up exactly.

    Examples
    --------
    >>> apportion_by_group(np.array([0, 0, 1]), np.array([3, 5]), np.array([1, 1, 7]))
    array([2, 1, 5])
    """
    sums = np.bincount(groups, weights, len(totals))
    largest = float(totals.max(initial=0)) * float(weights.max(initial=0))
    if largest >= _LARGEST or sums.max(initial=0.0) >= _LARGEST_EXACT_FLOAT:
        raise fault(AmountTooLarge, "a sum is too large to be split exactly", "split the phase")
    whole = np.maximum(sums.astype(np.int64), 1)[groups]
    share = totals[groups] * weights
    parts = share // whole
    missing = totals - np.bincount(groups, parts, len(totals)).astype(np.int64)
    order = np.lexsort((np.arange(len(groups)), -(share % whole), groups))
    first_of_group = np.searchsorted(groups[order], np.arange(len(totals)))
    rank = np.empty_like(order)
    rank[order] = np.arange(len(groups)) - first_of_group[groups[order]]
    return parts + (rank < missing[groups])


def money_text(amount: Decimal) -> str:
    """Return dollars as printed: `$1,234.50`, `-$3.00`.

    Examples
    --------
    >>> money_text(Decimal("-1234.5"))
    '-$1,234.50'
    """
    rounded = round_to_cent(amount)
    sign = "-" if rounded < 0 else ""
    return f"{sign}${abs(rounded):,.2f}"
