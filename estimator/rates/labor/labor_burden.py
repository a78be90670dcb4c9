"""What an hour of hired labor costs: wage, overtime, fringe, employer taxes, insurance.

Taxes fall on all cash, overtime premium included; workers' compensation and general liability are
rated per 100 of straight-time pay. Each line is rounded to the cent, the cost is their exact sum.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from estimator.errors import LaborFaulty, fault
from estimator.money import RATE_DECIMALS, exact_arithmetic, round_to_cent, rounded
from estimator.rates.exact_inputs import Exact, exact_inputs
from estimator.rates.labor.payroll_taxes import EmployerTax, taxes_due

_PREMIUM_FRACTION = Decimal("0.5")


@exact_inputs(LaborFaulty, wage_per_hr="$/hr", cash_fringe_per_hr="$/hr", plan_fringe_per_hr="$/hr")
@dataclass(frozen=True)
class WageTerms:
    """What an employee is promised for an hour.

    Parameters
    ----------
    wage_per_hr : Decimal [$/hr]
        Straight-time cash wage, the base of overtime.
    cash_fringe_per_hr : Decimal [$/hr]
        Paid in cash in place of a benefit: taxed and insured, but no base of overtime.
    plan_fringe_per_hr : Decimal [$/hr]
        Paid into a benefit plan: neither taxed nor insured.
    """

    wage_per_hr: Exact
    cash_fringe_per_hr: Exact = Decimal(0)
    plan_fringe_per_hr: Exact = Decimal(0)


@exact_inputs(LaborFaulty, per_100="$", experience_modifier="fraction")
@dataclass(frozen=True)
class PayrollInsurance:
    """Insurance that is rated on payroll: workers' compensation, general liability.

    Parameters
    ----------
    name : str
        As the line of the burden is called.
    per_100 : Decimal [$ per 100 $ of pay]
        By the class of work: rates of roofers and of clerks differ by a factor of fifty.
    experience_modifier : Decimal
        Above 1 for an employer with more losses than its class.
    counts_overtime_premium : bool
        True in the few states that rate the extra half of overtime as well.
    """

    name: str
    per_100: Exact
    experience_modifier: Exact = Decimal(1)
    counts_overtime_premium: bool = False

    @exact_inputs(LaborFaulty, pay="$")
    def premium(self, pay: Exact) -> Decimal:
        """Return pay / 100 x rate x modifier, half-up to the cent [$]."""
        return round_to_cent(pay * self.per_100 * self.experience_modifier / 100)


@dataclass(frozen=True)
class BurdenLine:
    """One part of the burden: what it is rated on, and what it costs [$]."""

    name: str
    base: Decimal
    amount: Decimal


@exact_arithmetic
@dataclass(frozen=True)
class BurdenedPay:
    """What one employee costs over some hours, line by line.

    Parameters
    ----------
    paid_hours : Decimal [hr]
        At straight time and overtime together.
    straight_pay, overtime_premium, cash_fringe, plan_fringe : Decimal [$]
        The wage of all hours, the extra half of overtime, and fringe in cash and in plans.
    taxes, insurance : tuple of BurdenLine
        One line a tax and a policy, in the order they were named.
    """

    paid_hours: Decimal
    straight_pay: Decimal
    overtime_premium: Decimal
    cash_fringe: Decimal
    plan_fringe: Decimal
    taxes: tuple[BurdenLine, ...]
    insurance: tuple[BurdenLine, ...]

    @property
    def gross_pay(self) -> Decimal:
        """Cash to the employee before deductions [$]."""
        return self.straight_pay + self.overtime_premium + self.cash_fringe

    @property
    def burden(self) -> Decimal:
        """Employer's taxes, insurance and plan contributions [$]."""
        lines = (*self.taxes, *self.insurance)
        return sum((line.amount for line in lines), self.plan_fringe)

    @property
    def cost(self) -> Decimal:
        """All that the employer pays [$]."""
        return self.gross_pay + self.burden


@exact_arithmetic
@dataclass(frozen=True)
class BurdenedHour:
    """The cost of a paid hour in its parts [$/hr], each with four decimals.

    Parameters
    ----------
    wage, overtime_premium, fringe, taxes, insurance : Decimal [$/hr]
        Each line of the pay over the paid hours; fringe is that in cash and in plans.
    """

    wage: Decimal
    overtime_premium: Decimal
    fringe: Decimal
    taxes: Decimal
    insurance: Decimal

    @property
    def total(self) -> Decimal:
        """Exact sum of the printed parts [$/hr]."""
        return self.wage + self.overtime_premium + self.fringe + self.taxes + self.insurance


