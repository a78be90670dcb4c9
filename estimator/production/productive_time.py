"""From paid hours to productive hours: holidays, breaks, the fifty-minute hour, delays.

The year's cost of a hand is paid over all paid hours, and earned back over the productive ones
only; the two rates differ by a quarter or more.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

import numpy as np

from estimator.errors import LaborFaulty, fault
from estimator.money import RATE_DECIMALS, rounded
from estimator.production.labor_time import labor_numbers
from estimator.production.number_check import Number
from estimator.rates.exact_inputs import Exact, exact_inputs

_MINUTES = Decimal(60)
USUAL_EFFICIENCY = 0.67


@exact_inputs(
    LaborFaulty, positive=("paid_hours", "shift_hours"), paid_hours="hr", leave_hours="hr",
    break_minutes_per_day="min", shift_hours="hr", working_minutes_per_hr="min",
)  # fmt: skip
@dataclass(frozen=True)
class PaidTime:
    """Where the paid hours of one employee go, over a year or any other time.

    Parameters
    ----------
    paid_hours : Decimal [hr]
        Everything that is paid: 52 weeks of 40 hours are 2,080.
    leave_hours : Decimal [hr]
        Paid holidays, vacation, sick days.
    break_minutes_per_day : Decimal [min]
        Paid breaks, safety talk, cleaning up.
    shift_hours : Decimal [hr/day]
        Paid hours of a day.
    working_minutes_per_hr : Decimal [min/hr]
        Of an hour between breaks, 0 to 60: what walking, waiting and measuring leave.

    Raises
    ------
    LaborFaulty
        If a number is negative, or leave, breaks or minutes exceed the time they are part of.

    Examples
    --------
    >>> year = PaidTime(Decimal(2080), Decimal(120), Decimal(30), Decimal(8), Decimal(50))
    >>> year.hours_at_work, year.productive_hours
    (Decimal('1960'), Decimal('1531.25'))
    """

    paid_hours: Exact
    leave_hours: Exact = Decimal(0)
    break_minutes_per_day: Exact = Decimal(0)
    shift_hours: Exact = Decimal(8)
    working_minutes_per_hr: Exact = _MINUTES

    def __post_init__(self) -> None:
        if self.leave_hours > self.paid_hours:
            raise fault(LaborFaulty, "are more than the paid hours", where="leave_hours")
        if self.break_minutes_per_day > self.shift_hours * _MINUTES:
            raise fault(LaborFaulty, "are longer than the shift", where="break_minutes_per_day")
        if self.working_minutes_per_hr > _MINUTES:
            raise fault(LaborFaulty, "are more than 60", where="working_minutes_per_hr")

    @property
    def hours_at_work(self) -> Decimal:
        """Paid hours less leave [hr]."""
        return self.paid_hours - self.leave_hours

    @property
    def efficiency(self) -> Decimal:
        """Productive part of an hour at work, 0 to 1, with eight decimals."""
        shift = self.shift_hours * _MINUTES
        worked = (shift - self.break_minutes_per_day) * self.working_minutes_per_hr
        return rounded(worked / (shift * _MINUTES), 8)

    @property
    def productive_hours(self) -> Decimal:
        """Hours in which work grows, with two decimals [hr]."""
        return rounded(self.hours_at_work * self.efficiency, 2)


@exact_inputs(LaborFaulty, cost="$")
def cost_per_productive_hour(cost: Exact, time: PaidTime) -> Decimal:
    """Return the cost of an hour in which work grows [$/hr], four decimals half-up.

    Parameters
    ----------
    cost : Decimal [$]
        Of all the paid hours: wage, burden, leave.
    time : PaidTime
        Where those hours go.

    Raises
    ------
    LaborFaulty
        If the cost is negative, or no hour is productive.

    Notes
    -----
    For pricing by man-hours of a handbook. Where the production rate comes from the crew's own
    record of clock hours, price those with the cost per paid hour: never count breaks twice.

    Examples
    --------
    >>> year = PaidTime(Decimal(2080), Decimal(120), Decimal(30), Decimal(8), Decimal(50))
    >>> cost_per_productive_hour(Decimal("72800.00"), year)
    Decimal('47.5429')
    """
    if time.productive_hours == 0:
        raise fault(LaborFaulty, "no hour is productive", "enter less leave and shorter breaks")
    return rounded(cost / time.productive_hours, RATE_DECIMALS)


def hour_efficiency(working_minutes: Number) -> float:
    """Return the efficiency of an hour in which so many minutes are worked.

    Raises
    ------
    LaborFaulty
        If the minutes are not above 0, or above 60.

    Examples
    --------
    >>> round(hour_efficiency(50), 4)
    0.8333
    """
    (worked,) = labor_numbers(working_minutes=working_minutes)
    if worked > 60.0:
        raise fault(LaborFaulty, "are more than 60", where="working_minutes")
    return float(worked) / 60.0


def production_efficiency(elements: Sequence[Number]) -> float:
    """Return the overall efficiency from an evaluation of each thing that affects production.

    Parameters
    ----------
    elements : sequence of float
        Each above 0 to 1: workload, site, labor, supervision, job conditions, weather, equipment,
        material and the like, as the estimator judges them for this job.

    Raises
    ------
    LaborFaulty
        If there is none, or one is outside 0 to 1.

    Notes
    -----
    Their plain average, as the source has it: not their product.

    References
    ----------
    NAVEDTRA 14045, ch. 2, production efficiency guide chart (eight elements, 25 to 100 %).

    Examples
    --------
    >>> production_efficiency([0.5, 0.75, 0.75, 1.0])
    0.75
    """
    if not elements:
        raise fault(LaborFaulty, "are missing", "evaluate at least one", "elements")
    (shares,) = labor_numbers(elements=list(elements), fractions=("elements",))
    return float(np.mean(shares))


def delay_factor(efficiency: Number) -> float:
    """Return by how much the handbook's man-hours grow at an efficiency.

    Parameters
    ----------
    efficiency : float
        Above 0 to 1.

    Notes
    -----
    DF = 0.67 / efficiency: the source's man-hours hold at its average of 67 %, where DF is 1. The
    source reads DF off a graph; that the graph is this hyperbola is derived, not read.

    References
    ----------
    NAVEDTRA 14045, ch. 2.

    Examples
    --------
    >>> delay_factor(0.67), round(delay_factor(0.5), 2)
    (1.0, 1.34)
    """
    (share,) = labor_numbers(efficiency=efficiency, fractions=("efficiency",))
    return USUAL_EFFICIENCY / float(share)
