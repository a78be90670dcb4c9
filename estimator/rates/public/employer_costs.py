"""What an employer pays on top of a wage in a year and a state, from public figures."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

from estimator.errors import Faults, RateMissing, TablesFaulty, fault
from estimator.money import RATE_DECIMALS, exact_arithmetic, rounded
from estimator.rates.csv_file import csv_file_rows
from estimator.rates.labor.payroll_taxes import EmployerTax
from estimator.rates.public.public_wages import sourced

_TAXES = ("year", "state", "tax", "fraction", "wage_base", "source", "status", "note")
_COSTS = ("part", "dollars_per_hr", "date", "source", "status")
_CASH_PARTS = ("supplemental pay", "paid leave")
_PLAN_PART = "insurance and retirement"


@dataclass(frozen=True)
class FringeShares:
    """What comes on top of wages besides taxes and insurance, as parts of the wage.

    Parameters
    ----------
    cash : Decimal [$ per $ of wage]
        Paid leave, premiums and bonuses, which are taxed.
    plan : Decimal [$ per $ of wage]
        Paid into health and retirement plans, which is not taxed.
    source : str
        The survey.
    """

    cash: Decimal
    plan: Decimal
    source: str


def employer_taxes(folder: Path, year: int, state: str | None) -> tuple[EmployerTax, ...]:
    """Return the taxes of an employer in a year: federal ones, and unemployment of the state.

    Parameters
    ----------
    folder : Path
        Of public figures: `public_folder()`.
    year : int
        Calendar year.
    state : str or None
        Two letters; a row of the state takes the place of the general one of that tax.

    Raises
    ------
    TablesFaulty
        With every fault of the file.
    RateMissing
        If the year has no taxes.

    Examples
    --------
    >>> from estimator.rates.public.public_wages import public_folder
    >>> [(one.name, str(one.rate_fraction)) for one in employer_taxes(public_folder(), 2025, "CA")]
    ... # doctest: +NORMALIZE_WHITESPACE
    [('social security', '0.062'), ('Medicare', '0.0145'), ('federal unemployment', '0.018'),
     ('state unemployment', '0.027')]
    """
    faults = Faults()
    by_name: dict[str, EmployerTax] = {}
    years = set()
    rows = list(csv_file_rows(folder / "employer_taxes.csv", "public taxes", _TAXES, faults))
    for row in sorted(rows, key=lambda row: bool(row.text("state", required=False))):
        years.add(row.text("year"))
        if row.text("year") == str(year) and row.text("state", required=False) in ("", state):
            name = row.text("tax")
            fraction = row.decimal("fraction", decimals=6) or Decimal(0)
            base = row.decimal("wage_base", decimals=2, required=False)
            note = row.text("note", required=False)
            source = "; ".join(part for part in (sourced(row), note) if part)
            by_name[name] = EmployerTax(name, fraction, base, source)
    faults.raise_if_any(TablesFaulty)
    if not by_name:
        known = f"{min(years)} to {max(years)}"
        raise fault(RateMissing, f"no taxes are known for {year}", f"use {known}", "year")
    return tuple(by_name.values())


@exact_arithmetic
def fringe_shares(folder: Path) -> FringeShares:
    """Return what private construction pays beside wages and what the law requires.

    Raises
    ------
    TablesFaulty
        With every fault of the file.

    Notes
    -----
    Employer Costs for Employee Compensation, per hour worked: supplemental pay and leave over
    wages, (1.61 + 1.97) / 30.39; insurance and retirement over wages, 5.55 / 30.39; four decimals.

    Examples
    --------
    >>> from estimator.rates.public.public_wages import public_folder
    >>> shares = fringe_shares(public_folder())
    >>> shares.cash, shares.plan
    (Decimal('0.1178'), Decimal('0.1826'))
    """
    faults = Faults()
    cost: dict[str, Decimal] = {}
    source = ""
    for row in csv_file_rows(folder / "employer_costs.csv", "public costs", _COSTS, faults):
        cost[row.text("part")] = row.decimal("dollars_per_hr", decimals=2) or Decimal(0)
        source = sourced(row)
    faults.raise_if_any(TablesFaulty)
    cash = sum((cost[one] for one in _CASH_PARTS), Decimal(0))
    return FringeShares(
        _share(cash, cost["wages"]), _share(cost[_PLAN_PART], cost["wages"]), source
    )


def _share(part: Decimal, wage: Decimal) -> Decimal:
    return rounded(part / wage, RATE_DECIMALS)
