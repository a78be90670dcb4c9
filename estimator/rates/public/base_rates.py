"""Labor rates from public wages: the wage of a trade, burdened by the house's own arithmetic."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from pathlib import Path

from estimator.errors import LaborFaulty
from estimator.money import HOUSE, exact_arithmetic, rounded
from estimator.rates.exact_inputs import Exact, exact_inputs
from estimator.rates.labor.labor_burden import (
    PayrollInsurance,
    WageTerms,
    burdened_hour,
    burdened_pay,
)
from estimator.rates.labor.payroll_taxes import EmployerTax
from estimator.rates.public.employer_costs import FringeShares, employer_taxes, fringe_shares
from estimator.rates.public.public_wages import PublicWage, read_public_wages, wage_of
from estimator.rates.resources import RateTable, ResourceRate
from estimator.rates.rows import Origin

YEAR_HR = Decimal(2080)
FAR_OFF = Decimal("0.15")
# What is left of the legally required $4.03 of the survey in `employer_costs.csv` when 7.65 % of
# wages, supplemental pay and leave and both unemployment taxes are taken off, over that pay.
USUAL_COMPENSATION = Decimal("3.89")


@exact_inputs(LaborFaulty, compensation_per_100="$", liability_per_100="$")
@dataclass(frozen=True)
class StatedInsurance:
    """Insurance rated on payroll, which no public table gives: it is stated.

    Parameters
    ----------
    compensation_per_100, liability_per_100 : Decimal [$ per 100 $ of pay]
        Workers' compensation and general liability; the first differs by trade and state by a
        factor of fifty, so that the usual one is an average of all construction.
    """

    compensation_per_100: Exact = USUAL_COMPENSATION
    liability_per_100: Exact = Decimal(0)

    @property
    def policies(self) -> tuple[PayrollInsurance, ...]:
        """Both, as the burden takes them."""
        return (
            PayrollInsurance("workers' compensation", self.compensation_per_100),
            PayrollInsurance("general liability", self.liability_per_100),
        )


@dataclass(frozen=True)
class BaseRate:
    """A labor rate from a public wage.

    Parameters
    ----------
    wage : PublicWage
        What the rate is made from.
    rate : ResourceRate
        The new row.
    before : ResourceRate
        The row of the tables that it is laid over.
    """

    wage: PublicWage
    rate: ResourceRate
    before: ResourceRate

    @property
    def above(self) -> Decimal:
        """By what fraction of the public figure the row before is above it; four decimals."""
        return rounded(HOUSE.divide(self.before.rate, self.rate.rate) - 1, 4)

    @property
    def is_far_off(self) -> bool:
        """Whether the row of the tables is more than 15 % off the public figure."""
        return abs(self.above) > FAR_OFF


@dataclass(frozen=True)
class _Burden:
    taxes: tuple[EmployerTax, ...]
    fringe: FringeShares
    insurance: tuple[PayrollInsurance, ...]

    @exact_arithmetic
    def hour(self, wage: Decimal) -> Decimal:
        """Return what an hour worked costs over a year [$/hr], to the cent."""
        terms = WageTerms(
            wage, rounded(wage * self.fringe.cash, 4), rounded(wage * self.fringe.plan, 4)
        )
        pay = burdened_pay(terms, self.taxes, self.insurance, YEAR_HR)
        return rounded(burdened_hour(pay).total, 2)


def base_rates(
    rates: RateTable,
    folder: Path,
    year: int,
    state: str | None = None,
    insurance: StatedInsurance | None = None,
) -> tuple[BaseRate, ...]:
    """Return a rate for each hired trade of some tables, from its public wage.

    Parameters
    ----------
    rates : RateTable
        What the new rates are laid over: its labor by the hour that is paid and that stands for a
        trade of the surveys.
    folder : Path
        Of public figures: `public_folder()`.
    year : int
        Whose taxes hold; the rates are dated on its first day.
    state : str or None
        Two letters; None for the nation.
    insurance : StatedInsurance or None
        The usual one if None.

    Returns
    -------
    tuple of BaseRate
        By code. Low and high are the burdened 10th and 90th percentile of the wage.

    Raises
    ------
    RateMissing
        If the state is unknown, or the year has no taxes or no survey.

    Notes
    -----
    An hour worked costs the wage, leave and supplements in cash, plans, taxes and insurance:
    `burdened_pay` over 2,080 hours.
    """
    stated = insurance or StatedInsurance()
    burden = _Burden(employer_taxes(folder, year, state), fringe_shares(folder), stated.policies)
    wages = read_public_wages(folder)
    codes = [one for one in _hired(rates) if one in wages.occupations]
    made = []
    for number, code in enumerate(codes, start=2):
        wage = wage_of(wages, code, state, year)
        origin = Origin("base", "resources.csv", number)
        before = rates.newest_rate(code)
        made.append(BaseRate(wage, _row(wage, burden, before, date(year, 1, 1), origin), before))
    return tuple(made)


def _hired(rates: RateTable) -> Iterable[str]:
    return [
        code
        for code in rates.codes
        if rates.kind_of(code) == "labor" and rates.unit_of(code).name == "hr"
        and rates.newest_rate(code).is_paid
    ]  # fmt: skip


def _row(
    wage: PublicWage, burden: _Burden, before: ResourceRate, day: date, origin: Origin
) -> ResourceRate:
    low, high = (None if one is None else burden.hour(one) for one in (wage.low, wage.high))
    return replace(
        before, rate=burden.hour(wage.mean), low=low, high=high, set_on=day, valid_until=None,
        source=f"{wage.source}: {wage.trade} {wage.mean}/hr",
        note=_note(burden, day.year),
        origin=origin,
    )  # fmt: skip


def _note(burden: _Burden, year: int) -> str:
    insured = ", ".join(
        f"{one.name} {one.per_100} per $100" for one in burden.insurance if one.per_100
    )
    taxes = ", ".join(f"{one.name} {_percent(one.rate_fraction)} %" for one in burden.taxes)
    return (
        f"burdened: taxes of {year} ({taxes}), {insured} (stated), leave and supplements "
        f"{_percent(burden.fringe.cash)} % and plans {_percent(burden.fringe.plan)} % of the wage"
    )


def _percent(fraction: Decimal) -> str:
    return f"{(fraction * 100).normalize():f}"
