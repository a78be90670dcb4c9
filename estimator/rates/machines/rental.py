"""Renting by the day, the week and the four-week month: the cheapest mix for a span.

A yard bills a started week as days or as a week, whichever the customer asks for. For a
span of days all mixes that cover it are priced at once, and the cheapest is taken.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, overload

import numpy as np
import numpy.typing as npt

from estimator.cents import Cents, divide_half_up
from estimator.errors import EquipmentFaulty, GeometryFaulty, fault
from estimator.money import RATE_DECIMALS, dollars, exact_arithmetic, fixed_point, to_cents
from estimator.quantity.takeoff.dimensions import number_array
from estimator.rates.machines.rental_rates import LONGEST_DAYS, RentalRates, RentalTier

_MOST_HOURS = 24 * LONGEST_DAYS
_OUT_OF_REACH = 2**60
_CHUNK = 256


@exact_arithmetic
@dataclass(frozen=True)
class Rental:
    """The cheapest mix for one span.

    Parameters
    ----------
    span_days : int
        What is charged: the span, or the yard's minimum.
    months, weeks, days : int
        How many of each tier.
    over_hours : Decimal [hr]
        Meter hours beyond the included ones, two decimals.
    rent, over_hour_charge : Decimal [$]
        For the tiers, and for the hours beyond theirs.
    """

    span_days: int
    months: int
    weeks: int
    days: int
    over_hours: Decimal
    rent: Decimal
    over_hour_charge: Decimal

    @property
    def cost(self) -> Decimal:
        """Rent and over-hours [$]."""
        return self.rent + self.over_hour_charge


@dataclass(frozen=True)
class Rentals:
    """The cheapest mixes for many spans: int64 arrays of one shape (n,).

    Parameters
    ----------
    span_days, months, weeks, days : int64 array
        What is charged, and how many of each tier.
    over_hours_scaled : int64 array [hundredths of an hour]
        Meter hours beyond the included ones.
    rent_cents, over_hour_cents : int64 array [cents]
        For the tiers, and for the hours beyond theirs.
    """

    span_days: Cents
    months: Cents
    weeks: Cents
    days: Cents
    over_hours_scaled: Cents
    rent_cents: Cents
    over_hour_cents: Cents

    @property
    def cost_cents(self) -> Cents:
        """Rent and over-hours [cents]."""
        return self.rent_cents + self.over_hour_cents


@overload
def cheapest_rental(
    days: int | Decimal | str, rates: RentalRates, meter_hours: float | Decimal | str = 0.0
) -> Rental: ...


@overload
def cheapest_rental(
    days: Sequence[int | Decimal] | list[Any] | npt.NDArray[np.int64],
    rates: RentalRates,
    meter_hours: npt.ArrayLike | Decimal = 0.0,
) -> Rentals: ...


def cheapest_rental(
    days: Any,
    rates: RentalRates,
    meter_hours: npt.ArrayLike | Decimal = 0.0,
) -> Rental | Rentals:
    """Return the cheapest mix of days, weeks and months that covers a span.

    Parameters
    ----------
    days : int or int array, shape (n,) [day]
        How long the machine is on rent, 1 to 1,096; `"3 weeks"` are 21.
    rates : RentalRates
        Prices of the tiers.
    meter_hours : float or float array, shape (n,) [hr]
        What the hour meter will show for the whole span; zero where no over-hours are charged.

    Returns
    -------
    Rental or Rentals
        Counts and cost: `Rental` for one span, `Rentals` for an array of them.

    Raises
    ------
    EquipmentFaulty
        If a span is not a whole number of days or out of range, or hours are negative.

    Notes
    -----
    Minimizes m M + w W + d D + c max(0, H - 160 m - 40 w - 8 d) over all whole m, w with
    d = max(0, n - 28 m - 7 w): every mix in which each month and week is needed. Of mixes that
    cost the same, the one with more months, then more weeks, which may be kept longer. Hours are
    pooled over the rental and rounded half-up to two decimals; a yard that counts them week by
    week charges more.

    Examples
    --------
    >>> rates = RentalRates(day=Decimal(295), week=Decimal(1040), month=Decimal(2950))
    >>> cheapest_rental(24, rates).cost, cheapest_rental(4, rates).weeks
    (Decimal('2950.00'), 1)
    >>> cheapest_rental([1, 3, 4, 7, 10], rates).cost_cents.tolist()
    [29500, 88500, 104000, 104000, 192500]
    """
    spans = _spans(days, rates)
    hours = np.broadcast_to(_scaled_hours(meter_hours), spans.shape)
    mixes = _mixes(int(spans.max(initial=1)), rates)
    rentals = _joined(
        [
            _cheapest(spans[i : i + _CHUNK], hours[i : i + _CHUNK], mixes, rates)
            for i in range(0, max(1, len(spans)), _CHUNK)
        ]
    )
    return _only(rentals) if np.ndim(days) == 0 else rentals


@dataclass(frozen=True)
class _Mixes:
    """All numbers of months and weeks that may be part of a mix, months falling, weeks falling."""

    months: Cents
    weeks: Cents
    cents: Cents
    covered_days: Cents
    covered_without_one: Cents
    hours_scaled: Cents


def _spans(days: object, rates: RentalRates) -> Cents:
    spans = np.atleast_1d(_numbers("days", days))
    if np.any(spans != np.rint(spans)):
        raise fault(EquipmentFaulty, "are not whole days", "count started days", "days")
    if np.any(spans < 1) or np.any(spans > LONGEST_DAYS):
        raise fault(
            EquipmentFaulty, "are out of range", f"1 to {LONGEST_DAYS:,} days: beyond, buy", "days"
        )
    return np.maximum(spans.astype(np.int64), rates.minimum_days)


def _numbers(name: str, value: object) -> npt.NDArray[np.float64]:
    try:
        return number_array(name, value)
    except GeometryFaulty as faulty:
        raise EquipmentFaulty(faulty.faults) from None


def _scaled_hours(meter_hours: object) -> Cents:
    hours = _numbers("meter_hours", meter_hours)
    if not np.all((hours >= 0.0) & (hours <= _MOST_HOURS)):
        raise fault(EquipmentFaulty, "are negative or out of range", where="meter_hours")
    return np.floor(hours * 100.0 + 0.5).astype(np.int64)


def _mixes(longest: int, rates: RentalRates) -> _Mixes:
    _, week, month = rates.tiers
    most_months = -(-longest // rates.days_in_month) if month else 0
    most_weeks = -(-longest // rates.days_in_week) if week else 0
    months, weeks = np.mgrid[most_months:-1:-1, most_weeks:-1:-1].reshape(2, -1).astype(np.int64)
    covered = months * rates.days_in_month + weeks * rates.days_in_week
    smallest = np.where(weeks > 0, rates.days_in_week, rates.days_in_month)
    useful = covered - smallest < longest
    months, weeks = months[useful], weeks[useful]
    return _Mixes(
        months=months,
        weeks=weeks,
        cents=months * _cents(month) + weeks * _cents(week),
        covered_days=covered[useful],
        covered_without_one=(covered - smallest)[useful],
        hours_scaled=months * _hundredths(month) + weeks * _hundredths(week),
    )


def _cheapest(spans: Cents, hours: Cents, mixes: _Mixes, rates: RentalRates) -> Rentals:
    day = rates.tiers[0]
    days = np.maximum(0, spans[:, None] - mixes.covered_days)
    rent = mixes.cents + (days * _cents(day) if day else np.where(days > 0, _OUT_OF_REACH, 0))
    over = np.maximum(0, hours[:, None] - mixes.hours_scaled - days * _hundredths(day))
    charge = divide_half_up(over * fixed_point(rates.over_hour, RATE_DECIMALS), 10**RATE_DECIMALS)
    # Nobody rents a second machine for the hours it includes: each week and month must be needed.
    is_needed = mixes.covered_without_one < spans[:, None]
    best = np.argmin(np.where(is_needed, rent + charge, _OUT_OF_REACH), axis=1)
    row = np.arange(len(spans))
    return Rentals(
        span_days=spans,
        months=mixes.months[best],
        weeks=mixes.weeks[best],
        days=days[row, best],
        over_hours_scaled=over[row, best],
        rent_cents=rent[row, best],
        over_hour_cents=charge[row, best],
    )


def _cents(tier: RentalTier | None) -> int:
    return 0 if tier is None else to_cents(tier.price)


def _hundredths(tier: RentalTier | None) -> int:
    return 0 if tier is None else to_cents(tier.included_hours)


def _joined(parts: Sequence[Rentals]) -> Rentals:
    names = Rentals.__dataclass_fields__
    return Rentals(**{name: np.concatenate([getattr(p, name) for p in parts]) for name in names})


def _only(rentals: Rentals) -> Rental:
    return Rental(
        span_days=int(rentals.span_days[0]),
        months=int(rentals.months[0]),
        weeks=int(rentals.weeks[0]),
        days=int(rentals.days[0]),
        over_hours=dollars(int(rentals.over_hours_scaled[0])),
        rent=dollars(int(rentals.rent_cents[0])),
        over_hour_charge=dollars(int(rentals.over_hour_cents[0])),
    )
