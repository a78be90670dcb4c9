"""What an hour of hired labor costs: wage, overtime, fringe, taxes, insurance, time off."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, Protocol

from api.calculations.labor_shapes import HiredLabor, Insurance, Tax
from api.contract.commands import stated
from api.contract.places import ROOT, faults_at, pointer
from estimator.errors import CalendarFaulty, LaborFaulty, RateMissing, fault

if TYPE_CHECKING:
    from estimator.rates.labor.labor_burden import PayrollInsurance
    from estimator.rates.labor.payroll_taxes import EmployerTax


class OnPayroll(Protocol):
    """A body that names what the employer pays on top of wages."""

    @property
    def taxes(self) -> Sequence[Tax]:
        """What is due on the wages."""

    @property
    def insurance(self) -> Sequence[Insurance]:
        """What is rated on the payroll."""


def taxes_of(body: OnPayroll) -> tuple[EmployerTax, ...]:
    """Return the taxes of a body as the library has them."""
    from estimator.rates.labor.payroll_taxes import EmployerTax

    return tuple(EmployerTax(one.name, one.fraction, one.wage_base) for one in body.taxes)


def payroll_insurance(body: OnPayroll) -> tuple[PayrollInsurance, ...]:
    """Return the insurance of a body as the library has it."""
    from estimator.rates.labor.labor_burden import PayrollInsurance

    return tuple(
        PayrollInsurance(one.name, one.per_100, one.modifier, one.premium) for one in body.insurance
    )


def _all_taxes(body: HiredLabor) -> tuple[EmployerTax, ...]:
    """Return the taxes of the year and the state, then those of the body, each name once."""
    own = taxes_of(body)
    if body.tax_year is None:
        if body.state is not None:
            what, remedy = "is given without a tax year", "give tax_year too, or leave it out"
            raise fault(LaborFaulty, what, remedy, pointer("state"))
        return own
    names = {one.name for one in own}
    return (
        *(one for one in _public_taxes(body.tax_year, body.state) if one.name not in names),
        *own,
    )


def _public_taxes(year: int, name_of_state: str | None) -> tuple[EmployerTax, ...]:
    from estimator.production.state_codes import state_code
    from estimator.rates.public.employer_costs import employer_taxes as public_taxes
    from estimator.rates.public.public_wages import public_folder

    try:
        with faults_at(pointer("state")):
            state = state_code(name_of_state) if name_of_state else None
        with faults_at(pointer("tax_year")):
            return public_taxes(public_folder(), year, state)
    except (CalendarFaulty, RateMissing) as error:
        raise LaborFaulty(error.faults) from None


def labor(body: HiredLabor) -> dict[str, Any]:
    """Return what an employee costs over some hours, and what a paid and a productive hour cost.

    Parameters
    ----------
    body : HiredLabor
        The wage, the hours, and what comes on top.

    Raises
    ------
    LaborFaulty
        If there are no hours, more time off than is paid, or the taxes of the year are not known.
    """
    from estimator.production.productive_time import PaidTime, cost_per_productive_hour
    from estimator.rates.labor.labor_burden import WageTerms, burdened_hour, burdened_pay

    hours = {
        name: value
        for name, value in stated(body).items()
        if name in ("straight_hours", "overtime_hours", "paid_before")
    }
    with faults_at(pointer("wage")):
        wage = WageTerms(**stated(body.wage))
    with faults_at(ROOT, hours):
        taxes = _all_taxes(body)
        pay = burdened_pay(wage, taxes, payroll_insurance(body), **hours)
    hour = burdened_hour(pay)
    productive: dict[str, Any] = {"productive_hours": None, "productive_hour": None}
    if body.time_off:
        off = stated(body.time_off)
        with faults_at(pointer("time_off"), off):
            time = PaidTime(pay.paid_hours, **off)
            productive = {
                "productive_hours": time.productive_hours,
                "productive_hour": cost_per_productive_hour(pay.cost, time),
            }
    return {
        **vars(pay),
        "gross_pay": pay.gross_pay,
        "burden": pay.burden,
        "cost": pay.cost,
        "paid_hour": {**vars(hour), "total": hour.total},
        "tax_sources": [f"{one.name}: {one.source}" for one in taxes if one.source],
        **productive,
    }
