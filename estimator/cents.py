"""Many sums at once: whole cents in int64 arrays, their rounding, extension and splitting.

Ground floor, above `money`: one sum is a `Decimal` of dollars there; many are arrays here. Binary
floating point never holds money.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from estimator.errors import AmountFaulty, AmountTooLarge, fault
from estimator.money import RATE_DECIMALS

Cents = npt.NDArray[np.int64]

_LARGEST = 2**62
_LARGEST_EXACT_FLOAT = 2**53
_MOST_INT64 = np.iinfo(np.int64).max


def whole_numbers(values: npt.ArrayLike) -> Cents:
    """Return whole numbers as an int64 array; narrower integers are widened, so that none wraps.

    Raises
    ------
    AmountFaulty
        If they are not whole numbers of at most 63 bits: floats, texts, Python ints beyond that.

    Examples
    --------
    >>> whole_numbers(np.array([200, 100], dtype=np.uint8)) * 2
    array([400, 200])
    """
    numbers = np.asarray(values)
    is_whole = np.issubdtype(numbers.dtype, np.integer) or numbers.size == 0
    if not is_whole or np.any(numbers > _MOST_INT64):
        raise fault(AmountFaulty, "are not whole numbers of 63 bits", "give cents as integers")
    return numbers.astype(np.int64, copy=False)


def divide_half_up(numerator: Cents, divisor: int) -> Cents:
    """Return numerator / divisor rounded to whole numbers, halves away from zero.

    Parameters
    ----------
    numerator : int64 array
        Scaled amounts of any sign.
    divisor : int
        Positive power of ten that takes the scale away.
    """
    numerator = whole_numbers(numerator)
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
    quantity, decimals, rate = (whole_numbers(one) for one in (quantity, decimals, rate))
    largest = np.abs(quantity.astype(float) * rate.astype(float))
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


def apportion_by_group(
    groups: npt.NDArray[np.int64], totals: npt.NDArray[np.int64], weights: npt.NDArray[np.int64]
) -> npt.NDArray[np.int64]:
    """Return `apportion` for many groups at once.

    Parameters
    ----------
    groups : int64 array, shape (n,)
        The group of each part, 0 to m - 1.
    totals : int64 array, shape (m,)
        What each group shares out; a negative total gives the mirrored parts.
    weights : int64 array, shape (n,)
        Non-negative; a group whose weights are all zero must have nothing to share out.

    Returns
    -------
    int64 array, shape (n,)
        The parts; those of a group add up to its total.

    Raises
    ------
    AmountFaulty
        If a weight is negative, a group that has something to share out has no weight, or a part
        has no weight or no total.
    AmountTooLarge
        If a total times a weight does not fit 62 bits, or weights do not add up exactly.

    Examples
    --------
    >>> apportion_by_group(np.array([0, 0, 1]), np.array([3, 5]), np.array([1, 1, 7]))
    array([2, 1, 5])
    """
    groups, totals, weights = (whole_numbers(one) for one in (groups, totals, weights))
    if len(groups) != len(weights) or np.any((groups < 0) | (groups >= len(totals))):
        raise fault(AmountFaulty, "each part needs a weight, and a group that has a total")
    sums = np.bincount(groups, weights, len(totals))
    if np.any(weights < 0) or np.any((sums == 0) & (totals != 0)):
        raise fault(AmountFaulty, "a sum cannot be split by weights that are negative or all zero")
    signs, totals = np.sign(totals), np.abs(totals)
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
    return (parts + (rank < missing[groups])) * signs[groups]
