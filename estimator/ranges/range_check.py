"""Numbers of ranges at the door: finite, in rising order, probabilities within 0 to 1."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from math import inf, isfinite
from numbers import Integral, Real
from typing import Any

import numpy as np
import numpy.typing as npt

from estimator.errors import Faults, RangeFaulty, fault, quoted
from estimator.ranges.pert_quantiles import Values

_RISING = "write low, likely and high in rising order"


def take_numbers(distribution: object, *names: str) -> None:
    """Turn the named fields of a frozen distribution into floats in rising order.

    Raises
    ------
    RangeFaulty
        With all that is wrong: no number, not finite, low above high, likely outside.
    """
    faults = Faults()
    entered = {name: number(getattr(distribution, name), name, faults) for name in names}
    known = {name: value for name, value in entered.items() if value is not None}
    low, high, likely = (known.get(name) for name in ("low", "high", "likely"))
    if low is not None and high is not None and low > high:
        faults.add("low", f"{low:g} is above the high of {high:g}", _RISING)
    elif likely is not None:
        if low is not None and likely < low:
            faults.add("likely", f"{likely:g} is below the low of {low:g}", _RISING)
        if high is not None and likely > high:
            faults.add("likely", f"{likely:g} is above the high of {high:g}", _RISING)
    faults.raise_if_any(RangeFaulty)
    for name, value in known.items():
        object.__setattr__(distribution, name, value)


def number(entered: Any, where: str, faults: Faults) -> float | None:
    """Return a number as a float; None, and a fault noted, where it is none or not finite."""
    if isinstance(entered, bool) or not isinstance(entered, (Real, Decimal, Fraction)):
        faults.add(where, f"{quoted(entered)} is not a plain number", "write it as 12.5")
        return None
    try:
        value = float(entered)
    except (OverflowError, ValueError):
        value = inf
    if not isfinite(value):
        faults.add(where, f"{quoted(entered)} is not a finite number", "write it as 12.5")
        return None
    return value


def positive(factor: float) -> float:
    """Return a factor that is above zero.

    Raises
    ------
    RangeFaulty
        If it is not.
    """
    if not (isfinite(factor) and factor > 0.0):
        raise fault(RangeFaulty, f"{factor} is not above zero", "scale by a positive factor")
    return factor


def probabilities(u: npt.ArrayLike) -> Values:
    """Return probabilities as a float array.

    Raises
    ------
    RangeFaulty
        If one is not between 0 and 1.
    """
    share = np.asarray(u, dtype=np.float64)
    if share.size and not (share.min() >= 0.0 and share.max() <= 1.0):
        raise fault(RangeFaulty, "a probability is not between 0 and 1", "", "quantile")
    return share


def check_cents(cents: object, where: str, faults: Faults) -> None:
    """Note an amount that is not in whole cents."""
    if isinstance(cents, bool) or not isinstance(cents, Integral):
        faults.add(where, f"{quoted(cents)} is not in whole cents", "write 125000")
