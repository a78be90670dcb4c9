"""Interest of a construction loan: exact by the day, posted to the cent at each month's end."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from itertools import pairwise

from estimator.errors import FundingFaulty, fault
from estimator.funding.day_counts import ACTUAL_360, year_fraction
from estimator.money import whole_half_up


@dataclass(frozen=True)
class RateStep:
    """The rate from a day on.

    Parameters
    ----------
    since : date
        The first day that bears it.
    rate_fraction : Decimal
        [$ per $ and year] 0.0875 for 8.75 %.
    """

    since: date
    rate_fraction: Decimal


@dataclass(frozen=True)
class BalanceChange:
    """What the lender paid out or got back on a day.

    Parameters
    ----------
    day : date
        It bears interest from this day on; what is paid back bears none from it on.
    cents : int
        [0.01 $] Paid out, with fees that were withheld; negative where it was paid back.
    """

    day: date
    cents: int


@dataclass(frozen=True)
class MonthInterest:
    """The interest of a month, or of a part of one.

    Parameters
    ----------
    start, end : date
        From this day up to, and without, that one.
    cents : int
        [0.01 $] As posted.
    balance_cents : int
        [0.01 $] At the end, with interest that was added to the loan.
    """

    start: date
    end: date
    cents: int
    balance_cents: int


def accrued_interest(
    changes: Iterable[BalanceChange],
    rates: Sequence[RateStep],
    start: date,
    end: date,
    day_count: str = ACTUAL_360,
) -> Fraction:
    """Return the interest of a span, not rounded [0.01 $].

    Parameters
    ----------
    changes : iterable of BalanceChange
        All up to the end.
    rates : sequence of RateStep
        The first holds on the first day that bears interest.
    start, end : date
        From this day up to, and without, that one.
    day_count : str
        One of `DAY_COUNTS`.

    Raises
    ------
    FundingFaulty
        If money is out before the first rate, or more was paid back than was out.

    Notes
    -----
    Balance x rate x part of the year, over each stretch on which neither changes. By actual day
    counts it is additive over any split of the span.

    Examples
    --------
    $50,000 at 4.5 % for 30 days of 365:

    >>> loan = [BalanceChange(date(2026, 4, 1), 5_000_000)]
    >>> steps = [RateStep(date(2026, 1, 1), Decimal("0.045"))]
    >>> interest = accrued_interest(loan, steps, date(2026, 4, 1), date(2026, 5, 1), "actual/365")
    >>> whole_half_up(interest)
    18493
    """
    listed = sorted(changes, key=lambda one: one.day)
    turns = {one.day for one in listed} | {one.since for one in rates}
    days = sorted({start, end, *(day for day in turns if start < day < end)})
    interest = Fraction(0)
    for first, last in pairwise(days):
        balance = sum(one.cents for one in listed if one.day <= first)
        if balance < 0:
            raise fault(FundingFaulty, f"more was paid back by {first} than was out", "changes")
        if balance:
            rate = Fraction(_rate_on(rates, first).rate_fraction)
            interest += balance * rate * year_fraction(first, last, day_count)
    return interest


def _rate_on(rates: Sequence[RateStep], day: date) -> RateStep:
    holding = [one for one in rates if one.since <= day]
    if not holding:
        what = f"there is no rate on {day}"
        raise fault(FundingFaulty, what, "let the first step hold from the first draw", "rates")
    return max(holding, key=lambda one: one.since)


def monthly_interest(
    changes: Sequence[BalanceChange],
    rates: Sequence[RateStep],
    end: date,
    day_count: str = ACTUAL_360,
    *,
    is_added: bool = False,
) -> tuple[MonthInterest, ...]:
    """Return the interest of each month from the first draw up to a day.

    Parameters
    ----------
    changes, rates, day_count
        As for `accrued_interest`.
    end : date
        The day of payment, which bears none.
    is_added : bool
        True where interest is added to the loan (from a reserve, or capitalized): it bears interest
        itself from the first of the next month on. False where it is paid.

    Notes
    -----
    Each month is rounded half-up to the cent once, when it is posted.

    Examples
    --------
    >>> loan = [BalanceChange(date(2026, 4, 11), 10_000_000)]
    >>> steps = [RateStep(date(2026, 1, 1), Decimal("0.09"))]
    >>> [one.cents for one in monthly_interest(loan, steps, date(2026, 6, 1))]
    [50000, 77500]
    """
    if not changes:
        return ()
    out = list(changes)
    months = []
    first = min(one.day for one in changes)
    while first < end:
        last = min(_next_month(first), end)
        cents = whole_half_up(accrued_interest(out, rates, first, last, day_count))
        if is_added:
            out.append(BalanceChange(last, cents))
        balance = sum(one.cents for one in out if one.day <= last)
        months.append(MonthInterest(first, last, cents, balance))
        first = last
    return tuple(months)


def _next_month(day: date) -> date:
    return (day.replace(day=1) + timedelta(32)).replace(day=1)


def half_commitment_interest(commitment_cents: int, rate_fraction: Decimal, months: int) -> int:
    """Return the interest that a disclosure supposes: half of the commitment for the whole time.

    Parameters
    ----------
    commitment_cents : int
        [0.01 $]
    rate_fraction : Decimal
        [$ per $ and year]
    months : int
        Of the construction.

    References
    ----------
    12 CFR part 1026, appendix D, part I, section A.

    Examples
    --------
    >>> half_commitment_interest(5_000_000, Decimal("0.105"), 5)
    109375
    """
    return whole_half_up(Fraction(commitment_cents, 2) * Fraction(rate_fraction) * months / 12)
