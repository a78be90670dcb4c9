"""The owner's own unpaid hours: a value beside the cash, never taxed, insured or drawn."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from estimator.errors import LaborFaulty
from estimator.money import round_to_cent
from estimator.rates.exact_inputs import Exact, exact_inputs


@exact_inputs(LaborFaulty, hours="hr", value_per_hr="$/hr")
@dataclass(frozen=True)
class OwnerHours:
    """Hours that the owner works without pay.

    Parameters
    ----------
    hours : Decimal [hr]
        Worked on the job.
    value_per_hr : Decimal [$/hr]
        What it would cost to hire them; the owner's own choice, with its source in the rate table.

    Notes
    -----
    No payroll tax is due on work for which nobody is paid, workers' compensation does not rate
    it, and a lender pays no draw for it: 0 in cash and credit. Whether an owner must or may be
    covered by workers' compensation is the state's rule; ask the insurer.

    Examples
    --------
    >>> own = OwnerHours(Decimal("12.5"), Decimal(40))
    >>> own.value, own.cash_cost
    (Decimal('500.00'), Decimal('0'))
    """

    hours: Exact
    value_per_hr: Exact

    @property
    def value(self) -> Decimal:
        """Hours x value, half-up to the cent: part of the full cost only [$]."""
        return round_to_cent(self.hours * self.value_per_hr)

    @property
    def cash_cost(self) -> Decimal:
        """Zero: no money leaves [$]."""
        return Decimal(0)
