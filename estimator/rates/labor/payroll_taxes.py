"""Employer's payroll taxes: a rate on wages up to an annual base, employee by employee.

Each tax of each employee is rounded to the cent before anything is added up, as a payroll does;
the tax on a payroll's total is a different figure.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

import numpy as np
import numpy.typing as npt

from estimator.cents import Cents, divide_half_up
from estimator.errors import LaborFaulty, fault
from estimator.money import fixed_point, round_to_cent, rounded, to_cents
from estimator.rates.exact_inputs import Exact, exact_inputs

_RATE_DECIMALS = 6
_MOST_CENTS = 10**11
_FUTA_FRACTION = Decimal("0.060")
_FUTA_CREDIT_FRACTION = Decimal("0.054")
_FUTA_WAGE_BASE = Decimal(7000)


@exact_inputs(LaborFaulty, fractions=("rate_fraction",), rate_fraction="fraction", wage_base="$")
@dataclass(frozen=True)
class EmployerTax:
    """A tax that the employer pays on an employee's wages.

    Parameters
    ----------
    name : str
        As the line of the burden is called.
    rate_fraction : Decimal
        [$ per $ of wages], 0 to 1, at most six decimals.
    wage_base : Decimal or None
        [$ per employee and calendar year] wages above it bear no tax; None where all wages do.

    Raises
    ------
    LaborFaulty
        If the rate is not a fraction of at most six decimals or the base is negative.
    """

    name: str
    rate_fraction: Exact
    wage_base: Exact | None = None

    def __post_init__(self) -> None:
        if self.rate_fraction != rounded(self.rate_fraction, _RATE_DECIMALS):
            raise fault(LaborFaulty, "has more than six decimals", where="rate_fraction")


@dataclass(frozen=True)
class TaxDue:
    """One tax on one employee's wages of a period: the part that is taxed, and the tax [$]."""

    tax: EmployerTax
    taxable_wages: Decimal
    amount: Decimal


# 26 U.S.C. 3111(b); IRS Publication 15, "Social security and Medicare taxes".
MEDICARE = EmployerTax("Medicare", Decimal("0.0145"))


def social_security(wage_base: Exact) -> EmployerTax:
    """Return the employer's social security tax, 6.2 %, with the wage base of a year.

    Parameters
    ----------
    wage_base : Decimal [$ per employee and year]
        Announced by the Social Security Administration every October for the next year.

    References
    ----------
    26 U.S.C. 3111(a); IRS Publication 15.

    Examples
    --------
    >>> tax_due(Decimal("1000.00"), social_security(Decimal(176100))).amount
    Decimal('62.00')
    """
    return EmployerTax("social security", Decimal("0.062"), wage_base)


@exact_inputs(LaborFaulty, credit_reduction_fraction="fraction")
def federal_unemployment(credit_reduction_fraction: Exact = Decimal(0)) -> EmployerTax:
    """Return the federal unemployment tax (FUTA) on the first 7,000 of an employee's wages.

    Parameters
    ----------
    credit_reduction_fraction : Decimal [$ per $]
        Zero, or what the Department of Labor takes off the credit in a state that owes.

    Raises
    ------
    LaborFaulty
        If more is taken off than the credit of 5.4 %.

    Notes
    -----
    6.0 % less the credit of 5.4 % for state unemployment tax that is paid in full and in time,
    plus the reduction. Without the state's tax, or when it is late, the credit shrinks or is lost.

    References
    ----------
    26 U.S.C. 3301, 3302; IRS Form 940 and its Schedule A.

    Examples
    --------
    >>> tax_due(Decimal(40000), federal_unemployment()).amount
    Decimal('42.00')
    """
    if credit_reduction_fraction > _FUTA_CREDIT_FRACTION:
        raise fault(LaborFaulty, "is above the credit of 0.054", where="credit_reduction_fraction")
    rate = _FUTA_FRACTION - _FUTA_CREDIT_FRACTION + credit_reduction_fraction
    return EmployerTax("federal unemployment", rate, _FUTA_WAGE_BASE)


