"""Employer's payroll taxes: a rate on wages up to an annual base, employee by employee.

Each tax of each employee is rounded to the cent before anything is added up, as a payroll does;
the tax on a payroll's total is a different figure. The taxes of a year and a state stand in
`rates/public/employer_taxes.csv`.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from estimator.errors import LaborFaulty, fault
from estimator.money import round_to_cent, rounded
from estimator.rates.exact_inputs import Exact, exact_inputs

_RATE_DECIMALS = 6


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
    source : str
        Where the rate comes from and what to know of it; empty where whoever asks states it.

    Raises
    ------
    LaborFaulty
        If the rate is not a fraction of at most six decimals or the base is negative.
    """

    name: str
    rate_fraction: Exact
    wage_base: Exact | None = None
    source: str = ""

    def __post_init__(self) -> None:
        if self.rate_fraction != rounded(self.rate_fraction, _RATE_DECIMALS):
            raise fault(LaborFaulty, "has more than six decimals", where="rate_fraction")


@dataclass(frozen=True)
class TaxDue:
    """One tax on one employee's wages of a period: the part that is taxed, and the tax [$]."""

    tax: EmployerTax
    taxable_wages: Decimal
    amount: Decimal


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
    >>> unemployment = EmployerTax("federal unemployment", Decimal("0.006"), Decimal(7000))
    >>> tax_due(Decimal(900), unemployment, paid_before=Decimal(6500)).amount
    Decimal('3.00')
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
    >>> taxes = [EmployerTax("social security", Decimal("0.062"), Decimal(184500))]
    >>> taxes.append(EmployerTax("Medicare", Decimal("0.0145")))
    >>> [str(due.amount) for due in taxes_due(Decimal("812.25"), taxes)]
    ['50.36', '11.78']
    """
    return tuple(tax_due(wages, tax, paid_before) for tax in taxes)
