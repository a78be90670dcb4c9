"""A workweek's payroll: hours by code, overtime, the year's taxes, and what each code bears."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from decimal import Decimal
from types import MappingProxyType

from estimator.errors import Faults, LaborFaulty, fault
from estimator.money import (
    apportion,
    dollars,
    exact_arithmetic,
    fixed_point,
    round_to_cent,
    to_cents,
)
from estimator.rates.labor.labor_burden import PayrollInsurance
from estimator.rates.labor.overtime import HoursAtRate, WeekPay, overtime_hours, week_pay
from estimator.rates.labor.payroll_taxes import EmployerTax, taxes_due
from estimator.tracking.overtime_rules import AVERAGE_RATE, RATE_IN_EFFECT

DAYS_IN_A_WEEK = 7
_HOURS_IN_A_DAY = Decimal(24)
_HOURS_IN_A_WEEK = Decimal(168)
_WEIGHT_DECIMALS = 8


@dataclass(frozen=True)
class Worked:
    """Hours [hr], and what they come to at straight time [0.01 $]."""

    hours: Decimal = Decimal(0)
    cents: int = 0

    def __add__(self, other: Worked) -> Worked:
        """Return both together."""
        return Worked(self.hours + other.hours, self.cents + other.cents)


@dataclass(frozen=True)
class HoursRow:
    """One person's hours on one code and day.

    Parameters
    ----------
    row : int
        Its number in the books.
    happened, entered : date, datetime
        The day of work; when it was entered [UTC].
    person, trade : str
        Initials, and the trade that the rate is for.
    code : str
        Cost code.
    hours : Decimal
        [hr] Negative in a reversal.
    rate_per_hr : Decimal
        [$/hr] Straight time; the value of the hour where it is unpaid.
    is_unpaid : bool
        True of the owner's own hours, which are no cash, draw or credit.
    reverses : int or None
        Number of the row that it takes back.
    """

    row: int
    happened: date
    entered: datetime
    person: str
    trade: str
    code: str
    hours: Decimal
    rate_per_hr: Decimal
    is_unpaid: bool = False
    reverses: int | None = None

    @property
    def cents(self) -> int:
        """The hours at straight time [0.01 $]."""
        return to_cents(self.hours * self.rate_per_hr)


@dataclass(frozen=True)
class PayrollTerms:
    """How a payroll is worked out.

    Parameters
    ----------
    taxes : tuple of EmployerTax
        What the employer pays on wages.
    insurance : tuple of PayrollInsurance
        What is rated on the payroll.
    overtime_rule : str
        `weighted average` (29 CFR 778.115), or `rate in effect` (778.419) where each person has
        agreed to it before the work.
    """

    taxes: tuple[EmployerTax, ...]
    insurance: tuple[PayrollInsurance, ...]
    overtime_rule: str = AVERAGE_RATE

    def __post_init__(self) -> None:
        if self.overtime_rule not in (AVERAGE_RATE, RATE_IN_EFFECT):
            remedy = f"write {AVERAGE_RATE!r} or {RATE_IN_EFFECT!r}"
            raise fault(LaborFaulty, "is no rule for overtime", remedy, "overtime_rule")


@dataclass(frozen=True)
class PersonWeek:
    """What one person earned and cost in a workweek.

    Parameters
    ----------
    person : str
        Initials.
    hours, overtime_hours : Decimal
        [hr] All, and those beyond forty.
    straight_cents, premium_cents : int
        [0.01 $] Straight pay of all hours, and the extra half of overtime.
    tax_cents, insurance_cents : int
        [0.01 $] The employer's taxes and insurance: the burden.
    cents_by_code : mapping of str to int
        [0.01 $] All four; premium and burden follow the straight pay.
    """

    person: str
    hours: Decimal
    overtime_hours: Decimal
    straight_cents: int
    premium_cents: int
    tax_cents: int
    insurance_cents: int
    cents_by_code: Mapping[str, int]

    @property
    def gross_cents(self) -> int:
        """Pay before deductions [0.01 $]."""
        return self.straight_cents + self.premium_cents

    @property
    def burden_cents(self) -> int:
        """Taxes and insurance [0.01 $]."""
        return self.tax_cents + self.insurance_cents


@dataclass(frozen=True)
class YearToDate:
    """What a person was paid in a calendar year besides a workweek, and the taxes on it.

    Parameters
    ----------
    gross_cents, tax_cents : int
        [0.01 $] Pay before deductions, and the employer's taxes as they were posted.
    """

    gross_cents: int = 0
    tax_cents: int = 0


def workweek_end(day: date, last_weekday: int) -> date:
    """Return the last day of the workweek that a day lies in.

    Parameters
    ----------
    day : date
        Any day.
    last_weekday : int
        0 for Monday to 6 for Sunday.

    References
    ----------
    29 CFR 778.105: seven days in a row, beginning on a fixed day.

    Examples
    --------
    >>> workweek_end(date(2026, 5, 13), 6)
    datetime.date(2026, 5, 17)
    """
    return day + timedelta((last_weekday - day.weekday()) % DAYS_IN_A_WEEK)


def check_hours(rows: Iterable[HoursRow]) -> None:
    """Check that nobody works more than a day or a week has hours.

    Parameters
    ----------
    rows : iterable of HoursRow
        All of one workweek, unpaid hours too.

    Raises
    ------
    LaborFaulty
        With each person and day over 24 hours, each person over 168, each below zero.
    """
    by_day: dict[tuple[str, date], Decimal] = defaultdict(Decimal)
    by_person: dict[str, Decimal] = defaultdict(Decimal)
    for row in rows:
        by_day[row.person, row.happened] += row.hours
        by_person[row.person] += row.hours
    faults = Faults()
    for (person, day), hours in by_day.items():
        if hours > _HOURS_IN_A_DAY:
            faults.add(f"{person}, {day}", f"{hours} hours are more than a day has")
        if hours < 0:
            faults.add(f"{person}, {day}", f"{hours} hours are below zero", "reverse less")
    for person, hours in by_person.items():
        if hours > _HOURS_IN_A_WEEK:
            faults.add(person, f"{hours} hours are more than a week has")
    faults.raise_if_any(LaborFaulty)


@exact_arithmetic
def person_week(
    rows: Sequence[HoursRow], terms: PayrollTerms, year: YearToDate = YearToDate()
) -> PersonWeek:
    """Return what one person costs in a workweek.

    Parameters
    ----------
    rows : sequence of HoursRow
        The paid hours of one person in one workweek, at least one.
    terms : PayrollTerms
        Taxes, insurance and the rule for overtime.
    year : YearToDate
        Of the person, without this week.

    Raises
    ------
    LaborFaulty
        If there are more hours than a week has, or less than none.

    Notes
    -----
    The taxes are what is due on the year's pay with this week, less what was posted on the rest of
    it: so the year's weeks add up to the tax on the year's pay to the cent, in whatever order they
    were closed.

    References
    ----------
    29 CFR 778.110, .115, .419.
    """
    check_hours(rows)
    pay = _pay(rows, terms.overtime_rule)
    gross = pay.straight_pay + pay.overtime_premium
    tax_cents = _tax_cents(dollars(year.gross_cents) + gross, terms) - year.tax_cents
    insurance_cents = to_cents(_insurance(pay, terms))
    return PersonWeek(
        person=rows[0].person,
        hours=pay.hours,
        overtime_hours=pay.overtime_hours,
        straight_cents=to_cents(pay.straight_pay),
        premium_cents=to_cents(pay.overtime_premium),
        tax_cents=tax_cents,
        insurance_cents=insurance_cents,
        cents_by_code=_by_code(rows, to_cents(gross) + tax_cents + insurance_cents),
    )


def year_before(gross_cents: int, terms: PayrollTerms) -> YearToDate:
    """Return a year to date of pay that was taxed outside these books [0.01 $]."""
    return YearToDate(gross_cents, _tax_cents(dollars(gross_cents), terms))


def _pay(rows: Sequence[HoursRow], rule: str) -> WeekPay:
    by_rate: dict[Decimal, Decimal] = defaultdict(Decimal)
    for row in rows:
        by_rate[row.rate_per_hr] += row.hours
    average = week_pay([HoursAtRate(hours, rate) for rate, hours in by_rate.items()])
    if rule == AVERAGE_RATE:
        return average
    return WeekPay(
        hours=average.hours,
        overtime_hours=average.overtime_hours,
        regular_rate=average.regular_rate,
        straight_pay=average.straight_pay,
        overtime_premium=_premium_in_effect(rows),
        cash_fringe=Decimal(0),
    )


def _premium_in_effect(rows: Sequence[HoursRow]) -> Decimal:
    """Return half of the rate of each hour beyond the fortieth, in the order they were worked."""
    worked = premium = Decimal(0)
    for row in sorted(rows, key=lambda one: (one.happened, one.row)):
        before = overtime_hours(max(worked, Decimal(0)))
        worked += row.hours
        extra = overtime_hours(max(worked, Decimal(0))) - before
        premium += extra * row.rate_per_hr / 2
    return round_to_cent(premium)


def _tax_cents(gross: Decimal, terms: PayrollTerms) -> int:
    return sum(to_cents(one.amount) for one in taxes_due(gross, terms.taxes))


def _insurance(pay: WeekPay, terms: PayrollTerms) -> Decimal:
    premiums = (
        one.premium(
            pay.straight_pay + pay.overtime_premium
            if one.counts_overtime_premium
            else pay.straight_pay
        )
        for one in terms.insurance
    )
    return sum(premiums, Decimal(0))


def _by_code(rows: Sequence[HoursRow], cents: int) -> Mapping[str, int]:
    weights: dict[str, Decimal] = defaultdict(Decimal)
    for row in rows:
        weights[row.code] += row.hours * row.rate_per_hr
    bearing = {code: weight for code, weight in weights.items() if weight > 0}
    if not bearing:
        return MappingProxyType({})
    scaled = [fixed_point(weight, _WEIGHT_DECIMALS) for weight in bearing.values()]
    return MappingProxyType(dict(zip(bearing, apportion(cents, scaled), strict=True)))