@exact_inputs(LaborFaulty, wages="$", paid_before="$")
def tax_due(wages: Exact, tax: EmployerTax, paid_before: Exact = Decimal(0)) -> TaxDue:
    """Return a tax on one employee's wages of a period, rounded half-up to the cent.

    Parameters
    ----------
    wages : Decimal [$]
        Of the period: a week, or the whole year.
    tax : EmployerTax
        Rate and wage base.
    paid_before : Decimal [$]
        Wages of this employee earlier in the same calendar year.

    Notes
    -----
    Taxed are min(wages, max(0, base - paid before)).

    Examples
    --------
    >>> tax_due(Decimal(900), federal_unemployment(), paid_before=Decimal(6500))
    ... # doctest: +ELLIPSIS
    TaxDue(tax=..., taxable_wages=Decimal('500'), amount=Decimal('3.00'))
    """
    taxable = wages
    if tax.wage_base is not None:
        taxable = min(wages, max(Decimal(0), tax.wage_base - paid_before))
    return TaxDue(tax, taxable, round_to_cent(taxable * tax.rate_fraction))


def taxes_due(
    wages: Exact, taxes: Iterable[EmployerTax], paid_before: Exact = Decimal(0)
) -> tuple[TaxDue, ...]:
    """Return every tax on one employee's wages, each rounded to the cent for itself.

    Parameters
    ----------
    wages, paid_before : Decimal [$]
        As for `tax_due`.
    taxes : iterable of EmployerTax
        All that fall due on the same wages.

    Examples
    --------
    >>> taxes = [social_security(Decimal(176100)), MEDICARE]
    >>> [str(due.amount) for due in taxes_due(Decimal("812.25"), taxes)]
    ['50.36', '11.78']
    """
    return tuple(tax_due(wages, tax, paid_before) for tax in taxes)


def tax_cents(
    wages_cents: npt.ArrayLike, tax: EmployerTax, paid_before_cents: npt.ArrayLike = 0
) -> Cents:
    """Return a tax for a whole payroll, each employee's rounded half-up to the cent.

    Parameters
    ----------
    wages_cents : int array, shape (n,) [cents]
        One entry an employee.
    tax : EmployerTax
        Rate and wage base.
    paid_before_cents : int or int array, shape (n,) [cents]
        Wages of each earlier in the year.

    Returns
    -------
    int64 array, shape (n,) [cents]
        To be added up as they stand: the tax on the total of a payroll is another figure.

    Raises
    ------
    LaborFaulty
        If a sum is negative, no whole number of cents, or beyond 1,000,000,000 dollars.

    Examples
    --------
    >>> int(tax_cents([81210, 81210], MEDICARE).sum()), int(tax_cents(162420, MEDICARE))
    (2356, 2355)
    """
    wages = _whole_cents("wages_cents", wages_cents)
    before = _whole_cents("paid_before_cents", paid_before_cents)
    taxable = wages
    if tax.wage_base is not None:
        taxable = np.minimum(wages, np.maximum(0, to_cents(tax.wage_base) - before))
    scaled_rate = fixed_point(tax.rate_fraction, _RATE_DECIMALS)
    return divide_half_up(taxable * scaled_rate, 10**_RATE_DECIMALS)


def _whole_cents(name: str, amounts: npt.ArrayLike) -> Cents:
    values = np.asarray(amounts)
    if not np.issubdtype(values.dtype, np.integer):
        raise fault(LaborFaulty, "are not whole cents", "give integers", name)
    if np.any(values < 0):
        raise fault(LaborFaulty, "are negative", "enter them without the minus sign", name)
    if np.any(values > _MOST_CENTS):
        raise fault(LaborFaulty, "are too large", "at most 1,000,000,000 dollars", name)
    return values.astype(np.int64)
