"""Pay of one workweek with overtime, by the regular rate of 29 CFR part 778.

The regular rate is everything earned in the week, bonus included, over all hours worked; hours
beyond forty earn half of it on top. Some states ask for daily overtime as well: this is the
federal rule only, and a payroll adviser's word goes first.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from estimator.errors import LaborFaulty, fault
from estimator.money import exact_arithmetic, round_to_cent
from estimator.rates.exact_inputs import COUNT, Count, Exact, exact_inputs

STANDARD_WEEK_HR = Decimal(40)
_PREMIUM_DIVISOR = 2
_HOURS_IN_A_WEEK = Decimal(168)
_WEEKS_IN_A_YEAR = Decimal(52)


@exact_inputs(LaborFaulty, hours="hr", rate_per_hr="$/hr")
@dataclass(frozen=True)
class HoursAtRate:
    """Hours of one week at one straight-time rate.

    Parameters
    ----------
    hours : Decimal [hr]
        Worked at this rate.
    rate_per_hr : Decimal [$/hr]
        Straight time.
    """

    hours: Exact
    rate_per_hr: Exact


@exact_arithmetic
@dataclass(frozen=True)
class WeekPay:
    """What one employee earns in one workweek.

    Parameters
    ----------
    hours, overtime_hours : Decimal [hr]
        All hours worked, and those beyond forty.
    regular_rate : Decimal [$/hr]
        Not rounded.
    straight_pay : Decimal [$]
        All that counts toward the regular rate, for all hours.
    overtime_premium : Decimal [$]
        The extra half; the part that workers' compensation leaves out.
    cash_fringe : Decimal [$]
        Cash in place of a fringe benefit, outside the regular rate.
    """

    hours: Decimal
    overtime_hours: Decimal
    regular_rate: Decimal
    straight_pay: Decimal
    overtime_premium: Decimal
    cash_fringe: Decimal

    @property
    def total(self) -> Decimal:
        """Gross pay of the week [$]."""
        return self.straight_pay + self.overtime_premium + self.cash_fringe


@exact_inputs(LaborFaulty, hours="hr")
def overtime_hours(hours: Exact) -> Decimal:
    """Return the hours of a workweek beyond forty [hr].

    Raises
    ------
    LaborFaulty
        If the hours are negative or more than a week has.

    Examples
    --------
    >>> overtime_hours(Decimal(46)), overtime_hours(Decimal(38))
    (Decimal('6'), Decimal('0'))
    """
    if hours > _HOURS_IN_A_WEEK:
        raise fault(LaborFaulty, "are more than the 168 of a week", "pay week by week", "hours")
    return max(Decimal(0), hours - STANDARD_WEEK_HR)


@exact_inputs(LaborFaulty, earnings="$", hours="hr", cash_fringe_per_hr="$/hr")
def earned_week_pay(
    earnings: Exact, hours: Exact, cash_fringe_per_hr: Exact = Decimal(0)
) -> WeekPay:
    """Return the pay of a week whose straight earnings are known: piece rates, day rates, salary.

    Parameters
    ----------
    earnings : Decimal [$]
        Everything that is pay for the week's work and counts toward the regular rate.
    hours : Decimal [hr]
        All hours worked, productive or waiting.
    cash_fringe_per_hr : Decimal [$/hr]
        Cash in place of a fringe benefit, outside the regular rate.

    Raises
    ------
    LaborFaulty
        If a number is negative, the week has too many hours, or there is pay without hours.

    Notes
    -----
    Regular rate R = E / H, not rounded. Premium = E max(0, H - 40) / 2 H, which is half of R an
    hour, multiplied before it is divided and rounded half-up to the cent once; so are straight pay
    and fringe.

    References
    ----------
    29 CFR 778.109, .111 (pieceworker), .112 (day rate), .114 (salary for fluctuating hours).

    Examples
    --------
    >>> week = earned_week_pay(Decimal(491) + 4 * Decimal(8), Decimal(50))
    >>> week.regular_rate, week.total
    (Decimal('10.46'), Decimal('575.30'))
    """
    extra_hours = overtime_hours(hours)
    if hours == 0 and earnings > 0:
        raise fault(LaborFaulty, "are zero although there is pay", "enter the hours", "hours")
    return WeekPay(
        hours=hours,
        overtime_hours=extra_hours,
        regular_rate=earnings / hours if hours else Decimal(0),
        straight_pay=round_to_cent(earnings),
        overtime_premium=_premium(earnings, hours, extra_hours),
        cash_fringe=round_to_cent(cash_fringe_per_hr * hours),
    )


@exact_inputs(LaborFaulty, bonus="$", cash_fringe_per_hr="$/hr")
def week_pay(
    worked: Sequence[HoursAtRate],
    bonus: Exact = Decimal(0),
    cash_fringe_per_hr: Exact = Decimal(0),
) -> WeekPay:
    """Return the pay of a week at one or several hourly rates, with a bonus.

    Parameters
    ----------
    worked : sequence of HoursAtRate
        The hours at each rate; with several rates the regular rate is their weighted average.
    bonus : Decimal [$]
        A production or attendance bonus for this week, which counts toward the regular rate. A
        gift that was never promised does not, and is left out here.
    cash_fringe_per_hr : Decimal [$/hr]
        Cash in place of a fringe benefit, outside the regular rate.

    Raises
    ------
    LaborFaulty
        If a number is negative, the week has too many hours, or there is a bonus without hours.

    References
    ----------
    29 CFR 778.110 (hourly rate, bonus), .115 (two or more rates), 4.182 (fringe).

    Examples
    --------
    >>> week_pay([HoursAtRate(Decimal(46), Decimal(12))], bonus=Decimal(46)).total
    Decimal('637.00')
    """
    hours = sum((one.hours for one in worked), Decimal(0))
    straight = sum((one.hours * one.rate_per_hr for one in worked), Decimal(0))
    return earned_week_pay(straight + bonus, hours, cash_fringe_per_hr)


@exact_inputs(LaborFaulty, positive=("salary_hours",), salary="$", salary_hours="hr", hours="hr")
def salaried_week_pay(salary: Exact, salary_hours: Exact, hours: Exact) -> WeekPay:
    """Return the pay of a week on a salary that covers a fixed number of hours.

    Parameters
    ----------
    salary : Decimal [$/week]
        Paid whole even when fewer hours are worked.
    salary_hours : Decimal [hr/week]
        The hours that the salary is understood to pay for.
    hours : Decimal [hr]
        Hours worked this week.

    Raises
    ------
    LaborFaulty
        If a number is negative or the salary covers no hours.

    Notes
    -----
    Regular rate R = salary / salary hours. Hours beyond those earn R each, and hours beyond forty
    half of R on top.

    References
    ----------
    29 CFR 778.113(a).

    Examples
    --------
    >>> salaried_week_pay(Decimal("182.70"), Decimal(35), Decimal(43)).total
    Decimal('232.29')
    """
    extra_hours = overtime_hours(hours)
    beyond_salary = max(Decimal(0), hours - salary_hours)
    return WeekPay(
        hours=hours,
        overtime_hours=extra_hours,
        regular_rate=salary / salary_hours,
        straight_pay=round_to_cent(salary + salary * beyond_salary / salary_hours),
        overtime_premium=_premium(salary, salary_hours, extra_hours),
        cash_fringe=Decimal(0),
    )


@exact_inputs(LaborFaulty, salary="$", periods_per_year=COUNT)
def weekly_salary(salary: Exact, periods_per_year: Count) -> Decimal:
    """Return the weekly equivalent of a monthly (12) or semimonthly (24) salary [$], not rounded.

    Raises
    ------
    LaborFaulty
        If the salary is negative, or the periods are not a whole number from 1.

    References
    ----------
    29 CFR 778.113(b).

    Examples
    --------
    >>> weekly_salary(Decimal(1040), 12), weekly_salary(Decimal(520), 24)
    (Decimal('240'), Decimal('240'))
    """
    if periods_per_year < 1:
        raise fault(LaborFaulty, "is below one", "12 for months", "periods_per_year")
    return salary * periods_per_year / _WEEKS_IN_A_YEAR


@exact_inputs(LaborFaulty, bonus="$", week_hours="hr")
def overtime_on_bonus(bonus: Exact, week_hours: Sequence[Exact]) -> Decimal:
    """Return the overtime that falls due when a bonus for several weeks becomes known [$].

    Parameters
    ----------
    bonus : Decimal [$]
        For the whole period, taken as earned in equal parts each week.
    week_hours : sequence of Decimal [hr]
        Hours worked in each week of the period.

    Raises
    ------
    LaborFaulty
        If a number is negative, or a week that shares the bonus has no hours.

    Notes
    -----
    Each week gets bonus / weeks; a week of H hours adds bonus max(0, H - 40) / (2 H weeks), rounded
    half-up to the cent week by week.

    References
    ----------
    29 CFR 778.209(a), (b).

    Examples
    --------
    >>> overtime_on_bonus(Decimal(100), [Decimal(40), Decimal(50)])
    Decimal('5.00')
    """
    if not week_hours:
        raise fault(LaborFaulty, "are missing", "enter the hours of each week", "week_hours")
    weeks = [earned_week_pay(bonus, hours) for hours in week_hours]
    extras = [_premium(bonus, len(weeks) * one.hours, one.overtime_hours) for one in weeks]
    return sum(extras, Decimal(0))


def _premium(earnings: Decimal, hours: Decimal, extra_hours: Decimal) -> Decimal:
    """Return half the regular rate for the extra hours; divided last, so that no tie is missed."""
    if not extra_hours:
        return round_to_cent(Decimal(0))
    return round_to_cent(earnings * extra_hours / (_PREMIUM_DIVISOR * hours))
