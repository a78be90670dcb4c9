"""Escalation: what a price of one month comes to in another, by a published index or a yearly rate.

A figure of an index holds for the whole month or quarter that it is published for; nothing is
interpolated between figures, so that anybody can check a factor against the printed index. Beyond
the last figure there is no factor, unless a yearly change is given for that purpose.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from datetime import date, timedelta
from decimal import Decimal

from estimator.errors import RateMissing, ScopeFaulty, fault
from estimator.money import HOUSE, RATE_DECIMALS, round_to_cent, rounded
from estimator.rates.adjustment.index_series import IndexSeries
from estimator.rates.exact_inputs import Exact, exact_inputs

FACTOR_DECIMALS = 6
STEEPEST = Decimal(1)


def index_on(series: IndexSeries, day: date, yearly_change: Exact | None = None) -> Decimal:
    """Return the figure of an index that holds on a day.

    Parameters
    ----------
    series : IndexSeries
        The index.
    day : date
        Any day of the month.
    yearly_change : Decimal or None
        What prices are taken to rise by in a year after the last figure, as a fraction: 0.04 is
        4 % a year. Without it, a day after the last figure is refused.

    Raises
    ------
    RateMissing
        If nothing is published for that month, with the nearest months that are.
    ScopeFaulty
        If the yearly change is no sensible fraction.

    Notes
    -----
    Beyond the last month that has a figure, index = last x (1 + yearly_change)^(months / 12).
    """
    starts = [point.starts_on for point in series.points]
    position = bisect_right(starts, day) - 1
    if position >= 0:
        point = series.points[position]
        if months_between(point.starts_on, day) < series.months_each:
            return point.value
        if position == len(starts) - 1 and yearly_change is not None:
            last_month = months_between(point.starts_on, day) - series.months_each + 1
            return HOUSE.multiply(point.value, yearly_factor(yearly_change, last_month))
    raise _missing(series, day, position)


def _missing(series: IndexSeries, day: date, position: int) -> Exception:
    before = [point.starts_on for point in series.points[max(position, 0) : position + 1]]
    after = [point.starts_on for point in series.points[position + 1 : position + 2]]
    nearest = " and ".join(series.period_text(starts_on) for starts_on in (*before, *after))
    remedy = f"the nearest that it has: {nearest}"
    if not after:
        remedy += "; beyond it, say by how much prices rise in a year"
    return fault(
        RateMissing, f"index {series.name} has no figure for {series.period_text(day)}", remedy
    )


def factor_between(
    series: IndexSeries, price_day: date, day: date, yearly_change: Exact | None = None
) -> Decimal:
    """Return by what a price of one day is multiplied to stand for another day.

    Parameters
    ----------
    series : IndexSeries
        The index.
    price_day : date
        Any day of the month that the price is of.
    day : date
        Any day of the month that it is wanted for; may be the earlier one.
    yearly_change : Decimal or None
        For months after the last figure; see `index_on`.

    Returns
    -------
    Decimal
        Index of `day` / index of `price_day`, with 34 digits. Below 1 where the index fell: a
        price may come down, and nothing is clipped.

    Raises
    ------
    RateMissing
        If nothing is published for one of the months.

    Examples
    --------
    >>> from estimator.rates.adjustment.index_series import QUARTERLY, IndexPoint
    >>> cpi = IndexSeries("CPI", "1982-84 = 100", QUARTERLY, (
    ...     IndexPoint(date(2008, 7, 1), Decimal("216.889")),
    ...     IndexPoint(date(2008, 10, 1), Decimal("212.174"))), "statsmodels, macrodata")
    >>> round(factor_between(cpi, date(2008, 8, 1), date(2008, 11, 1)), 6)
    Decimal('0.978261')
    """
    return HOUSE.divide(
        index_on(series, day, yearly_change), index_on(series, price_day, yearly_change)
    )


def factor_to_midpoint(
    series: IndexSeries,
    price_day: date,
    start: date,
    finish: date,
    yearly_change: Exact | None = None,
) -> Decimal:
    """Return the factor from the day of a price to the middle of the phase that pays it.

    Money of a phase leaves from its start to its finish; priced at its midpoint, what is bought
    early and what is bought late balance.

    Raises
    ------
    ScopeFaulty
        If the phase finishes before it starts.
    RateMissing
        If nothing is published for one of the months.
    """
    return factor_between(series, price_day, midpoint(start, finish), yearly_change)


def midpoint(start: date, finish: date) -> date:
    """Return the day in the middle of a phase, the earlier of two middle days.

    Examples
    --------
    >>> midpoint(date(2027, 3, 1), date(2027, 8, 31))
    datetime.date(2027, 5, 31)
    """
    if finish < start:
        raise fault(
            ScopeFaulty,
            f"a phase finishes on {finish}, before its start on {start}",
            "correct one of the two dates",
        )
    return start + timedelta(days=(finish - start).days // 2)


def months_between(earlier: date, later: date) -> int:
    """Return how many months the month of one day lies after that of another; negative if before.

    Examples
    --------
    >>> months_between(date(2026, 11, 30), date(2027, 2, 1))
    3
    """
    return (later.year - earlier.year) * 12 + later.month - earlier.month


@exact_inputs(ScopeFaulty, signed=("yearly_change",), yearly_change="fraction")
def yearly_factor(yearly_change: Exact, months: int) -> Decimal:
    """Return what a price is multiplied by after a number of months of steady, compound change.

    Parameters
    ----------
    yearly_change : Decimal
        As a fraction: 0.05 is 5 % a year, -0.02 a fall of 2 %. More than -1, at most 1.
    months : int
        May be negative, for an earlier price.

    Returns
    -------
    Decimal
        (1 + yearly_change)^(months / 12), with 34 digits.

    Raises
    ------
    ScopeFaulty
        If the change is not a number in that range: 5 for 5 % is a slip.

    Examples
    --------
    >>> yearly_factor(Decimal("0.05"), 36)
    Decimal('1.157625')
    """
    if not -1 < yearly_change <= STEEPEST:
        raise fault(
            ScopeFaulty,
            f"a yearly change of {yearly_change} is not a fraction above -1 and at most 1",
            "write 4 % a year as 0.04",
        )
    whole_years, rest = divmod(months, 12)
    growth = 1 + yearly_change
    factor = HOUSE.power(growth, whole_years)
    return HOUSE.multiply(factor, HOUSE.power(growth, HOUSE.divide(rest, 12)))


@exact_inputs(ScopeFaulty, signed=("amount",), amount="$", factor="fraction")
def escalated_amount(amount: Exact, factor: Exact) -> Decimal:
    """Return dollars times a factor, rounded once, half-up to the cent.

    Examples
    --------
    >>> escalated_amount(Decimal("10000"), yearly_factor(Decimal("0.05"), 36))
    Decimal('11576.25')
    """
    return round_to_cent(HOUSE.multiply(amount, factor))


@exact_inputs(ScopeFaulty, signed=("rate",), rate="$", factors="fraction")
def adjusted_rate(rate: Exact, factors: Sequence[Exact]) -> Decimal:
    """Return a rate times all factors, rounded once, half-up to the four decimals of a rate.

    Examples
    --------
    >>> adjusted_rate(Decimal("36.00"), [Decimal("1.034"), Decimal("0.97")])
    Decimal('36.1073')
    """
    product = rate
    for factor in factors:
        product = HOUSE.multiply(product, factor)
    return rounded(product, RATE_DECIMALS)


@exact_inputs(ScopeFaulty, factor="fraction")
def printed_factor(factor: Exact) -> Decimal:
    """Return a factor as a row names it, rounded half-up to six decimals.

    Examples
    --------
    >>> printed_factor(Decimal("216.385") / Decimal("170.9"))
    Decimal('1.266150')
    """
    return rounded(factor, FACTOR_DECIMALS)
