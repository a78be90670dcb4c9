"""Hours that carriers are paid for by the hour: at work, waiting in line, lost, or called in vain.

A truck on an hourly ticket costs the same while it waits. Pricing multiplies the hours here by the
hourly rate of the truck; nothing here is money.
"""

from __future__ import annotations

from dataclasses import dataclass

from estimator.errors import ProductionFaulty, fault
from estimator.production.number_check import Number, check_numbers, number_inputs
from estimator.production.time_at_work import WorkingTime
from estimator.production.working_system import WorkingSystem


@dataclass(frozen=True)
class HiredHours:
    """Paid hours of all carriers together; the four parts add up to them.

    Parameters
    ----------
    working : float [hr]
        Loading, on the way, emptying: the steps of the cycle.
    waiting : float [hr]
        In line at a station.
    lost : float [hr]
        What the efficiency takes off each hour: breaks, moving up, talk.
    below_minimum : float [hr]
        Paid because a call-out has a minimum, with nobody there.
    """

    working: float
    waiting: float
    lost: float
    below_minimum: float

    @property
    def paid(self) -> float:
        """All hours on the tickets [hr]."""
        return self.working + self.waiting + self.lost + self.below_minimum

    @property
    def not_worked(self) -> float:
        """Paid hours that move nothing: waiting, lost and below the minimum [hr]."""
        return self.waiting + self.lost + self.below_minimum


@number_inputs()
def hired_hours(
    quantity: Number, system: WorkingSystem, time: WorkingTime, minimum_hr: Number = 0.0
) -> HiredHours:
    """Return the hours that hired carriers are paid for.

    Parameters
    ----------
    quantity : float [unit of the load]
        What they bring in that time.
    system : WorkingSystem
        Carriers, cycle and efficiency.
    time : WorkingTime
        How long they are there: of `time_for` or `time_in_lifts`, at best or with waiting.
    minimum_hr : float [hr]
        Of each carrier on each day it comes; may be zero.

    Raises
    ------
    ProductionFaulty
        If the quantity is not above zero, the minimum is more than a day, or the time is too short
        for the carriers to bring the quantity.

    Notes
    -----
    All N carriers come every day and stay to its end: N x hours on the site. Working hours are
    loads x cycle, with the cycle as in open work (a slow lift counts as waiting). Paid on a short
    day is at least the minimum.

    Examples
    --------
    >>> from estimator.production.cycle import FlowStep, Load, Step
    >>> from estimator.production.pace_range import production_range, time_for
    >>> from estimator.production.working_system import Station
    >>> cycle = (FlowStep("throw", 45.0, "ton", "opening"), Step("fetch", 60.0))
    >>> trucks = WorkingSystem("belt", 4, Load(18.0, "ton"), cycle, (Station("opening"),))
    >>> time = time_for(270.0, production_range(trucks)).at_best
    >>> hours = hired_hours(270.0, trucks, time, minimum_hr=4.0)
    >>> round(hours.working, 2), round(hours.waiting, 2), round(hours.paid, 2)
    (21.0, 3.0, 24.0)
    """
    check_numbers(quantity=quantity, minimum_hr=minimum_hr, may_be_zero=("minimum_hr",))
    if minimum_hr > 24.0:
        raise fault(ProductionFaulty, "is above 24", "hours of one call-out", "minimum_hr")
    there = system.carriers * time.hours
    working = quantity / system.load.size * system.cycle_minutes / 60.0
    at_work_or_waiting = there * system.efficiency
    if working > at_work_or_waiting * (1.0 + 1e-9):
        raise fault(
            ProductionFaulty,
            "is too short for these carriers to bring the quantity",
            "take the time that belongs to this system and quantity",
            "time",
        )
    short_hr = time.full_days * max(0.0, minimum_hr - time.shift_hr)
    if time.last_day_hr > 0.0:
        short_hr += max(0.0, minimum_hr - time.last_day_hr)
    return HiredHours(
        working=working,
        waiting=max(0.0, at_work_or_waiting - working),
        lost=there - at_work_or_waiting,
        below_minimum=system.carriers * short_hr,
    )
