"""Filling in lifts: the last layers under a floor or a beam go slower than the first.

The factor of a lift slows the placing only. Where trucks or the loader limit the work, a slow last
layer costs nothing until placing becomes the bottleneck: so work it out lift by lift.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from estimator.errors import Faults, ProductionFaulty, fault, quoted
from estimator.production.number_check import Number, check_numbers, faults_under, number_inputs
from estimator.production.pace_range import TimeRange, production_range
from estimator.production.time_at_work import WorkingTime, whole_loads
from estimator.production.working_system import WorkingSystem, slowed_at

MOST_LIFTS = 200

_HAIR = 1e-9


@number_inputs()
@dataclass(frozen=True)
class Lift:
    """A layer of the fill.

    Parameters
    ----------
    name : str
        As the crew calls it.
    share : float
        Of the whole quantity, above 0 to 1.
    speed_factor : float
        Placing speed over that of open work: 1 if nothing is in the way, 0.5 for twice as slow.
    """

    name: str
    share: Number
    speed_factor: Number = 1.0

    def __post_init__(self) -> None:
        faults = Faults()
        with faults_under(f"lift {quoted(self.name)}", faults):
            check_numbers(share=self.share, speed_factor=self.speed_factor, fractions=("share",))
        if self.share == 0.0:
            faults.add(f"lift {quoted(self.name)}, share", "is zero", "leave the lift out")
        faults.raise_if_any(ProductionFaulty)


@number_inputs()
def time_in_lifts(
    quantity: Number, system: WorkingSystem, placing: str, lifts: Sequence[Lift]
) -> TimeRange:
    """Return how long a fill takes whose lifts are placed at different speeds.

    Parameters
    ----------
    quantity : float [unit of the load]
        Of the whole fill.
    system : WorkingSystem
        As it works in open space.
    placing : str
        The station that a lift slows.
    lifts : sequence of Lift
        Shares that add up to 1.

    Raises
    ------
    ProductionFaulty
        If the quantity is not above zero, the station unknown, there is no lift, or the shares do
        not add up to 1.

    Notes
    -----
    The sum over lifts of share x quantity / output of the system with that lift's placing. The
    number of loads is that of the whole fill: the truck goes on from one lift to the next.

    Examples
    --------
    >>> from estimator.production.cycle import FlowStep, Load, Step
    >>> from estimator.production.working_system import Station
    >>> cycle = (FlowStep("tip and spread", 30.0, "ton", "pit"), Step("fetch", 2.0))
    >>> machine = WorkingSystem("skid steer", 1, Load(0.7, "ton"), cycle, (Station("pit"),))
    >>> last = [Lift("lower", 0.8), Lift("under the joists", 0.2, 0.5)]
    >>> round(time_in_lifts(290.0, machine, "pit", last).at_best.hours, 2)
    25.41
    """
    check_numbers(quantity=quantity)
    check_shares(lifts)
    at_best = with_waiting = 0.0
    for lift in lifts:
        output = production_range(slowed_at(system, placing, lift.speed_factor))
        at_best += lift.share * quantity / output.at_best.output_per_hr
        with_waiting += lift.share * quantity / output.with_waiting.output_per_hr
    return TimeRange(
        at_best=WorkingTime(at_best, system.shift_hr),
        with_waiting=WorkingTime(with_waiting, system.shift_hr),
        loads=whole_loads(quantity, system.load.size),
    )


def check_shares(lifts: Sequence[Lift]) -> None:
    """Check that lifts make up the whole fill.

    Raises
    ------
    ProductionFaulty
        If there is none, there are more than 200, or their shares do not add up to 1.
    """
    if not 0 < len(lifts) <= MOST_LIFTS:
        raise fault(ProductionFaulty, f"are {len(lifts)}", f"enter 1 to {MOST_LIFTS}", "lifts")
    total = sum(lift.share for lift in lifts)
    if abs(total - 1.0) > _HAIR:
        raise fault(
            ProductionFaulty,
            f"shares add up to {total:.4g} instead of 1",
            "the lifts together are the whole fill",
            "lifts",
        )
