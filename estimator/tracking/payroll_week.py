"""A workweek's payroll: hours by code, overtime, the year's taxes, and what each code bears."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from decimal import Decimal
from types import MappingProxyType

from estimator.errors import Faults, LaborFaulty, fault
from estimator.money import apportion, exact_arithmetic, fixed_point, round_to_cent, to_cents
from estimator.rates.labor.labor_burden import PayrollInsurance
from estimator.rates.labor.overtime import HoursAtRate, WeekPay, overtime_hours, week_pay
from estimator.rates.labor.payroll_taxes import EmployerTax, taxes_due

AVERAGE_RATE = "weighted average"
RATE_IN_EFFECT = "rate in effect"
_DAYS = 7
_HOURS_IN_A_DAY = Decimal(24)
_HOURS_IN_A_WEEK = Decimal(168)
_WEIGHT_DECIMALS = 8


@dataclass(frozen=True)
class HoursRow:
    """Hours of one person on one code and day.

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
    straight_cents, premium_cents, burden_cents : int
        [0.01 $] Straight pay of all hours, the extra half, and the employer's taxes and insurance.
    cents_by_code : mapping of str to int
        [0.01 $] All three; premium and burden follow the straight pay.
    """

    person: str
    hours: Decimal
    overtime_hours: Decimal
    straight_cents: int
    premium_cents: int
    burden_cents: int
    cents_by_code: Mapping[str, int]

    @property
    def gross_cents(self) -> int:
        """Pay before deductions [0.01 $]."""
        return self.straight_cents + self.premium_cents


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
    return day + timedelta((last_weekday - day.weekday()) % _DAYS)


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
    rows: Sequence[HoursRow], terms: PayrollTerms, paid_before: Decimal = Decimal(0)
) -> PersonWeek:
    """Return what one person costs in a closed workweek.

    Parameters
    ----------
    rows : sequence of HoursRow
        The paid hours of one person in one workweek, at least one.
    terms : PayrollTerms
        Taxes, insurance and the rule for overtime.
    paid_before : Decimal
        [$] Gross pay of the person earlier in the calendar year.

    Raises
    ------
    LaborFaulty
        If there are more hours than a week has, or less than none.

    Notes
    -----
    Each tax is what is due on the year to date with this week less what was due without it, so the
    year's weeks add up to the tax on the year's wages to the cent.

    References
    ----------
    29 CFR 778.110, .115, .419.
    """
    check_hours(rows)
    pay = _pay(rows, terms.overtime_rule)
    gross = pay.straight_pay + pay.overtime_premium
    burden = _taxes(gross, terms, paid_before) + _insurance(pay, terms)
    return PersonWeek(
        person=rows[0].person,
        hours=pay.hours,
        overtime_hours=pay.overtime_hours,
        straight_cents=to_cents(pay.straight_pay),
        premium_cents=to_cents(pay.overtime_premium),
        burden_cents=to_cents(burden),
        cents_by_code=_by_code(rows, to_cents(gross + burden)),
    )


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


def _taxes(gross: Decimal, terms: PayrollTerms, paid_before: Decimal) -> Decimal:
    with_week = taxes_due(paid_before + gross, terms.taxes)
    before = taxes_due(paid_before, terms.taxes)
    return sum(
        (one.amount - other.amount for one, other in zip(with_week, before, strict=True)),
        Decimal(0),
    )


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


def late_difference(closed: PersonWeek, again: PersonWeek) -> Mapping[str, int]:
    """Return what late hours add to each code of a closed week [0.01 $].

    Parameters
    ----------
    closed : PersonWeek
        As it was posted.
    again : PersonWeek
        With the late hours; it is posted as a difference, dated the week's end.

    Raises
    ------
    LaborFaulty
        If they are of two persons.
    """
    if closed.person != again.person:
        raise fault(LaborFaulty, f"is {again.person}, not {closed.person}", where="person")
    codes = dict.fromkeys([*closed.cents_by_code, *again.cents_by_code])
    differences = {
        code: again.cents_by_code.get(code, 0) - closed.cents_by_code.get(code, 0) for code in codes
    }
    return MappingProxyType({code: cents for code, cents in differences.items() if cents})
