"""Money: rounding to the cent, splitting a sum so that the parts add up, how it is printed.

Ground floor: imports only the error family, and no numpy. One sum is a `Decimal` of dollars; many
are whole cents in the arrays of `cents`. Binary floating point never holds money.
"""

from __future__ import annotations

from collections.abc import Sequence
from decimal import ROUND_HALF_UP, Decimal

from estimator.errors import AmountTooLarge, fault

CENT = Decimal("0.01")
RATE_DECIMALS = 4


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
