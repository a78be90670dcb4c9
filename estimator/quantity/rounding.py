"""Rounding of quantities: once, half-up, to the decimals that their unit prints with.

A float carries about fifteen digits, so that a quantity which is exactly a half, or exactly a
whole number of loads, may arrive a hair beside it: 8.4 / 2.8 is 3.0000000000000004. What lies
within that hair is taken as the exact value; otherwise a fourth truck would be ordered.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

Values = npt.NDArray[np.float64]
Scaled = npt.NDArray[np.int64]

_ABSOLUTE_HAIR = 1e-9
_RELATIVE_HAIR = 1e-13


def _hair(values: Values) -> Values:
    return _ABSOLUTE_HAIR + _RELATIVE_HAIR * np.abs(values)


def whole_above(values: Values) -> Values:
    """Return the smallest whole number that is not below each value, but for a hair.

    Examples
    --------
    >>> float(whole_above(np.float64(8.4 / 2.8)))
    3.0
    """
    return np.ceil(values - _hair(values))


def whole_below(values: Values) -> Values:
    """Return the largest whole number that is not above each value, but for a hair.

    Examples
    --------
    >>> float(whole_below(np.float64((0.1 + 0.7) * 10)))
    8.0
    """
    return np.floor(values + _hair(values))


def scaled_half_up(values: Values, decimals: int) -> Scaled:
    """Return non-negative values as whole numbers of their last printed decimal, half-up.

    Parameters
    ----------
    values : float array
        Quantities in the unit they print with, each below 10^12.
    decimals : int
        How many decimals the unit prints with.

    Examples
    --------
    >>> scaled_half_up(np.array([1.005, 12.5]), 2)
    array([ 101, 1250])
    """
    return whole_below(values * 10.0**decimals + 0.5).astype(np.int64)


def up_to_multiple(scaled: Scaled, multiple: Scaled) -> Scaled:
    """Return each quantity raised to the next whole multiple; both in the last printed decimal.

    Examples
    --------
    >>> up_to_multiple(np.array([2149, 2150]), np.array([50, 50]))  # half yards
    array([2150, 2150])
    """
    return -(-scaled // multiple) * multiple


def percent_text(share: float, decimals: int = 0, *, sign: str = "") -> str:
    """Return a share as the percent that every page prints.

    Parameters
    ----------
    share : float
        1 for the whole.
    decimals : int
        Of the percent.
    sign : str
        `+` shows the sign of a share above zero, too.

    Examples
    --------
    >>> percent_text(0.147, 1), percent_text(-0.09, sign="+")
    ('14.7 %', '-9 %')
    """
    return f"{share * 100:{sign}.{decimals}f} %"
