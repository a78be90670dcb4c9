"""The rehabilitation credit: is the work substantial, in which window, and what comes each year."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction

from estimator.errors import FundingFaulty, fault
from estimator.money import apportion, whole_half_up

CREDIT_FRACTION = Decimal("0.20")
CREDIT_YEARS = 5
LEAST_BASIS_CENTS = 500_000
MONTHS, PHASED_MONTHS = 24, 60
ASK = (
    "Which costs qualify, whose basis counts and when the building is placed in service is for a "
    "tax adviser; the work itself must be certified."
)


@dataclass(frozen=True)
class Expenditure:
    """A cost of the rehabilitation that qualifies.

    Parameters
    ----------
    day : date
        Incurred, or paid by a taxpayer who keeps books by cash.
    cents : int
        [0.01 $] Never the owner's own labor.
    """

    day: date
    cents: int


@dataclass(frozen=True)
class StatedBasis:
    """What the owner's adviser states as the adjusted basis from a day on.

    Parameters
    ----------
    since : date
        On the morning of that day, with all that was spent before it.
    cents : int
        [0.01 $] Of the building, without the land.
    """

    since: date
    cents: int


@dataclass(frozen=True)
class Window:
    """A span of months over which the test is taken.

    Parameters
    ----------
    start, end : date
        First and last day.
    spent_cents : int
        [0.01 $] Qualified expenditures within it.
    basis_cents : int
        [0.01 $] Adjusted basis of the building on the first day, with what was spent before it.
    """

    start: date
    end: date
    spent_cents: int
    basis_cents: int

    @property
    def needed_cents(self) -> int:
        """What must be exceeded: the basis, or $5,000 if that is more [0.01 $]."""
        return max(self.basis_cents, LEAST_BASIS_CENTS)

    @property
    def passes(self) -> bool:
        """Whether more was spent than that."""
        return self.spent_cents > self.needed_cents

    @property
    def over_cents(self) -> int:
        """By how much it is exceeded; negative where it is missed [0.01 $]."""
        return self.spent_cents - self.needed_cents


def substantial_windows(
    expenditures: Iterable[Expenditure],
    basis_cents: int,
    first_end: date,
    last_end: date,
    months: int = MONTHS,
    stated: Sequence[StatedBasis] = (),
) -> tuple[Window, ...]:
    """Return the test over every window that ends on the last day of a month.

    Parameters
    ----------
    expenditures : iterable of Expenditure
        All that qualify.
    basis_cents : int
        [0.01 $] Adjusted basis of the building before the first of them, without the land.
    first_end, last_end : date
        The windows end on the last days of the months from that of the first to that of the second:
        within the year for which the credit is taken.
    months : int
        24, or 60 where the work was planned in phases before it began.
    stated : sequence of StatedBasis
        What the basis was stated as on later days: after depreciation, or with work that does not
        count. The last one by a window's first day holds.

    Raises
    ------
    FundingFaulty
        If a basis is below zero, the months are neither 24 nor 60, or the ends are turned round.

    Notes
    -----
    The basis on a window's first day is the basis as stated last plus what was spent since and
    before that day. The test is passed if the expenditures within the window are more than the
    greater of that basis and $5,000. Those that count for the credit are not only the window's.

    References
    ----------
    26 U.S.C. 47(c)(1)(B); 26 CFR 1.48-12(b)(2).
    """
    if min([basis_cents, *(one.cents for one in stated)]) < 0:
        raise fault(FundingFaulty, "is below zero", "write the adjusted basis", "basis_cents")
    if months not in (MONTHS, PHASED_MONTHS):
        raise fault(FundingFaulty, f"are {months}", "24, or 60 for work in phases", "months")
    if last_end < first_end:
        raise fault(FundingFaulty, f"{last_end} is before {first_end}", where="last_end")
    listed = list(expenditures)
    ends = _month_ends(first_end, last_end)
    steps = [StatedBasis(date.min, basis_cents), *sorted(stated, key=lambda one: one.since)]
    return tuple(_window(listed, steps, end, months) for end in ends)


def _window(
    listed: Sequence[Expenditure], steps: Sequence[StatedBasis], end: date, months: int
) -> Window:
    start = _first_day(end, months)
    within = sum(one.cents for one in listed if start <= one.day <= end)
    basis = [one for one in steps if one.since <= start][-1]
    since = sum(one.cents for one in listed if basis.since <= one.day < start)
    return Window(start, end, within, basis.cents + since)


def _first_day(end: date, months: int) -> date:
    """Return the first day of a window of whole months that ends on the last of a month."""
    number = end.year * 12 + end.month - months
    return date(number // 12, number % 12 + 1, 1)


def _month_ends(first: date, last: date) -> list[date]:
    ends, month = [], first.replace(day=1)
    while month <= last:
        following = (month + timedelta(32)).replace(day=1)
        ends.append(following - timedelta(1))
        month = following
    return ends


@dataclass(frozen=True)
class Credit:
    """The credit, and how it comes.

    Parameters
    ----------
    qualified_cents, credit_cents : int
        [0.01 $] What qualifies, and a fifth of it.
    by_year : tuple of (int, int)
        Year, and what comes in it [0.01 $].
    """

    qualified_cents: int
    credit_cents: int
    by_year: tuple[tuple[int, int], ...]

    @property
    def basis_reduction_cents(self) -> int:
        """By how much the basis of the building is reduced: the whole credit [0.01 $]."""
        return self.credit_cents


def rehabilitation_credit(qualified_cents: int, placed_in_service: date) -> Credit:
    """Return the credit for a certified historic structure, spread over five years.

    Parameters
    ----------
    qualified_cents : int
        [0.01 $] Qualified expenditures, not negative.
    placed_in_service : date
        The first of the five years is its tax year, taken as the calendar year.

    Raises
    ------
    FundingFaulty
        If the expenditures are below zero.

    Notes
    -----
    20 %, half-up to the cent; five equal parts by the largest remainder, so that they add up.

    References
    ----------
    26 U.S.C. 47(a), as amended in 2017; 50(c) for the basis.

    Examples
    --------
    >>> credit = rehabilitation_credit(16_800_000, date(2026, 10, 1))
    >>> credit.credit_cents, [cents for _, cents in credit.by_year][:2]
    (3360000, [672000, 672000])
    """
    if qualified_cents < 0:
        raise fault(FundingFaulty, "are below zero", where="qualified_cents")
    credit = whole_half_up(qualified_cents * Fraction(CREDIT_FRACTION))
    parts = apportion(credit, [1] * CREDIT_YEARS)
    years = range(placed_in_service.year, placed_in_service.year + CREDIT_YEARS)
    return Credit(qualified_cents, credit, tuple(zip(years, parts, strict=True)))


@dataclass(frozen=True)
class Recapture:
    """What of the credit is taken back if the building is given up before a day.

    Parameters
    ----------
    until : date
        Before this day: it ends a full year in service.
    percent : int
        [%] Of the credit.
    cents : int
        [0.01 $]
    """

    until: date
    percent: int
    cents: int


def recapture(credit_cents: int, placed_in_service: date) -> tuple[Recapture, ...]:
    """Return what of a credit is taken back, by the full years that the building was in service.

    Parameters
    ----------
    credit_cents : int
        [0.01 $]
    placed_in_service : date
        First day in service.

    Notes
    -----
    A fifth less with each full year; half-up to the cent.

    References
    ----------
    26 U.S.C. 50(a)(1)(B), recapture percentage.

    Examples
    --------
    >>> [one.cents for one in recapture(3_360_000, date(2026, 10, 1))]
    [3360000, 2688000, 2016000, 1344000, 672000]
    """
    return tuple(
        Recapture(
            _years_later(placed_in_service, year + 1),
            percent,
            whole_half_up(Fraction(credit_cents * percent, 100)),
        )
        for year, percent in enumerate(range(100, 0, -20))
    )


def _years_later(day: date, years: int) -> date:
    is_leap_day = (day.month, day.day) == (2, 29)
    return date(day.year + years, 3, 1) if is_leap_day else day.replace(year=day.year + years)