@exact_inputs(LaborFaulty, straight_hours="hr", overtime_hours="hr", paid_before="$")
def burdened_pay(
    terms: WageTerms,
    taxes: tuple[EmployerTax, ...],
    insurance: tuple[PayrollInsurance, ...],
    straight_hours: Exact,
    overtime_hours: Exact = Decimal(0),
    paid_before: Exact = Decimal(0),
) -> BurdenedPay:
    """Return what one employee costs over some hours: a week, or a whole year.

    Parameters
    ----------
    terms : WageTerms
        What an hour is paid.
    taxes : tuple of EmployerTax
        What the employer pays on the wages.
    insurance : tuple of PayrollInsurance
        What is rated on the payroll.
    straight_hours : Decimal [hr]
        Paid at the wage, paid holidays included.
    overtime_hours : Decimal [hr]
        Paid at one and a half times the wage.
    paid_before : Decimal [$]
        Gross pay earlier in the calendar year, against the wage bases of the taxes.

    Raises
    ------
    LaborFaulty
        If a number is negative, or there are no hours at all.

    Notes
    -----
    Fringe is paid for every hour and is no base of overtime (29 CFR 4.182, 5.32). A wage base that
    is reached in the year makes the average hour of the year cheaper than the first one: price
    with the year's hours, or with `paid_before`.

    Examples
    --------
    >>> medicare = EmployerTax("Medicare", Decimal("0.0145"))
    >>> compensation = PayrollInsurance("workers' compensation", Decimal("9.00"))
    >>> week = burdened_pay(
    ...     WageTerms(Decimal(24)), (medicare,), (compensation,), Decimal(40), Decimal(6)
    ... )
    >>> week.gross_pay, week.insurance[0].amount  # 9 % of 46 hours, not of 49
    (Decimal('1176.00'), Decimal('99.36'))
    """
    hours = straight_hours + overtime_hours
    if hours == 0:
        raise fault(LaborFaulty, "are zero", "enter the hours that are paid", "straight_hours")
    straight = round_to_cent(terms.wage_per_hr * hours)
    premium = round_to_cent(terms.wage_per_hr * overtime_hours * _PREMIUM_FRACTION)
    cash_fringe = round_to_cent(terms.cash_fringe_per_hr * hours)
    due = taxes_due(straight + premium + cash_fringe, taxes, paid_before)
    return BurdenedPay(
        paid_hours=hours,
        straight_pay=straight,
        overtime_premium=premium,
        cash_fringe=cash_fringe,
        plan_fringe=round_to_cent(terms.plan_fringe_per_hr * hours),
        taxes=tuple(BurdenLine(one.tax.name, one.taxable_wages, one.amount) for one in due),
        insurance=tuple(_insured(one, straight + cash_fringe, premium) for one in insurance),
    )


@exact_arithmetic
def burdened_hour(pay: BurdenedPay) -> BurdenedHour:
    """Return the cost of an average paid hour in its parts, four decimals half-up.

    Examples
    --------
    >>> medicare = EmployerTax("Medicare", Decimal("0.0145"))
    >>> burdened_hour(burdened_pay(WageTerms(Decimal(20)), (medicare,), (), Decimal(40))).total
    Decimal('20.2900')
    """
    return BurdenedHour(
        wage=_per_hour(pay.straight_pay, pay),
        overtime_premium=_per_hour(pay.overtime_premium, pay),
        fringe=_per_hour(pay.cash_fringe + pay.plan_fringe, pay),
        taxes=_per_hour(sum((line.amount for line in pay.taxes), Decimal(0)), pay),
        insurance=_per_hour(sum((line.amount for line in pay.insurance), Decimal(0)), pay),
    )


def _insured(insurance: PayrollInsurance, straight: Decimal, premium: Decimal) -> BurdenLine:
    base = straight + premium if insurance.counts_overtime_premium else straight
    return BurdenLine(insurance.name, base, insurance.premium(base))


def _per_hour(amount: Decimal, pay: BurdenedPay) -> Decimal:
    return rounded(amount / pay.paid_hours, RATE_DECIMALS)
