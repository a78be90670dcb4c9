"""The range of a rate: low, likely and high."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from estimator.errors import TablesFaulty, fault
from estimator.quantity.units import unit
from estimator.rates.resources import RateTable, ResourceRate


@dataclass(frozen=True)
class RateRange:
    """What a rate may come to.

    Parameters
    ----------
    low, likely, high : Decimal
        [$/unit] in rising order; all the same where nobody gave a range.
    has_range : bool
        False where the row names neither low nor high: the rate is then taken as certain, which
        it hardly is.
    """

    low: Decimal
    likely: Decimal
    high: Decimal
    has_range: bool


def range_of(rate: ResourceRate) -> RateRange:
    """Return the range of a rate; a side that the row leaves empty is the rate itself.

    Raises
    ------
    TablesFaulty
        If low is above the rate, high below it, or one of them no number.

    Notes
    -----
    For salvage, whose rate is a value that is subtracted, low is still the smaller value: the
    cheaper outcome for the owner is the high one.
    """
    low = rate.rate if rate.low is None else rate.low
    high = rate.rate if rate.high is None else rate.high
    if not (low.is_finite() and high.is_finite() and rate.rate.is_finite()):
        raise fault(
            TablesFaulty, f"the range of {rate.code} is not all numbers", "", str(rate.origin)
        )
    if not low <= rate.rate <= high:
        raise fault(
            TablesFaulty,
            f"the rate {rate.rate:f} of {rate.code} lies outside of its range {low:f} to {high:f}",
            "low, rate and high rise in this order",
            str(rate.origin),
        )
    return RateRange(low, rate.rate, high, rate.low is not None or rate.high is not None)


def without_range(rates: RateTable) -> tuple[str, ...]:
    """Return the codes of resources whose newest row names neither low nor high.

    Rates per dollar are left out: an allowance of a dollar is a dollar.
    """
    newest = [rates.rate_on(code, date.max) for code in rates.codes]
    return tuple(
        rate.code
        for rate in newest
        if not range_of(rate).has_range and rate.unit.dimension != unit("$").dimension
    )
