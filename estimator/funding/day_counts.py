"""How many days, of how long a year, interest runs for: the conventions by their names."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date, timedelta
from fractions import Fraction
from types import MappingProxyType

from estimator.errors import FundingFaulty, did_you_mean, fault, quoted

ACTUAL_360 = "actual/360"
ACTUAL_365 = "actual/365"
THIRTY_360 = "30/360"
THIRTY_360_END_OF_FEBRUARY = "30/360, end of February as 30"
THIRTY_E_360 = "30E/360"

_YEAR_360, _YEAR_365 = 360, 365


def days_actual(start: date, end: date) -> int:
    """Return the days from a date up to, and without, another."""
    return (end - start).days


def days_30_360(start: date, end: date) -> int:
    """Return the days as if every month had thirty, by the bond basis.

    Notes
    -----
    360 years + 30 months + days; a start on the 31st counts as the 30th, and so does an end on the
    31st if the start is then on the 30th.

    References
    ----------
    2006 ISDA Definitions, section 4.16(f) (from memory; its worksheet is among the checks).

    Examples
    --------
    >>> days_30_360(date(2007, 2, 28), date(2007, 8, 31))
    183
    >>> days_30_360(date(2006, 1, 31), date(2006, 2, 28))
    28
    """
    first = min(start.day, 30)
    last = 30 if end.day == 31 and first == 30 else end.day
    return _thirty(start, first, end, last)


def days_30_360_end_of_february(start: date, end: date) -> int:
    """Return the days by the bond basis, where the last of February counts as the 30th as well.

    Notes
    -----
    If both dates are the last of February, the end is the 30th; if the start is, it is the 30th.

    Examples
    --------
    >>> days_30_360_end_of_february(date(2007, 2, 28), date(2007, 8, 31))
    180
    """
    last = end.day
    if _ends_february(start) and _ends_february(end):
        last = 30
    first = 30 if _ends_february(start) else min(start.day, 30)
    if last == 31 and first == 30:
        last = 30
    return _thirty(start, first, end, last)


def days_30e_360(start: date, end: date) -> int:
    """Return the days as if every month had thirty, where each 31st counts as the 30th.

    References
    ----------
    2006 ISDA Definitions, section 4.16(g), Eurobond basis; its worksheet is among the checks.

    Examples
    --------
    >>> days_30e_360(date(2007, 2, 28), date(2007, 8, 31))
    182
    """
    return _thirty(start, min(start.day, 30), end, min(end.day, 30))


def _thirty(start: date, first: int, end: date, last: int) -> int:
    return 360 * (end.year - start.year) + 30 * (end.month - start.month) + last - first


def _ends_february(day: date) -> bool:
    return day.month == 2 and (day + timedelta(1)).month == 3


DAY_COUNTS: Mapping[str, tuple[Callable[[date, date], int], int]] = MappingProxyType(
    {
        ACTUAL_360: (days_actual, _YEAR_360),
        ACTUAL_365: (days_actual, _YEAR_365),
        THIRTY_360: (days_30_360, _YEAR_360),
        THIRTY_360_END_OF_FEBRUARY: (days_30_360_end_of_february, _YEAR_360),
        THIRTY_E_360: (days_30e_360, _YEAR_360),
    }
)


def year_fraction(start: date, end: date, day_count: str) -> Fraction:
    """Return the part of a year from a date up to, and without, another.

    Parameters
    ----------
    start, end : date
        The day of funding, and the day of payment, which bears none.
    day_count : str
        One of `DAY_COUNTS`.

    Raises
    ------
    FundingFaulty
        If there is no such convention, or the end is before the start.

    Examples
    --------
    >>> year_fraction(date(2026, 4, 1), date(2026, 5, 1), ACTUAL_360)
    Fraction(1, 12)
    """
    if day_count not in DAY_COUNTS:
        what = f"{quoted(day_count)} is not a day count"
        raise fault(FundingFaulty, what, did_you_mean(day_count, DAY_COUNTS), "day_count")
    if end < start:
        raise fault(FundingFaulty, f"{end} is before {start}", "swap the dates", "end")
    days, year = DAY_COUNTS[day_count]
    return Fraction(days(start, end), year)
