"""Sums of money, hours and fractions at the door of labor and machine rates.

Every function that takes them passes them through here once; binary floats are refused, because a
tax of 0.062 in a float is not 6.2 %.
"""

from __future__ import annotations

from collections.abc import Collection
from decimal import Decimal

from estimator.errors import Faults, InputFaulty

LARGEST = Decimal(10) ** 9


def check_decimals(
    error: type[InputFaulty],
    *,
    positive: Collection[str] = (),
    fractions: Collection[str] = (),
    **by_name: Decimal,
) -> None:
    """Check that numbers are decimals, finite and not negative, and tell every fault at once.

    Parameters
    ----------
    error : type of InputFaulty
        What is raised.
    positive : collection of str
        Names of those that may not be zero.
    fractions : collection of str
        Names of those that may not be above 1.
    **by_name : Decimal
        Numbers under the names that a fault tells.

    Raises
    ------
    InputFaulty
        Of the class `error`, with one fault for each number that is wrong.

    Examples
    --------
    >>> from estimator.errors import LaborFaulty
    >>> check_decimals(LaborFaulty, wage_per_hr=Decimal(-12))
    Traceback (most recent call last):
        ...
    estimator.errors.LaborFaulty: wage_per_hr: is negative; enter it without the minus sign
    """
    faults = Faults()
    for name, value in by_name.items():
        _check(name, value, name in positive, name in fractions, faults)
    faults.raise_if_any(error)


def _check(name: str, value: Decimal, is_positive: bool, is_fraction: bool, faults: Faults) -> None:
    if not isinstance(value, Decimal):
        faults.add(name, "is no decimal number", "write Decimal('12.50'), never a binary float")
    elif not value.is_finite():
        faults.add(name, "is not a finite number")
    elif value < 0:
        faults.add(name, "is negative", "enter it without the minus sign")
    elif value == 0 and is_positive:
        faults.add(name, "is zero", "enter a number above zero")
    elif is_fraction and value > 1:
        faults.add(name, "is above 1", "write 6.2 % as 0.062")
    elif value > LARGEST:
        faults.add(name, "is too large", "at most 1,000,000,000")
